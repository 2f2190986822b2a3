import { randomBytes } from "node:crypto";
import { join } from "node:path";
import { type Random, randomFromState } from "@underfoot/domain";
import { openCatalogue } from "./catalogue/catalogue.ts";
import { idMaker } from "./catalogue/new-id.ts";
import { type Compare, compare } from "./compare/compare.ts";
import { type FileSystem, nodeFileSystem } from "./disk/file-system.ts";
import { RECORDINGS_FOLDER, recordingStore } from "./disk/recording-store.ts";
import { diskFault } from "./faults.ts";
import { changeFeed, type LibraryChange } from "./history/change-feed.ts";
import type { Workshop } from "./history/deed.ts";
import { type HistoryEntry, type HistoryQuery, history, undo } from "./history/undo.ts";
import { type BackupDone, type BackupOptions, backup } from "./keeping/backup.ts";
import {
  backupsIn,
  type DailyBackup,
  type DailyBackupOptions,
  dailyBackup,
  dailyBackups,
  type KeptBackup,
} from "./keeping/daily-backup.ts";
import { type Forgotten, finishForgetting, forget } from "./keeping/forget.ts";
import { noteBackup } from "./keeping/noted-backups.ts";
import { type VerifyOptions, type VerifyReport, verify } from "./keeping/verify.ts";
import { type Clubs, clubs } from "./records/clubs.ts";
import { type LibrarySettings, librarySettings } from "./records/library-settings.ts";
import { type Mappings, mappings } from "./records/mappings.ts";
import { type PlateChecks, plateChecks } from "./records/plate-checks.ts";
import { type PlateLayouts, plateLayouts } from "./records/plate-layouts.ts";
import { type Players, players } from "./records/players.ts";
import { type Sessions, sessions } from "./records/sessions.ts";
import { type Recomputation, type RecomputeOptions, recompute } from "./results/recompute.ts";
import { type Results, results } from "./results/results.ts";
import { type BringInRequest, type BroughtIn, bringIn } from "./shots/bring-in.ts";
import { type ImportedShot, type ImportRequest, importRecording, keepRecording } from "./shots/import-recording.ts";
import { type Shots, shots } from "./shots/shots.ts";

export interface LibraryOptions {
  /** Where the recordings lie, and the embedded catalogue beside them. Made where it is not there. */
  readonly folder: string;
  /** The catalogue on a PostgreSQL server instead; the recordings stay in the folder, which all share. */
  readonly postgresUrl?: string | undefined;
  /** ms since 1970. */
  readonly clock?: () => number;
  readonly random?: Random;
  readonly files?: FileSystem;
  /** Who stands in the history where nobody is named. */
  readonly who?: string;
}

/** A coach's years of players: the catalogue and the recordings. */
export interface Library {
  readonly folder: string;
  readonly engine: "sqlite" | "postgres";
  readonly players: Players;
  readonly clubs: Clubs;
  readonly layouts: PlateLayouts;
  readonly sessions: Sessions;
  readonly checks: PlateChecks;
  readonly shots: Shots;
  readonly results: Results;
  readonly compare: Compare;
  readonly settings: LibrarySettings;
  readonly mappings: Mappings;
  /** Takes one file in as a person brings it: facts from its sidecar, columns by a mapping, every shot in it. */
  bringIn(request: BringInRequest): Promise<BroughtIn>;
  /** Takes a recording in as a shot; on the disk when it returns. */
  importRecording(request: ImportRequest): Promise<ImportedShot>;
  /** Keeps a recording that is no shot, for a plate check; on the disk when it returns. @returns its SHA-256 */
  keepRecording(request: Pick<ImportRequest, "bytes" | "fileName" | "mapping">): Promise<string>;
  /** The bytes as they were brought in. */
  recordingBytes(sha256: string): Promise<Uint8Array<ArrayBuffer>>;
  /** Computes what is missing or out of date, on all cores, and says which numbers moved. */
  recompute(options?: RecomputeOptions): Promise<Recomputation>;
  /** One file with everything, consistent while the library is in use. */
  backup(file: string, options?: BackupOptions): Promise<BackupDone>;
  /** Today's backup if it is not there yet; the oldest go. */
  dailyBackup(options?: DailyBackupOptions): Promise<DailyBackup>;
  /** The backups in the backup folder, the newest first. */
  backups(): Promise<readonly KeptBackup[]>;
  /** Every file's hash, every row's references. */
  verify(options?: VerifyOptions): Promise<VerifyReport>;
  /** Removes a person everywhere; it cannot be undone. */
  forget(playerId: string): Promise<Forgotten>;
  history(query?: HistoryQuery): Promise<readonly HistoryEntry[]>;
  /** @returns the id of the new entry; undoing that brings the change back */
  undo(historyId: string, by?: string): Promise<string>;
  /** Told after each change is on the disk. @returns stops the telling */
  changes(listener: (change: LibraryChange) => void): () => void;
  /** Tells the listeners of `changes` where another process changed something since the last call. */
  lookElsewhere(): Promise<boolean>;
  close(): Promise<void>;
}

/** Dice of this machine. */
function machineRandom(): Random {
  const words = new Uint32Array(new Uint8Array(randomBytes(16)).buffer);
  return randomFromState([(words[0] ?? 0) | 1, words[1] ?? 0, words[2] ?? 0, words[3] ?? 0]);
}

/** Whether another process wrote since the last look: SQLite counts that itself; PostgreSQL is asked for the last entry. */
async function elsewhere({ catalogue, feed }: Workshop): Promise<() => Promise<boolean>> {
  const { raw, db } = catalogue;
  const stateNow = async (): Promise<string> => {
    if (raw) return String(raw.prepare("pragma data_version").get()?.["data_version"]);
    const last = await db
      .selectFrom("history")
      .select((is) => is.fn.max("id").as("id"))
      .executeTakeFirst();
    return last?.id ?? "";
  };
  let seen = await stateNow();
  return async () => {
    const now = await stateNow();
    if (seen === now) return false;
    seen = now;
    feed.tell({ kind: "elsewhere", id: "", deed: "another program changed the library" });
    return true;
  };
}

/**
 * Opens a library, or makes a new one in an empty folder.
 *
 * @throws UnderfootError library-read-only, library-unwritable, library-damaged, library-newer, library-unreachable
 */
export async function openLibrary(options: LibraryOptions): Promise<Library> {
  const { folder, postgresUrl, clock = Date.now, random = machineRandom(), files = nodeFileSystem } = options;
  try {
    await files.makeFolder(join(folder, RECORDINGS_FOLDER));
  } catch (cause) {
    throw diskFault(folder, cause, "written");
  }
  const catalogue = await openCatalogue({ folder, postgresUrl });
  try {
    const { who = "this machine" } = options;
    const workshop: Workshop = { catalogue, feed: changeFeed(), newId: idMaker(clock, random), clock, who };
    return await openedLibrary(workshop, folder, files);
  } catch (cause) {
    await catalogue.close();
    throw cause;
  }
}

async function openedLibrary(workshop: Workshop, folder: string, files: FileSystem): Promise<Library> {
  const store = recordingStore(files, folder, workshop.newId);
  const settings = librarySettings(workshop);
  const keptMappings = mappings(settings);
  await finishForgetting(workshop, store);
  const lookElsewhere = await elsewhere(workshop);
  const undoEntry = (historyId: string, by?: string): Promise<string> => undo(workshop, historyId, by);
  const allShots = shots(workshop, undoEntry);
  const comparing = compare(workshop, store, settings);
  return {
    folder,
    engine: workshop.catalogue.engine,
    players: players(workshop),
    clubs: clubs(workshop),
    layouts: plateLayouts(workshop),
    sessions: sessions(workshop),
    checks: plateChecks(workshop),
    shots: allShots,
    results: results(workshop, store, settings),
    compare: comparing.door,
    settings,
    mappings: keptMappings,
    bringIn: (request) => bringIn(workshop, store, { mappings: keptMappings, settings, shots: allShots }, request),
    importRecording: (request) => importRecording(workshop, store, request),
    keepRecording: (request) => keepRecording(workshop, store, request),
    recordingBytes: (sha256) => store.bytes(sha256),
    recompute: async (options = {}) => recompute(workshop, store, await settings.mechanics(), options),
    backup: async (file, options) => {
      const done = await backup(workshop, store, files, file, options);
      await noteBackup(workshop, file);
      return done;
    },
    dailyBackup: async (options = {}) =>
      dailyBackup(workshop, store, files, { folder: await settings.backupFolder(folder), ...options }),
    backups: async () => backupsIn(files, await settings.backupFolder(folder)),
    verify: async (options = {}) => {
      const daily = await settings.backupFolder(folder);
      const backups = (await dailyBackups(files, daily)).map((name) => join(daily, name));
      const report = await verify(workshop, store, files, { backups, ...options });
      if (report.findings.some(({ isMended }) => isMended))
        workshop.feed.tell({ kind: "elsewhere", id: "", deed: "mended the library" });
      return report;
    },
    forget: async (playerId) => {
      const keeping = { store, files, backupFolder: await settings.backupFolder(folder) };
      const forgotten = await forget(workshop, keeping, playerId);
      comparing.forget();
      return forgotten;
    },
    lookElsewhere,
    history: (query = {}) => history(workshop, query),
    undo: undoEntry,
    changes: workshop.feed.subscribe,
    close: async () => {
      await comparing.close();
      await workshop.catalogue.close();
    },
  };
}
