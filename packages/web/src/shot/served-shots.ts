import { UnreadSource } from "./outcomes.ts";
import type { Source } from "./session.ts";

/** One row of the folder, as the server lists it. */
interface ServedShot {
  readonly id: string;
  readonly file: string;
  /** Name of its sidecar; absent where there is none. */
  readonly sidecar?: string;
  readonly player?: string;
  readonly intent?: string;
  readonly lie?: string;
  readonly club?: string;
  readonly keep?: "kept" | "set-aside";
}

/** The recordings of the server that served this page. Throws `UnreadSource` where it does not answer. */
export async function servedShots(): Promise<readonly Source[]> {
  const [about, list]: readonly unknown[] = await Promise.all([
    answered("/api/about").then((response) => response.json()),
    answered("/api/shots").then((response) => response.json()),
  ]);
  if (!Array.isArray(list)) throw new UnreadSource("its list of shots is not a list.");
  const isInvented = typeof about === "object" && about !== null && "isDemo" in about && about.isDemo === true;
  return list.filter(isServedShot).map((shot) => sourceOf(shot, isInvented));
}

function sourceOf(shot: ServedShot, isInvented: boolean): Source {
  const path = `/api/shots/${encodeURIComponent(shot.id)}`;
  const { file, player, intent, lie, club, keep } = shot;
  return {
    id: shot.id,
    kind: isInvented ? "demo" : "served",
    file,
    ...(player === undefined ? {} : { player }),
    ...(intent === undefined ? {} : { intent }),
    ...(lie === undefined ? {} : { lie }),
    ...(club === undefined ? {} : { club }),
    ...(keep === undefined ? {} : { keep }),
    read: async () => {
      const [recording, sidecar] = await Promise.all([
        answered(`${path}/recording`),
        shot.sidecar === undefined ? undefined : answered(`${path}/sidecar`),
      ]);
      return { bytes: new Uint8Array(await recording.arrayBuffer()), sidecarText: await sidecar?.text() };
    },
  };
}

async function answered(path: string): Promise<Response> {
  const response = await fetch(path).catch((cause: unknown) => {
    throw new UnreadSource("the server does not answer.", { cause });
  });
  const isOurs = response.headers.get("content-type")?.startsWith("text/html") !== true;
  if (!(response.ok && isOurs)) throw new UnreadSource(`the server answers ${response.status} for ${path}.`);
  return response;
}

function isServedShot(value: unknown): value is ServedShot {
  return (
    typeof value === "object" &&
    value !== null &&
    "id" in value &&
    typeof value.id === "string" &&
    "file" in value &&
    typeof value.file === "string"
  );
}
