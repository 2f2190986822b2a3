import { createHash } from "node:crypto";
import { join } from "node:path";
import type { NewId } from "../catalogue/new-id.ts";
import { diskFault, libraryFaults } from "../faults.ts";
import { type FileSystem, writeDurably } from "./file-system.ts";

/** Recordings as files named by their content. A file that is there is never written again. */
export interface RecordingStore {
  readonly folder: string;
  pathOf(sha256: string): string;
  /** On the disk, under its name, when this returns. Does nothing where the file is there already. */
  put(sha256: string, bytes: Uint8Array): Promise<void>;
  has(sha256: string): Promise<boolean>;
  /** @throws UnderfootError library-recording-lost: not there, or other content than its name says */
  bytes(sha256: string): Promise<Uint8Array<ArrayBuffer>>;
  /** What stands in the file, whatever it is; undefined where there is none. */
  found(sha256: string): Promise<{ readonly sha256: string; readonly byteCount: number } | undefined>;
  remove(sha256: string): Promise<void>;
  /** Every file by name, and the leftovers of writings that never ended (paths). */
  listing(): Promise<{
    readonly sha256s: readonly string[];
    readonly unfinished: readonly string[];
    readonly strangers: readonly string[];
  }>;
}

export const RECORDINGS_FOLDER = "recordings";
const UNFINISHED_FOLDER = "unfinished";
const SHA256 = /^[0-9a-f]{64}$/;

export function sha256Of(bytes: Uint8Array | string): string {
  return createHash("sha256").update(bytes).digest("hex");
}

export function recordingStore(files: FileSystem, library: string, newId: NewId): RecordingStore {
  const folder = join(library, RECORDINGS_FOLDER);
  const unfinishedFolder = join(folder, UNFINISHED_FOLDER);
  const folderOf = (sha256: string): string => join(folder, sha256.slice(0, 2));
  const pathOf = (sha256: string): string => {
    // Names come from outside too; nothing but a hash may become a path.
    if (!SHA256.test(sha256)) throw libraryFaults.notThere("recording", sha256);
    return join(folderOf(sha256), sha256);
  };
  const madeFolders = new Set<string>();
  const makeFolder = async (path: string): Promise<void> => {
    if (madeFolders.has(path)) return;
    await files.makeFolder(path);
    madeFolders.add(path);
  };
  const sizeOf = async (sha256: string): Promise<number | undefined> => {
    const path = pathOf(sha256);
    return files.byteCount(path).catch((cause: unknown) => {
      throw diskFault(path, cause, "read");
    });
  };
  return {
    folder,
    pathOf,
    put: async (sha256, bytes) => {
      const path = pathOf(sha256);
      try {
        if ((await files.byteCount(path)) === bytes.length) {
          // Perhaps another process has just moved it there and its name is not on the disk yet.
          await files.syncFolder(folderOf(sha256));
          return;
        }
        await makeFolder(unfinishedFolder);
        await makeFolder(folderOf(sha256));
        await writeDurably(files, { unfinished: join(unfinishedFolder, newId()), path }, bytes);
      } catch (cause) {
        madeFolders.clear();
        throw diskFault(path, cause, "written");
      }
    },
    has: async (sha256) => (await sizeOf(sha256)) !== undefined,
    bytes: async (sha256) => {
      const path = pathOf(sha256);
      if ((await sizeOf(sha256)) === undefined) throw libraryFaults.recordingLost(sha256, "is no longer on the disk");
      const bytes = await files.read(path).catch((cause: unknown) => {
        throw diskFault(path, cause, "read");
      });
      if (sha256Of(bytes) !== sha256)
        throw libraryFaults.recordingLost(sha256, "is damaged: its content is not what it was");
      return bytes;
    },
    found: async (sha256) => {
      const path = pathOf(sha256);
      if ((await sizeOf(sha256)) === undefined) return undefined;
      const bytes = await files.read(path).catch((cause: unknown) => {
        throw diskFault(path, cause, "read");
      });
      return { sha256: sha256Of(bytes), byteCount: bytes.length };
    },
    remove: async (sha256) => {
      const path = pathOf(sha256);
      await files.remove(path).catch((cause: unknown) => {
        throw diskFault(path, cause, "written");
      });
    },
    listing: () => listing(files, folder),
  };
}

async function listing(files: FileSystem, folder: string): ReturnType<RecordingStore["listing"]> {
  const sha256s: string[] = [];
  const strangers: string[] = [];
  const unfinishedFolder = join(folder, UNFINISHED_FOLDER);
  const unfinished = (await files.list(unfinishedFolder)).map((name) => join(unfinishedFolder, name));
  for (const part of await files.list(folder)) {
    if (part === UNFINISHED_FOLDER) continue;
    if (!/^[0-9a-f]{2}$/.test(part)) {
      strangers.push(join(folder, part));
      continue;
    }
    for (const name of await files.list(join(folder, part))) {
      if (SHA256.test(name) && name.startsWith(part)) sha256s.push(name);
      else strangers.push(join(folder, part, name));
    }
  }
  return { sha256s: sha256s.sort(), unfinished, strangers };
}
