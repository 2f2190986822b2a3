// The tables of the catalogue, the same on both engines: text ids, times in whole ms, flags as 0 or 1, JSON as text.

export interface PlayerRow {
  id: string;
  code: string;
  name: string | null;
  handed: string;
  pronoun: string;
  mass_kg: number | null;
  consent: string;
  consent_day: string | null;
  notes: string | null;
  shoes: string | null;
  created_ms: number;
}

export interface FootOutlineRow {
  id: string;
  player_id: string;
  foot: string;
  shoes: string | null;
  outline_json: string;
  created_ms: number;
}

export interface ClubRow {
  id: string;
  name: string;
  loft_deg: number | null;
  note: string | null;
  created_ms: number;
}

export interface PlateLayoutRow {
  id: string;
  name: string;
  plates_json: string;
  note: string | null;
  created_ms: number;
}

export interface SessionRow {
  id: string;
  player_id: string;
  layout_id: string | null;
  day: string;
  place: string | null;
  plan_json: string | null;
  note: string | null;
  created_ms: number;
}

export interface PlateCheckRow {
  id: string;
  session_id: string;
  kind: string;
  allowed: number | null;
  found: number | null;
  unit: string;
  is_passed: number;
  went_on: number;
  note: string | null;
  recording_id: string | null;
  detail_json: string | null;
  created_ms: number;
}

interface RecordingRow {
  /** SHA-256, lower-case hex. */
  id: string;
  byte_count: number;
  format: string;
  rate_hz: number;
  sample_count: number;
  created_ms: number;
}

/** What is searched and listed. All but the references, order and times follows from the facts and the findings. */
export interface ShotRow {
  id: string;
  session_id: string | null;
  player_id: string | null;
  recording_id: string;
  first_sample: number;
  end_sample: number;
  ordinal: number;
  day: string;
  file_name: string;
  label: string;
  intent: string | null;
  lie_name: string | null;
  pitch_deg: number | null;
  roll_deg: number | null;
  club: string | null;
  contact: string | null;
  start_line_deg: number | null;
  carry_m: number | null;
  worst_severity: number;
  created_ms: number;
  removed_ms: number | null;
}

/** Apart from the shot's row, so that searching never reads it. */
export interface ShotFactsRow {
  /** The shot's id. */
  id: string;
  facts_json: string | null;
  mapping_json: string | null;
}

export interface FindingRow {
  id: string;
  shot_id: string;
  /** chain: reading and computing; check: a plate check that failed; library: found by verify. */
  source: string;
  check_id: string | null;
  code: string;
  severity: number;
  sentence: string;
  remedy: string;
  where_json: string | null;
}

export interface ResultRow {
  /** The shot's id: one result a shot, the latest. */
  id: string;
  /** SHA-256 of all it was computed from: recording, stretch, facts, mapping, settings, version. */
  cache_key: string;
  version: string;
  status: string;
  layout_id: string;
  made_ms: number;
  /** Float64, little endian, in the order of the layout. */
  packed_values: Uint8Array;
  /** Float32, little endian, the same order. */
  packed_sigmas: Uint8Array;
  texts_json: string | null;
  measures_json: string | null;
  /** Of each value: what all shots of a session share, and what gravity alone explains. Null: kept by a version that did not. */
  packed_shared: Uint8Array | null;
  packed_shares: Uint8Array | null;
  events_json: string | null;
}

interface ValueLayoutRow {
  /** SHA-256 of the columns. */
  id: string;
  columns_json: string;
}

interface SettingRow {
  /** Its name. */
  id: string;
  value_json: string;
}

export interface HistoryRow {
  id: string;
  made_ms: number;
  made_by: string;
  deed: string;
  shot_id: string | null;
  session_id: string | null;
  player_id: string | null;
  changes_json: string;
  undoes_id: string | null;
  undone_by_id: string | null;
}

/** Files still to be removed after their rows are gone: finished at the next opening where a crash came between. */
interface RemovalRow {
  /** SHA-256 of the recording. */
  id: string;
}

export interface CatalogueTables {
  players: PlayerRow;
  foot_outlines: FootOutlineRow;
  clubs: ClubRow;
  plate_layouts: PlateLayoutRow;
  sessions: SessionRow;
  plate_checks: PlateCheckRow;
  recordings: RecordingRow;
  shots: ShotRow;
  shot_facts: ShotFactsRow;
  findings: FindingRow;
  value_layouts: ValueLayoutRow;
  results: ResultRow;
  settings: SettingRow;
  history: HistoryRow;
  removals: RemovalRow;
}

export type TableName = keyof CatalogueTables;

/** In an order in which rows may be put in: what is named stands before who names it. */
export const TABLE_NAMES: readonly TableName[] = [
  "players",
  "foot_outlines",
  "clubs",
  "plate_layouts",
  "sessions",
  "recordings",
  "plate_checks",
  "shots",
  "shot_facts",
  "findings",
  "value_layouts",
  "results",
  "settings",
  "history",
  "removals",
];
