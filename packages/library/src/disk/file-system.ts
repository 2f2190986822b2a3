import { type FileHandle, mkdir, open, readdir, readFile, rename, rm, stat } from "node:fs/promises";
import { dirname, resolve } from "node:path";

/** A file that is written from front to back. */
export interface FileWriter {
  write(bytes: Uint8Array): Promise<void>;
  /** Returns once the bytes are on the disk, then closes. */
  finish(): Promise<void>;
  /** Closes without waiting for the disk; nothing where it is closed already. */
  abandon(): Promise<void>;
}

/** A file that is read from anywhere. */
export interface FileReader {
  readonly byteCount: number;
  /** Fewer bytes than asked only at the end. */
  read(first: number, count: number): Promise<Uint8Array>;
  close(): Promise<void>;
}

/** All that the library asks of the disk, so that a test can fill it, fail it or stop at any call. */
export interface FileSystem {
  makeFolder(path: string): Promise<void>;
  /** Names in a folder, in no order; none where there is no such folder. */
  list(path: string): Promise<readonly string[]>;
  /** Undefined where there is no such file. */
  byteCount(path: string): Promise<number | undefined>;
  /** Undefined where there is no such file; ms of the last change. */
  changedMs(path: string): Promise<number | undefined>;
  read(path: string): Promise<Uint8Array<ArrayBuffer>>;
  openReader(path: string): Promise<FileReader>;
  /** A new file; fails where there is one. */
  openWriter(path: string): Promise<FileWriter>;
  /** Replaces what stands at `to`, in one step. */
  rename(from: string, to: string): Promise<void>;
  /** Returns once the names in the folder are on the disk. */
  syncFolder(path: string): Promise<void>;
  /** No fault where there is nothing. */
  remove(path: string): Promise<void>;
}

async function reader(path: string): Promise<FileReader> {
  const handle = await open(path, "r");
  const { size } = await handle.stat();
  return {
    byteCount: size,
    read: async (first, count) => {
      const bytes = new Uint8Array(Math.max(0, Math.min(count, size - first)));
      let done = 0;
      while (done < bytes.length) {
        const { bytesRead } = await handle.read(bytes, done, bytes.length - done, first + done);
        if (bytesRead === 0) return bytes.subarray(0, done);
        done += bytesRead;
      }
      return bytes;
    },
    close: () => handle.close(),
  };
}

async function writeAll(handle: FileHandle, bytes: Uint8Array): Promise<void> {
  let done = 0;
  while (done < bytes.length) done += (await handle.write(bytes, done, bytes.length - done)).bytesWritten;
}

async function writer(path: string): Promise<FileWriter> {
  const handle = await open(path, "wx");
  return {
    write: (bytes) => writeAll(handle, bytes),
    finish: async () => {
      try {
        await handle.sync();
      } finally {
        await handle.close();
      }
    },
    abandon: () => handle.close(),
  };
}

async function factOf<T>(path: string, read: (fact: { size: number; mtimeMs: number }) => T): Promise<T | undefined> {
  try {
    return read(await stat(path));
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === "ENOENT") return undefined;
    throw cause;
  }
}

async function syncFolder(path: string): Promise<void> {
  // Windows has no handle for the names of a folder: its renames are written through by the file system itself (from memory).
  if (process.platform === "win32") return;
  const handle = await open(path, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/**
 * Makes a folder and those above it that are missing, each on the disk before the next. Node's own recursive making never
 * ends where a folder says that it is there and yet takes no name, such as /proc.
 */
async function madeFolder(path: string): Promise<void> {
  try {
    await makeOne(path);
  } catch (cause) {
    const parent = dirname(path);
    if ((cause as NodeJS.ErrnoException).code !== "ENOENT" || parent === path) throw cause;
    await madeFolder(parent);
    await makeOne(path);
  }
  // A new folder is itself a name in its parent.
  await syncFolder(dirname(path));
}

/** One folder; done where somebody else has just made it. */
async function makeOne(path: string): Promise<void> {
  try {
    await mkdir(path);
  } catch (cause) {
    const isThere = (cause as NodeJS.ErrnoException).code === "EEXIST" && (await stat(path)).isDirectory();
    if (!isThere) throw cause;
  }
}

/** The disk of this machine. */
export const nodeFileSystem: FileSystem = {
  makeFolder: (path) => madeFolder(resolve(path)),
  list: async (path) => {
    try {
      return await readdir(path);
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code === "ENOENT") return [];
      throw cause;
    }
  },
  byteCount: (path) => factOf(path, ({ size }) => size),
  changedMs: (path) => factOf(path, ({ mtimeMs }) => mtimeMs),
  read: async (path) => new Uint8Array(await readFile(path)),
  openReader: reader,
  openWriter: writer,
  rename,
  syncFolder,
  remove: (path) => rm(path, { recursive: true, force: true }),
};

/** A whole file, on the disk under its name when this returns: beside it first, then moved, then the folder's names. */
export async function writeDurably(
  files: FileSystem,
  { unfinished, path }: { readonly unfinished: string; readonly path: string },
  bytes: Uint8Array,
): Promise<void> {
  try {
    const file = await files.openWriter(unfinished);
    try {
      await file.write(bytes);
      await file.finish();
    } catch (cause) {
      await file.abandon();
      throw cause;
    }
    await files.rename(unfinished, path);
  } catch (cause) {
    // The first fault is the one to tell; whatever is left behind here is swept up by verify.
    await files.remove(unfinished).catch(() => undefined);
    throw cause;
  }
  await files.syncFolder(dirname(path));
}
