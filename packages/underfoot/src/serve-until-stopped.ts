import { spawn } from "node:child_process";
import { join } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { type Listening, listening, pageFiles, recordingFolder, serverApp } from "@underfoot/server";

interface ServeOptions {
  readonly folder: string;
  /** Undefined: the usual port, or any free one where it is taken. */
  readonly port: number | undefined;
  readonly isDemo: boolean;
  readonly mayOpen: boolean;
}

const PAGE_FOLDER = join(import.meta.dirname, "..", "..", "web", "dist");

/** The program that opens an address in the browser, where this session has a screen. */
function opener(): readonly [string, ...string[]] | undefined {
  if (process.platform === "darwin") return ["open"];
  if (process.platform === "win32") return ["cmd", "/c", "start", ""];
  return process.env["DISPLAY"] || process.env["WAYLAND_DISPLAY"] ? ["xdg-open"] : undefined;
}

function openBrowser(address: string): void {
  const [program, ...args] = opener() ?? [];
  if (!program) return;
  const child = spawn(program, [...args, address], { stdio: "ignore", detached: true });
  child.once("error", (fault) =>
    process.stderr.write(`The browser did not open by itself (${fault.message}). Open the address by hand.\n`),
  );
  child.unref();
}

const USUAL_PORT = 5178;

async function listeningSomewhere(app: ReturnType<typeof serverApp>, port: number | undefined): Promise<Listening> {
  if (port !== undefined) return listening(app, port);
  try {
    return await listening(app, USUAL_PORT);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    process.stderr.write(`${fault.message} Taking any free one.\n`);
    return listening(app, 0);
  }
}

/** Serves until Ctrl+C; gives the exit code. */
export async function serveUntilStopped({ folder, port, isDemo, mayOpen }: ServeOptions): Promise<number> {
  try {
    const recordings = recordingFolder(folder);
    const count = (await recordings.list()).length;
    const server = await listeningSomewhere(
      serverApp({ folder: recordings, page: await pageFiles(PAGE_FOLDER), isDemo }),
      port,
    );
    process.stdout.write(
      `Underfoot shows ${count} recordings of ${folder} at ${server.address}\nOn this machine only. Stop with Ctrl+C.\n`,
    );
    if (mayOpen) openBrowser(server.address);
    await new Promise<void>((stop) => {
      for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => stop());
    });
    await server.close();
    return 0;
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    process.stderr.write(`${fault.message} ${fault.remedy}\n`);
    return 1;
  }
}
