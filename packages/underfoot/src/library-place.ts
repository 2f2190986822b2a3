import { existsSync } from "node:fs";
import { mkdir, readFile, rename, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { type Library, type LibraryOptions, openLibrary } from "@underfoot/library";
import type { Call } from "./command.ts";
import { dataFolder } from "./data-folder.ts";

/** Where a library lies. */
export type LibraryPlace = Pick<LibraryOptions, "folder" | "postgresUrl">;

const PLACE_FILE = "place.json";

function unreadablePlace(file: string, why: string): UnderfootError {
  return new UnderfootError({
    code: "place-unreadable",
    sentence: `${file}, which says where the library lies, cannot be read: ${why}.`,
    remedy: "Choose the storage place again in Settings, or name the library with --library DIR.",
    where: { file },
  });
}

/** The folder chosen in Settings; undefined where none was chosen. */
async function chosenFolder(): Promise<string | undefined> {
  const file = join(dataFolder(), PLACE_FILE);
  if (!existsSync(file)) return undefined;
  let place: unknown;
  try {
    place = JSON.parse(await readFile(file, "utf8"));
  } catch (cause) {
    throw unreadablePlace(file, cause instanceof Error ? cause.message.replace(/\s+/g, " ") : String(cause));
  }
  const { library } = (place ?? {}) as { readonly library?: unknown };
  if (typeof library !== "string" || library === "") throw unreadablePlace(file, 'its field "library" is no folder');
  return library;
}

/** Keeps the folder chosen in Settings for every later start. */
export async function chooseLibraryFolder(folder: string): Promise<void> {
  await mkdir(dataFolder(), { recursive: true });
  const file = join(dataFolder(), PLACE_FILE);
  const place = { underfoot: "place", version: 1, library: resolve(folder) };
  await writeFile(`${file}.unfinished`, `${JSON.stringify(place, null, 1)}\n`);
  await rename(`${file}.unfinished`, file);
}

/**
 * Where the library lies: the folder named, else the one chosen in Settings, else `library` in the data folder. Its
 * catalogue is on the PostgreSQL server that UNDERFOOT_POSTGRES names, if it names one.
 */
export async function libraryPlace(named: string | undefined): Promise<LibraryPlace> {
  const folder = resolve(named ?? (await chosenFolder()) ?? join(dataFolder(), "library"));
  const postgresUrl = process.env["UNDERFOOT_POSTGRES"];
  return postgresUrl ? { folder, postgresUrl } : { folder };
}

/** The library that a command works on. Only `import` makes one where there is none. */
async function openedLibrary(place: LibraryPlace, mayMake: boolean): Promise<Library> {
  if (!mayMake && !existsSync(place.folder))
    throw new UnderfootError({
      code: "library-missing",
      sentence: `There is no library at ${place.folder}.`,
      remedy: "Name its folder with --library DIR, or bring recordings in first: underfoot import PATH...",
      where: { file: place.folder },
    });
  return openLibrary(place);
}

/** Runs a command's work on its library; a fault is one sentence on standard error and exit code 1. */
export async function withLibrary(
  call: Call,
  { mayMake = false }: { readonly mayMake?: boolean },
  work: (library: Library) => Promise<number>,
): Promise<number> {
  let library: Library | undefined;
  try {
    library = await openedLibrary(await libraryPlace(call.values["library"]), mayMake);
    return await work(library);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    process.stderr.write(`${fault.message} ${fault.remedy}\n`);
    return 1;
  } finally {
    await library?.close();
  }
}

/** What `--help` says of every command that works on a library. */
export const LIBRARY_HELP = `  --library DIR       the library's folder; as left out: the one chosen in Settings, else
                      ${join(dataFolder(), "library")}
                      (UNDERFOOT_POSTGRES=URL: its catalogue is on that PostgreSQL server)`;
