import { randomBytes } from "node:crypto";
import { join } from "node:path";
import { type Random, randomFromState } from "@underfoot/domain";
import { openCatalogue } from "./catalogue.ts";
import { changeFeed, type LibraryChange } from "./change-feed.ts";
import { type Clubs, clubs } from "./clubs.ts";
import type { Workshop } from "./deed.ts";
import { diskFault } from "./faults.ts";
import { type FileSystem, nodeFileSystem } from "./file-system.ts";
import { type ImportedShot, type ImportRequest, importRecording } from "./import-recording.ts";
import { type LibrarySettings, librarySettings } from "./library-settings.ts";
import { idMaker } from "./new-id.ts";
import { type PlateChecks, plateChecks } from "./plate-checks.ts";
import { type PlateLayouts, plateLayouts } from "./plate-layouts.ts";
import { type Players, players } from "./players.ts";
import { RECORDINGS_FOLDER, recordingStore } from "./recording-store.ts";
import { type Results, results } from "./results.ts";
import { type Sessions, sessions } from "./sessions.ts";
import { type Shots, shots } from "./shots.ts";
import { type HistoryEntry, type HistoryQuery, history, undo } from "./undo.ts";

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
  readonly settings: LibrarySettings;
  /** Takes a recording in as a shot; on the disk when it returns. */
  importRecording(request: ImportRequest): Promise<ImportedShot>;
  /** The bytes as they were brought in. */
  recordingBytes(sha256: string): Promise<Uint8Array<ArrayBuffer>>;
  history(query?: HistoryQuery): Promise<readonly HistoryEntry[]>;
  /** @returns the id of the new entry; undoing that brings the change back */
  undo(historyId: string, by?: string): Promise<string>;
  /** Told after each change is on the disk. @returns stops the telling */
  changes(listener: (change: LibraryChange) => void): () => void;
  close(): Promise<void>;
}

/** Dice of this machine. */
function machineRandom(): Random {
  const words = new Uint32Array(new Uint8Array(randomBytes(16)).buffer);
  return randomFromState([(words[0] ?? 0) | 1, words[1] ?? 0, words[2] ?? 0, words[3] ?? 0]);
}

/**
 * Opens a library, or makes a new one in an empty folder.
 *
 * @throws UnderfootError library-read-only, library-unwritable, library-damaged, library-newer, library-unreachable
 */
export async function openLibrary(options: LibraryOptions): Promise<Library> {
  const {
    folder,
    postgresUrl,
    clock = Date.now,
    random = machineRandom(),
    files = nodeFileSystem,
    who = "this machine",
  } = options;
  try {
    await files.makeFolder(join(folder, RECORDINGS_FOLDER));
  } catch (cause) {
    throw diskFault(folder, cause, "written");
  }
  const catalogue = await openCatalogue({ folder, postgresUrl });
  const feed = changeFeed();
  const workshop: Workshop = { catalogue, feed, newId: idMaker(clock, random), clock, who };
  const store = recordingStore(files, folder, workshop.newId);
  const settings = librarySettings(workshop);
  const undoEntry = (historyId: string, by?: string): Promise<string> => undo(workshop, historyId, by);
  return {
    folder,
    engine: catalogue.engine,
    players: players(workshop),
    clubs: clubs(workshop),
    layouts: plateLayouts(workshop),
    sessions: sessions(workshop),
    checks: plateChecks(workshop),
    shots: shots(workshop, undoEntry),
    results: results(workshop, store, settings),
    settings,
    importRecording: (request) => importRecording(workshop, store, request),
    recordingBytes: (sha256) => store.bytes(sha256),
    history: (query = {}) => history(workshop, query),
    undo: undoEntry,
    changes: feed.subscribe,
    close: () => catalogue.close(),
  };
}
