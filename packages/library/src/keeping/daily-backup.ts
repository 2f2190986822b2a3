import { join } from "node:path";
import type { FileSystem } from "../disk/file-system.ts";
import type { RecordingStore } from "../disk/recording-store.ts";
import type { Workshop } from "../history/deed.ts";
import { dayOf } from "../shots/shot-place.ts";
import { type BackupDone, type BackupOptions, backup } from "./backup.ts";

/** Of the last days, so many; common practice, no source. */
const DAYS_KEPT = 7;

export interface DailyBackupOptions extends BackupOptions {
  /** Left out: as in the settings. A folder on another disk survives this one. */
  readonly folder?: string;
  readonly daysKept?: number;
}

export interface DailyBackup {
  /** Absent where today's is there already. */
  readonly made?: BackupDone;
  readonly removed: readonly string[];
  /** The newest first. */
  readonly kept: readonly string[];
}

const BACKUP_NAME = /^underfoot-\d{4}-\d{2}-\d{2}\.tar$/;

/** The daily backups in a folder, the newest first. */
export async function dailyBackups(files: FileSystem, folder: string): Promise<readonly string[]> {
  return (await files.list(folder))
    .filter((name) => BACKUP_NAME.test(name))
    .sort()
    .reverse();
}

/** A backup as it lies in the backup folder. */
export interface KeptBackup {
  readonly file: string;
  readonly byteCount: number;
  /** When it was written, ms since 1970. */
  readonly madeMs: number;
}

/** Every backup in a folder, daily or made by hand, by the name it has from Underfoot; the newest first. */
export async function backupsIn(files: FileSystem, folder: string): Promise<readonly KeptBackup[]> {
  const found: KeptBackup[] = [];
  for (const name of await files.list(folder)) {
    if (!/^underfoot-.*\.tar$/.test(name)) continue;
    const file = join(folder, name);
    const byteCount = await files.byteCount(file);
    const madeMs = await files.changedMs(file);
    if (byteCount !== undefined && madeMs !== undefined) found.push({ file, byteCount, madeMs });
  }
  return found.sort((a, b) => b.madeMs - a.madeMs || (a.file < b.file ? 1 : -1));
}

/** One backup a day, the oldest removed once a newer one is whole. To be called as often as one likes. */
export async function dailyBackup(
  workshop: Workshop,
  store: RecordingStore,
  files: FileSystem,
  { folder, daysKept = DAYS_KEPT, ...options }: DailyBackupOptions & { readonly folder: string },
): Promise<DailyBackup> {
  await files.makeFolder(folder);
  const name = `underfoot-${dayOf(workshop.clock())}.tar`;
  const isThere = (await dailyBackups(files, folder)).includes(name);
  const made = isThere ? undefined : await backup(workshop, store, files, join(folder, name), options);
  const names = await dailyBackups(files, folder);
  const removed = names.slice(Math.max(1, daysKept));
  for (const old of removed) await files.remove(join(folder, old));
  return { removed, kept: names.slice(0, Math.max(1, daysKept)), ...(made ? { made } : {}) };
}
