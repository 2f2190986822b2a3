// The catalogue and the files: players, sessions, shots and their history, on the disk before anything is acknowledged.
// Knows SQL and folders; never a page, a request or a formula of mechanics.

export type { Compare, CompareOptions, ComparisonAnswer } from "./compare/compare.ts";
export type { BoardAsk, ComparisonAsk, OutcomeAsk, StudyAsk, UsualAsk } from "./compare/compare-ask.ts";
export { type FileReader, type FileSystem, type FileWriter, nodeFileSystem } from "./disk/file-system.ts";
export { sha256Of } from "./disk/recording-store.ts";
export type { LibraryChange } from "./history/change-feed.ts";
export type { RowChange } from "./history/deed.ts";
export type { HistoryEntry, HistoryQuery } from "./history/undo.ts";
export type { BackupDone, BackupOptions } from "./keeping/backup.ts";
export type { DailyBackup, DailyBackupOptions, KeptBackup } from "./keeping/daily-backup.ts";
export type { Forgotten } from "./keeping/forget.ts";
export { type RestoreOptions, restoreLibrary } from "./keeping/restore.ts";
export type { VerifyFinding, VerifyOptions, VerifyReport } from "./keeping/verify.ts";
export { type Library, type LibraryOptions, openLibrary } from "./library.ts";
export type { Club, ClubDetails, Clubs } from "./records/clubs.ts";
export type { LibrarySettings } from "./records/library-settings.ts";
export type { Mappings } from "./records/mappings.ts";
export {
  PLATE_CHECK_KINDS,
  type PlateCheck,
  type PlateCheckDetails,
  type PlateCheckKind,
  type PlateChecks,
} from "./records/plate-checks.ts";
export type { LaidPlate, PlateLayout, PlateLayoutDetails, PlateLayouts } from "./records/plate-layouts.ts";
export type { Consent, Player, PlayerDetails, PlayerOutline, Players, Pronoun } from "./records/players.ts";
export type {
  AskedMeasure,
  PlannedShot,
  Session,
  SessionDetails,
  SessionLine,
  SessionPlan,
  SessionQuery,
  Sessions,
} from "./records/sessions.ts";
export type { MovedMeasure } from "./results/moved-numbers.ts";
export type { Progress, Recomputation, RecomputeFault, RecomputeOptions } from "./results/recompute.ts";
export type { MeasurePoint, MeasureQuery, Results, StoredResult } from "./results/results.ts";
export type { ResultsReach } from "./results/results-reach.ts";
export type { BringInRequest, BroughtIn, BroughtShot } from "./shots/bring-in.ts";
export type { ImportedShot, ImportRequest } from "./shots/import-recording.ts";
export type { ShotLabel } from "./shots/shot-columns.ts";
export type { ShotLine, ShotPage, ShotQuery } from "./shots/shot-query.ts";
export type { CountedWord, ShotWords, WordsQuery } from "./shots/shot-words.ts";
export type { Shots, StoredShot } from "./shots/shots.ts";
