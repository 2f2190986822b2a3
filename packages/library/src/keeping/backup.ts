import { createHash } from "node:crypto";
import { dirname, join } from "node:path";
import { backup as copySqlite } from "node:sqlite";
import { VERSION } from "@underfoot/domain";
import { CATALOGUE_FILE, openCatalogue } from "../catalogue/catalogue.ts";
import { sqliteConnection } from "../catalogue/catalogue-sqlite.ts";
import { copyCatalogue } from "../catalogue/copy-catalogue.ts";
import type { FileSystem, FileWriter } from "../disk/file-system.ts";
import { RECORDINGS_FOLDER, type RecordingStore } from "../disk/recording-store.ts";
import { diskFault, libraryFaults } from "../faults.ts";
import type { Workshop } from "../history/deed.ts";
import type { Progress } from "../results/recompute.ts";
import { writeBytesEntry, writeEnd, writeEntry } from "./tar.ts";

/** What stands first in every backup. */
export interface BackupManifest {
  readonly underfoot: "backup";
  readonly version: 1;
  readonly software: string;
  readonly madeMs: number;
  readonly catalogue: { readonly sha256: string; readonly byteCount: number };
  /** SHA-256 of each recording; each is an entry of the archive under its name. */
  readonly recordings: readonly string[];
}

const HASHED_AT_ONCE = 1 << 20;

export const MANIFEST_NAME = "manifest.json";

export interface BackupOptions {
  readonly onProgress?: (progress: Progress) => void;
  readonly signal?: AbortSignal | undefined;
}

export interface BackupDone {
  readonly file: string;
  readonly byteCount: number;
  readonly recordings: number;
  readonly shots: number;
}

/** Name of a recording in a backup. */
export const recordingEntry = (sha256: string): string => `${RECORDINGS_FOLDER}/${sha256.slice(0, 2)}/${sha256}`;

/** The catalogue as it stands at one moment, as one embedded file, whatever the engine; others go on writing. */
async function snapshot({ catalogue }: Workshop, folder: string): Promise<string> {
  const path = join(folder, CATALOGUE_FILE);
  if (catalogue.raw) {
    await copySqlite(catalogue.raw, path);
    return path;
  }
  const copy = await openCatalogue({ folder });
  try {
    await copyCatalogue(catalogue, copy);
    copy.raw?.exec("pragma wal_checkpoint(truncate)");
  } finally {
    await copy.close();
  }
  return path;
}

interface Snapshot {
  readonly path: string;
  readonly bytes: { readonly sha256: string; readonly byteCount: number };
  readonly recordings: readonly string[];
  readonly shots: number;
}

async function hashed(files: FileSystem, path: string): Promise<BackupManifest["catalogue"]> {
  const hash = createHash("sha256");
  const source = await files.openReader(path);
  try {
    for (let at = 0; at < source.byteCount; at += HASHED_AT_ONCE) hash.update(await source.read(at, HASHED_AT_ONCE));
  } finally {
    await source.close();
  }
  return { sha256: hash.digest("hex"), byteCount: source.byteCount };
}

/** Makes the snapshot one plain file that needs nothing beside it, and asks it what it names. */
async function describedSnapshot(files: FileSystem, path: string): Promise<Snapshot> {
  const { raw } = await sqliteConnection(path);
  let recordings: string[];
  let shots: number;
  try {
    raw.exec("pragma journal_mode = delete");
    recordings = raw
      .prepare("select id from recordings order by id")
      .all()
      .map(({ id }) => String(id));
    shots = Number(raw.prepare("select count(*) as count from shots").get()?.["count"]);
  } finally {
    raw.close();
  }
  return { path, bytes: await hashed(files, path), recordings, shots };
}

async function writeBackup(
  out: FileWriter,
  {
    workshop,
    store,
    files,
    shot,
    options,
  }: {
    readonly workshop: Workshop;
    readonly store: RecordingStore;
    readonly files: FileSystem;
    readonly shot: Snapshot;
    readonly options: BackupOptions;
  },
): Promise<void> {
  const changedS = Math.floor(workshop.clock() / 1000);
  const manifest: BackupManifest = {
    underfoot: "backup",
    version: 1,
    software: VERSION,
    madeMs: Math.floor(workshop.clock()),
    catalogue: shot.bytes,
    recordings: shot.recordings,
  };
  await writeBytesEntry(out, { name: MANIFEST_NAME, changedS }, new TextEncoder().encode(JSON.stringify(manifest)));
  const catalogue = await files.openReader(shot.path);
  try {
    await writeEntry(out, { name: CATALOGUE_FILE, changedS }, catalogue);
  } finally {
    await catalogue.close();
  }
  for (const [k, sha256] of shot.recordings.entries()) {
    if (options.signal?.aborted) throw libraryFaults.cancelled();
    // Read whole and checked: a damaged recording must not become the backup of a sound one.
    await writeBytesEntry(out, { name: recordingEntry(sha256), changedS }, await store.bytes(sha256));
    options.onProgress?.({ done: k + 1, total: shot.recordings.length });
  }
  await writeEnd(out);
}

interface Target {
  readonly file: string;
  readonly unfinished: string;
  /** Where the snapshot of the catalogue lies meanwhile. */
  readonly folder: string;
}

async function backupTo(
  { file, unfinished, folder }: Target,
  { workshop, store, files, options }: Omit<Parameters<typeof writeBackup>[1], "shot">,
): Promise<BackupDone> {
  await files.makeFolder(folder);
  const shot = await describedSnapshot(files, await snapshot(workshop, folder));
  const out = await files.openWriter(unfinished);
  try {
    await writeBackup(out, { workshop, store, files, shot, options });
    await out.finish();
  } catch (cause) {
    await out.abandon();
    throw cause;
  }
  const byteCount = (await files.byteCount(unfinished)) ?? 0;
  await files.rename(unfinished, file);
  await files.syncFolder(dirname(file));
  return { file, byteCount, recordings: shot.recordings.length, shots: shot.shots };
}

/**
 * One file with everything: the catalogue as it stands at one moment and every recording it names. The library may be
 * used meanwhile. The file appears under its name only when it is whole.
 *
 * @throws UnderfootError library-recording-lost, library-disk-full, library-cancelled and so on
 */
export async function backup(
  workshop: Workshop,
  store: RecordingStore,
  files: FileSystem,
  file: string,
  options: BackupOptions = {},
): Promise<BackupDone> {
  const unfinished = `${file}.${workshop.newId()}.unfinished`;
  const folder = `${unfinished}.catalogue`;
  try {
    try {
      return await backupTo({ file, unfinished, folder }, { workshop, store, files, options });
    } finally {
      await files.remove(unfinished);
      await files.remove(folder);
    }
  } catch (cause) {
    throw diskFault(file, cause, "written");
  }
}
