import { spawn } from "node:child_process";
import { join } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { openLibrary } from "@underfoot/library";
import { type Listening, listening, pageFiles, type ServerApp, serverApp } from "@underfoot/server";
import { chooseLibraryFolder, type LibraryPlace, libraryPlace } from "./library-place.ts";
import { countText } from "./output.ts";

interface ServeOptions {
  readonly place: () => Promise<LibraryPlace>;
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

async function listeningSomewhere(app: ServerApp, port: number | undefined): Promise<Listening> {
  if (port !== undefined) return listening(app, port);
  try {
    return await listening(app, USUAL_PORT);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    process.stderr.write(`${fault.message} Taking any free one.\n`);
    return listening(app, 0);
  }
}

function stopped(): Promise<void> {
  return new Promise((stop) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => stop());
  });
}

/** Serves a library until Ctrl+C; gives the exit code. */
export async function serveUntilStopped({ place, port, isDemo, mayOpen }: ServeOptions): Promise<number> {
  try {
    const page = await pageFiles(PAGE_FOLDER);
    const library = await openLibrary(await place());
    const { total } = await library.shots.find({ limit: 1 });
    const app = serverApp({
      library,
      page,
      isDemo,
      open: async (folder) => openLibrary(await libraryPlace(folder)),
      remember: chooseLibraryFolder,
      warn: (sentence) => process.stderr.write(`${sentence}\n`),
    });
    try {
      const server = await listeningSomewhere(app, port);
      app.watch();
      process.stdout.write(
        `Underfoot shows ${countText(total, "shot")} of ${library.folder} at ${server.address}\nOn this machine only. Stop with Ctrl+C.\n`,
      );
      if (mayOpen) openBrowser(server.address);
      await stopped();
      await server.close();
    } finally {
      await app.close();
    }
    return 0;
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    process.stderr.write(`${fault.message} ${fault.remedy}\n`);
    return 1;
  }
}
