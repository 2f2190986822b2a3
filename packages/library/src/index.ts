// The catalogue and the files: players, sessions, shots and their history, on the disk before anything is acknowledged.
// Knows SQL and folders; never a page, a request or a formula of mechanics.
export type { BackupDone, BackupOptions } from "./backup.ts";
export type { LibraryChange } from "./change-feed.ts";
export type { Club, ClubDetails, Clubs } from "./clubs.ts";
export { backupsFolder, type DailyBackup, type DailyBackupOptions } from "./daily-backup.ts";
export type { RowChange } from "./deed.ts";
export { type FileReader, type FileSystem, type FileWriter, nodeFileSystem } from "./file-system.ts";
export type { Forgotten } from "./forget.ts";
export type { ImportedShot, ImportRequest } from "./import-recording.ts";
export { type Library, type LibraryOptions, openLibrary } from "./library.ts";
export type { LibrarySettings } from "./library-settings.ts";
export type { MovedMeasure } from "./moved-numbers.ts";
export {
  PLATE_CHECK_KINDS,
  type PlateCheck,
  type PlateCheckDetails,
  type PlateCheckKind,
  type PlateChecks,
} from "./plate-checks.ts";
export type { LaidPlate, PlateLayout, PlateLayoutDetails, PlateLayouts } from "./plate-layouts.ts";
export type { Consent, Player, PlayerDetails, PlayerOutline, Players, Pronoun } from "./players.ts";
export type { Progress, Recomputation, RecomputeFault, RecomputeOptions } from "./recompute.ts";
export { sha256Of } from "./recording-store.ts";
export { type RestoreOptions, restoreLibrary } from "./restore.ts";
export type { MeasurePoint, MeasureQuery, Results, StoredResult } from "./results.ts";
export type {
  AskedMeasure,
  PlannedShot,
  Session,
  SessionDetails,
  SessionLine,
  SessionPlan,
  SessionQuery,
  Sessions,
} from "./sessions.ts";
export type { ShotLabel } from "./shot-columns.ts";
export type { ShotLine, ShotPage, ShotQuery } from "./shot-query.ts";
export type { Shots, StoredShot } from "./shots.ts";
export type { HistoryEntry, HistoryQuery } from "./undo.ts";
export type { VerifyFinding, VerifyOptions, VerifyReport } from "./verify.ts";
