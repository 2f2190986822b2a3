import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { type ShotFacts, UnderfootError } from "@underfoot/domain";
import { shotFactsFromSidecar, sidecarNamesFor } from "@underfoot/formats";

/** One recording of a folder, with what its sidecar says. */
export interface RecordingEntry {
  /** The file's name: what the page asks for. */
  readonly id: string;
  readonly sidecar: string | undefined;
  readonly facts: ShotFacts | undefined;
  /** Why there are no facts, where a sidecar is there but cannot be read. */
  readonly sentence: string | undefined;
}

/** A folder of recordings with sidecars, read anew each time it is asked. */
export interface RecordingFolder {
  readonly path: string;
  list(): Promise<readonly RecordingEntry[]>;
  /** Bytes of one listed recording; undefined where the list has no such id. */
  recording(id: string): Promise<Uint8Array<ArrayBuffer> | undefined>;
  sidecar(id: string): Promise<string | undefined>;
}

const RECORDING = /\.(c3d|csv|tsv|txt)$/i;

async function namesIn(path: string): Promise<string[]> {
  try {
    if (!(await stat(path)).isDirectory())
      throw new UnderfootError({
        code: "not-a-folder",
        sentence: `${path} is not a folder.`,
        remedy: "Name the folder that holds the recordings.",
        where: { file: path },
      });
    return (await readdir(path)).sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
  } catch (cause) {
    if (cause instanceof UnderfootError) throw cause;
    throw new UnderfootError({
      code: "folder-unreadable",
      sentence: `The folder ${path} could not be read (${(cause as NodeJS.ErrnoException).code}).`,
      remedy: "Check its name and who may read it.",
      where: { file: path },
      cause,
    });
  }
}

async function entry(path: string, id: string, names: ReadonlySet<string>): Promise<RecordingEntry> {
  const sidecar = sidecarNamesFor(id).find((name) => names.has(name));
  if (sidecar === undefined) return { id, sidecar, facts: undefined, sentence: undefined };
  try {
    const { facts } = shotFactsFromSidecar(await readFile(join(path, sidecar), "utf8"), { file: sidecar });
    return { id, sidecar, facts, sentence: undefined };
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return { id, sidecar, facts: undefined, sentence: `${fault.message} ${fault.remedy}` };
  }
}

/** Only what `list` names can be fetched, so no id reaches outside the folder. */
export function recordingFolder(path: string): RecordingFolder {
  const list = async (): Promise<readonly RecordingEntry[]> => {
    const names = await namesIn(path);
    const known = new Set(names);
    return Promise.all(names.filter((name) => RECORDING.test(name)).map((id) => entry(path, id, known)));
  };
  const listed = async (id: string): Promise<RecordingEntry | undefined> => (await list()).find((one) => one.id === id);
  return {
    path,
    list,
    recording: async (id) => ((await listed(id)) ? new Uint8Array(await readFile(join(path, id))) : undefined),
    sidecar: async (id) => {
      const found = await listed(id);
      return found?.sidecar === undefined ? undefined : readFile(join(path, found.sidecar), "utf8");
    },
  };
}
