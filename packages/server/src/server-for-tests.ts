import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { random } from "@underfoot/domain";
import { openLibrary } from "@underfoot/library";
import { simulatedFiles } from "@underfoot/pipeline";
import { demoShots, simulateShot } from "../../simulator/src/index.ts";
import { type ServerApp, type ServerOptions, serverApp } from "./server-app.ts";

/** A server over a library of its own, asked without a port; for tests only. */
export interface ServerForTests {
  readonly server: ServerApp;
  /** Holds the library, in `library`, and whatever else a test makes. */
  readonly root: string;
  readonly remembered: readonly string[];
  readonly faults: readonly Error[];
  ask(method: string, path: string, body?: unknown, headers?: Readonly<Record<string, string>>): Promise<Response>;
  /** The JSON of an answer that has to be this status. */
  // biome-ignore lint/suspicious/noExplicitAny: a test looks at any part of any answer, and fails where it is not there.
  got(status: number, method: string, path: string, body?: unknown): Promise<any>;
  end(): Promise<void>;
}

export const HOST = "127.0.0.1:5178";

export interface SampleShot {
  readonly fileName: string;
  readonly c3d: Uint8Array<ArrayBuffer>;
  readonly sidecar: string;
}

/** Invented shots with their sidecars. */
export const sampleShots = (count: number): readonly SampleShot[] =>
  demoShots({ seed: 1 })
    .slice(0, count)
    .map((plan) => {
      const fileName = `${plan.name}.c3d`;
      const { c3d, sidecar } = simulatedFiles(simulateShot(plan), fileName);
      return { fileName, c3d: new Uint8Array(c3d), sidecar };
    });

export function shotForm({ fileName, c3d, sidecar }: SampleShot, ask: object = {}): FormData {
  const form = new FormData();
  form.set("recording", new File([c3d], fileName));
  form.set("sidecar", sidecar);
  form.set("ask", JSON.stringify(ask));
  return form;
}

export async function serverForTests(options: Partial<ServerOptions> = {}): Promise<ServerForTests> {
  const root = mkdtempSync(join(tmpdir(), "underfoot-server-"));
  let nowMs = Date.UTC(2026, 2, 9, 12);
  const clock = (): number => nowMs++;
  const library = await openLibrary({ folder: join(root, "library"), clock, random: random(7, "server") });
  const remembered: string[] = [];
  const faults: Error[] = [];
  const server = serverApp({
    library,
    page: new Map([["/", { bytes: new TextEncoder().encode("<p>page</p>"), type: "text/html" }]]),
    isDemo: false,
    open: (folder) => openLibrary({ folder }),
    remember: async (folder) => void remembered.push(folder),
    log: (fault) => faults.push(fault),
    warn: (sentence) => faults.push(new Error(sentence)),
    ...options,
  });
  const ask: ServerForTests["ask"] = async (method, path, body, headers = {}) => {
    const isForm = body instanceof FormData || typeof body === "string";
    const type = body === undefined || isForm ? {} : { "content-type": "application/json" };
    const sent = body === undefined ? {} : { body: isForm ? body : JSON.stringify(body) };
    return server.app.request(path, { method, headers: { host: HOST, ...type, ...headers }, ...sent });
  };
  return {
    ...{ server, root, remembered, faults, ask },
    got: async (status, method, path, body) => {
      const answer = await ask(method, path, body);
      const said = await answer.json();
      if (answer.status !== status) throw new Error(`${method} ${path}: ${answer.status} ${JSON.stringify(said)}`);
      return said;
    },
    end: async () => {
      await server.close();
      rmSync(root, { recursive: true, force: true });
    },
  };
}
