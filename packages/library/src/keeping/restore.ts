import { createHash } from "node:crypto";
import { dirname, join } from "node:path";
import { CATALOGUE_FILE, openCatalogue } from "../catalogue/catalogue.ts";
import { copyCatalogue } from "../catalogue/copy-catalogue.ts";
import { type FileReader, type FileSystem, nodeFileSystem } from "../disk/file-system.ts";
import { RECORDINGS_FOLDER } from "../disk/recording-store.ts";
import { diskFault, libraryFaults } from "../faults.ts";
import type { Progress } from "../results/recompute.ts";
import { type BackupManifest, MANIFEST_NAME, recordingEntry } from "./backup.ts";
import { entryPieces, type TarEntry, tarEntries } from "./tar.ts";

export interface RestoreOptions {
  /** The catalogue goes to this server, into an empty database, instead of into the folder. */
  readonly postgresUrl?: string | undefined;
  readonly files?: FileSystem;
  readonly onProgress?: (progress: Progress) => void;
  readonly signal?: AbortSignal | undefined;
}

/** The manifest is small: some 70 bytes a recording. */
const MOST_MANIFEST_BYTES = 256 * 1024 * 1024;

function manifestFrom(text: string, file: string): BackupManifest {
  let manifest: BackupManifest;
  try {
    manifest = JSON.parse(text) as BackupManifest;
  } catch (cause) {
    throw libraryFaults.notBackup(
      file,
      `its manifest cannot be read (${cause instanceof Error ? cause.message : String(cause)})`,
    );
  }
  if (manifest?.underfoot !== "backup" || !Array.isArray(manifest.recordings))
    throw libraryFaults.notBackup(file, "its manifest is not that of a backup");
  if (manifest.version !== 1)
    throw libraryFaults.notBackup(file, `it is of version ${manifest.version}; this Underfoot reads version 1`);
  return manifest;
}

async function entryText(source: FileReader, entry: TarEntry, file: string): Promise<string> {
  if (entry.byteCount > MOST_MANIFEST_BYTES) throw libraryFaults.notBackup(file, "its manifest is too large");
  return new TextDecoder().decode(await source.read(entry.first, entry.byteCount));
}

/** Writes one entry and holds it to the hash that the manifest, or its name, promises. */
async function unpack(
  files: FileSystem,
  source: FileReader,
  entry: TarEntry,
  { path, sha256, file }: { readonly path: string; readonly sha256: string; readonly file: string },
): Promise<void> {
  const out = await files.openWriter(path);
  const hash = createHash("sha256");
  try {
    for await (const piece of entryPieces(source, entry)) {
      hash.update(piece);
      await out.write(piece);
    }
    await out.finish();
  } catch (cause) {
    await out.abandon();
    throw cause;
  }
  if (hash.digest("hex") !== sha256) throw libraryFaults.notBackup(file, `${entry.name} is damaged in it`);
}

interface Unpacking {
  readonly files: FileSystem;
  readonly source: FileReader;
  readonly file: string;
  readonly target: string;
  readonly options: RestoreOptions;
}

async function unpackAll({ files, source, file, target, options }: Unpacking): Promise<BackupManifest> {
  let manifest: BackupManifest | undefined;
  let wanted = new Map<string, string>();
  let total = 0;
  for await (const entry of tarEntries(source, file)) {
    if (options.signal?.aborted) throw libraryFaults.cancelled();
    if (manifest === undefined) {
      if (entry.name !== MANIFEST_NAME)
        throw libraryFaults.notBackup(file, `it begins with ${entry.name}, not with ${MANIFEST_NAME}`);
      manifest = manifestFrom(await entryText(source, entry, file), file);
      wanted = new Map([
        [CATALOGUE_FILE, manifest.catalogue.sha256],
        ...manifest.recordings.map((sha256): [string, string] => [recordingEntry(sha256), sha256]),
      ]);
      total = wanted.size;
      continue;
    }
    // Only names that the manifest's hashes give: nothing in the file can reach outside the folder.
    const sha256 = wanted.get(entry.name);
    if (sha256 === undefined || !/^[0-9a-f]{64}$/.test(sha256))
      throw libraryFaults.notBackup(file, `it holds ${entry.name}, which its manifest does not name`);
    const path = join(target, entry.name);
    await files.makeFolder(dirname(path));
    await unpack(files, source, entry, { path, sha256, file });
    await files.syncFolder(dirname(path));
    wanted.delete(entry.name);
    options.onProgress?.({ done: total - wanted.size, total });
  }
  const [missing] = wanted.keys();
  if (manifest === undefined || missing !== undefined)
    throw libraryFaults.notBackup(file, `${missing ?? "its manifest"} is missing`);
  return manifest;
}

async function toServer(folder: string, postgresUrl: string, files: FileSystem): Promise<void> {
  const from = await openCatalogue({ folder });
  try {
    const to = await openCatalogue({ folder, postgresUrl });
    try {
      const { count } = await to.db
        .selectFrom("history")
        .select(to.db.fn.countAll<number>().as("count"))
        .executeTakeFirstOrThrow();
      if (count > 0) throw libraryFaults.notEmpty(to.place);
      await copyCatalogue(from, to);
    } finally {
      await to.close();
    }
  } finally {
    await from.close();
  }
  for (const end of ["", "-wal", "-shm"]) await files.remove(join(folder, `${CATALOGUE_FILE}${end}`));
}

/**
 * A backup as a library in a new or empty folder. Every byte is checked against its hash first; the folder appears only
 * when it is whole.
 *
 * @throws UnderfootError library-not-backup, library-not-empty, library-disk-full and so on; then the folder is as before
 */
export async function restoreLibrary(
  file: string,
  folder: string,
  options: RestoreOptions = {},
): Promise<{ readonly recordings: number; readonly madeMs: number }> {
  const files = options.files ?? nodeFileSystem;
  if ((await files.list(folder)).length > 0) throw libraryFaults.notEmpty(folder);
  const unfinished = `${folder}.unfinished`;
  let source: FileReader;
  try {
    source = await files.openReader(file);
  } catch (cause) {
    throw diskFault(file, cause, "read");
  }
  try {
    await files.remove(unfinished);
    await files.makeFolder(join(unfinished, RECORDINGS_FOLDER));
    const manifest = await unpackAll({ files, source, file, target: unfinished, options });
    if (options.postgresUrl !== undefined) await toServer(unfinished, options.postgresUrl, files);
    await files.remove(folder);
    await files.rename(unfinished, folder);
    await files.syncFolder(dirname(folder));
    return { recordings: manifest.recordings.length, madeMs: manifest.madeMs };
  } catch (cause) {
    await files.remove(unfinished);
    throw diskFault(folder, cause, "written");
  } finally {
    await source.close();
  }
}
