import { type SelectQueryBuilder, sql } from "kysely";
import type { CatalogueDb } from "../catalogue/catalogue.ts";
import type { CatalogueTables, ShotRow } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { checkedDay, pageLimit } from "../records/sessions.ts";
import { type ShotLabel, severityOf, severityRank } from "./shot-columns.ts";

/** Any fact of a shot; those given must all hold. */
export interface ShotQuery {
  readonly playerId?: string;
  readonly sessionId?: string;
  readonly intent?: string;
  readonly lieName?: string;
  readonly club?: string;
  readonly label?: ShotLabel;
  readonly contact?: string;
  readonly fromDay?: string;
  readonly toDay?: string;
  /** Both ends belong to it. */
  readonly pitchDeg?: readonly [number, number];
  readonly rollDeg?: readonly [number, number];
  readonly carryM?: readonly [number, number];
  readonly startLineDeg?: readonly [number, number];
  /** Has a finding with this code. */
  readonly findingCode?: string;
  /** Its worst finding is at least this. */
  readonly leastSeverity?: "note" | "caution" | "stop";
  readonly recordingSha256?: string;
  /** Part of the file's name as it was brought in. */
  readonly fileName?: string;
  /** hidden: those whose import was undone. */
  readonly show?: "present" | "hidden";
  /** newest: last brought in first. session: as they were hit; needs a session. */
  readonly order?: "newest" | "session";
  /** At most 500; 50 where left out. */
  readonly limit?: number;
  /** `next` of the page before. */
  readonly after?: string;
}

/** A shot as it stands in a list. */
export interface ShotLine {
  readonly id: string;
  readonly playerId?: string;
  readonly playerCode?: string;
  readonly sessionId?: string;
  readonly recordingSha256: string;
  readonly stretch: { readonly first: number; readonly end: number };
  /** From 1 in its session; 0 without one. */
  readonly ordinal: number;
  readonly day: string;
  readonly fileName: string;
  readonly label: ShotLabel;
  readonly intent?: string;
  readonly lieName?: string;
  readonly pitchDeg?: number;
  readonly rollDeg?: number;
  readonly club?: string;
  readonly contact?: string;
  readonly startLineDeg?: number;
  readonly carryM?: number;
  readonly worstSeverity?: "note" | "caution" | "stop";
  readonly createdMs: number;
}

export interface ShotPage {
  readonly rows: readonly ShotLine[];
  /** Of all pages. */
  readonly total: number;
  /** Where the next page begins; absent on the last. */
  readonly next?: string;
}

export function shotLine(row: ShotRow & { readonly player_code: string | null }): ShotLine {
  return present<ShotLine>({
    id: row.id,
    playerId: row.player_id,
    playerCode: row.player_code,
    sessionId: row.session_id,
    recordingSha256: row.recording_id,
    stretch: { first: row.first_sample, end: row.end_sample },
    ordinal: row.ordinal,
    day: row.day,
    fileName: row.file_name,
    label: row.label as ShotLabel,
    intent: row.intent,
    lieName: row.lie_name,
    pitchDeg: row.pitch_deg,
    rollDeg: row.roll_deg,
    club: row.club,
    contact: row.contact,
    startLineDeg: row.start_line_deg,
    carryM: row.carry_m,
    worstSeverity: severityOf(row.worst_severity),
    createdMs: row.created_ms,
  });
}

type Shots<O> = SelectQueryBuilder<CatalogueTables, "shots", O>;

const EQUAL = {
  playerId: "player_id",
  sessionId: "session_id",
  intent: "intent",
  lieName: "lie_name",
  club: "club",
  label: "label",
  contact: "contact",
  recordingSha256: "recording_id",
} as const satisfies Partial<Record<keyof ShotQuery, keyof ShotRow>>;

const BETWEEN = {
  pitchDeg: "pitch_deg",
  rollDeg: "roll_deg",
  carryM: "carry_m",
  startLineDeg: "start_line_deg",
} as const satisfies Partial<Record<keyof ShotQuery, keyof ShotRow>>;

const entries = <T extends object>(of: T): [keyof T, T[keyof T]][] => Object.entries(of) as [keyof T, T[keyof T]][];

/** From so many findings on, looking each shot's up is faster than listing all shots that have one (bench library). */
const COMMON_FINDINGS = 5000;

async function isCommon(db: CatalogueDb, code: string | undefined): Promise<boolean> {
  if (code === undefined) return false;
  const some = db.selectFrom("findings").select("id").where("code", "=", code).limit(COMMON_FINDINGS).as("some");
  const { count } = await db
    .selectFrom(some)
    .select((is) => is.fn.countAll<number>().as("count"))
    .executeTakeFirstOrThrow();
  return count === COMMON_FINDINGS;
}

function withFinding<O>(shots: Shots<O>, code: string, way: "each shot's" | "all of them"): Shots<O> {
  if (way === "all of them")
    return shots.where("shots.id", "in", (is) => is.selectFrom("findings").select("shot_id").where("code", "=", code));
  return shots.where((is) =>
    is.exists(
      is
        .selectFrom("findings")
        .select(is.lit(1).as("one"))
        .where("code", "=", code)
        .whereRef("shot_id", "=", "shots.id"),
    ),
  );
}

/** The shots of which every given fact holds. */
export function wantedShots<O>(shots: Shots<O>, query: ShotQuery, isFindingCommon: boolean): Shots<O> {
  let asked = shots.where("shots.removed_ms", query.show === "hidden" ? "is not" : "is", null);
  for (const [name, column] of entries(EQUAL)) {
    const value = query[name];
    if (value !== undefined) asked = asked.where(`shots.${column}`, "=", value);
  }
  for (const [name, column] of entries(BETWEEN)) {
    const range = query[name];
    if (range !== undefined)
      asked = asked.where(`shots.${column}`, ">=", range[0]).where(`shots.${column}`, "<=", range[1]);
  }
  if (query.fromDay !== undefined) asked = asked.where("shots.day", ">=", checkedDay(query.fromDay));
  if (query.toDay !== undefined) asked = asked.where("shots.day", "<=", checkedDay(query.toDay));
  if (query.leastSeverity !== undefined)
    asked = asked.where("shots.worst_severity", ">=", severityRank(query.leastSeverity));
  if (query.fileName !== undefined) {
    const part = query.fileName.replace(/[\\%_]/g, (letter) => `\\${letter}`);
    asked = asked.where(sql<boolean>`lower(shots.file_name) like lower(${`%${part}%`}) escape '\\'`);
  }
  const { findingCode } = query;
  if (findingCode !== undefined)
    asked = withFinding(asked, findingCode, isFindingCommon ? "each shot's" : "all of them");
  return asked;
}

/** How many shots are asked for. */
async function totalOf(db: CatalogueDb, query: ShotQuery, isFindingCommon: boolean): Promise<number> {
  const count = async (asked: ShotQuery): Promise<number> => {
    const row = await wantedShots(db.selectFrom("shots"), asked, isFindingCommon)
      .select((is) => is.fn.countAll<number>().as("total"))
      .executeTakeFirstOrThrow();
    return row.total;
  };
  const { findingCode, show, limit: _, after: __, order: ___, ...others } = query;
  if (findingCode === undefined || !isFindingCommon || show === "hidden" || Object.keys(others).length > 0)
    return count(query);
  // Many shots have it: counted from the findings alone, less the few hidden shots, a third of the time.
  const { all } = await db
    .selectFrom("findings")
    .select((is) => is.fn.count<number>("shot_id").distinct().as("all"))
    .where("code", "=", findingCode)
    .executeTakeFirstOrThrow();
  return all - (await count({ findingCode, show: "hidden" }));
}

const CURSOR = /^(?:(\d+)_)?([0-9a-z]{19})$/;

function cursorParts(after: string): { readonly ordinal: number; readonly id: string } {
  const [, ordinal, id] = CURSOR.exec(after) ?? [];
  if (id === undefined)
    throw libraryFaults.wrong(`"${after}" is no place in the list.`, "Take the one that came with the page before.");
  return { ordinal: Number(ordinal ?? 0), id };
}

/** One page of the shots that are asked for, and how many there are in all. */
export async function foundShots(db: CatalogueDb, query: ShotQuery): Promise<ShotPage> {
  const limit = pageLimit(query.limit);
  const isBySession = query.order === "session";
  if (isBySession && query.sessionId === undefined)
    throw libraryFaults.wrong(
      "Shots in the order they were hit are those of one session.",
      "Name the session, or order them by newest.",
    );
  const isFindingCommon = await isCommon(db, query.findingCode);
  const total = await totalOf(db, query, isFindingCommon);
  let page = wantedShots(db.selectFrom("shots").selectAll("shots"), query, isFindingCommon).limit(limit + 1);
  if (query.after !== undefined) {
    const { ordinal, id } = cursorParts(query.after);
    page = isBySession
      ? page.where((is) =>
          is.or([is("ordinal", ">", ordinal), is.and([is("ordinal", "=", ordinal), is("shots.id", ">", id)])]),
        )
      : page.where("shots.id", "<", id);
  }
  page = isBySession ? page.orderBy("ordinal").orderBy("shots.id") : page.orderBy("shots.id", "desc");
  const rows = await page
    .select((is) =>
      is.selectFrom("players").select("code").whereRef("players.id", "=", "shots.player_id").as("player_code"),
    )
    .execute();
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return {
    total,
    rows: shown.map(shotLine),
    ...(rows.length > limit && last ? { next: isBySession ? `${last.ordinal}_${last.id}` : last.id } : {}),
  };
}
