import { UnreadSource } from "./outcomes.ts";
import type { Source } from "./session.ts";

/** One row of the demo library, as the server lists it. */
interface DemoShot {
  readonly id: string;
  readonly file: string;
  readonly player?: string;
  readonly intent?: string;
  readonly lie?: string;
  readonly club?: string;
  readonly keep?: "kept" | "set-aside";
}

/** The demo recordings of the server that served this page. Throws where it does not answer or answers something else. */
export async function demoShots(): Promise<readonly Source[]> {
  const response = await answered("/api/shots");
  const list: unknown = await response.json();
  if (!Array.isArray(list)) throw new TypeError("The list of demo shots is not a list.");
  return list.filter(isDemoShot).map(sourceOf);
}

function sourceOf(shot: DemoShot): Source {
  const path = `/api/shots/${encodeURIComponent(shot.id)}`;
  const { file, player, intent, lie, club, keep } = shot;
  return {
    id: shot.id,
    kind: "demo",
    file,
    ...(player === undefined ? {} : { player }),
    ...(intent === undefined ? {} : { intent }),
    ...(lie === undefined ? {} : { lie }),
    ...(club === undefined ? {} : { club }),
    ...(keep === undefined ? {} : { keep }),
    read: async () => {
      const [recording, sidecar] = await Promise.all([answered(`${path}/recording`), answered(`${path}/sidecar`)]);
      return { bytes: new Uint8Array(await recording.arrayBuffer()), sidecarText: await sidecar.text() };
    },
  };
}

async function answered(path: string): Promise<Response> {
  const response = await fetch(path).catch((cause: unknown) => {
    throw new UnreadSource("the server does not answer.", { cause });
  });
  if (!response.ok) throw new UnreadSource(`the server answers ${response.status} for ${path}.`);
  return response;
}

function isDemoShot(value: unknown): value is DemoShot {
  return (
    typeof value === "object" &&
    value !== null &&
    "id" in value &&
    typeof value.id === "string" &&
    "file" in value &&
    typeof value.file === "string"
  );
}
