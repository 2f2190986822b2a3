import type { Lie } from "@underfoot/domain";
import type { CatalogueDb } from "../catalogue/catalogue.ts";
import type { SessionRow } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { deed, type RowPart, type Workshop } from "../history/deed.ts";

/** One shot the plan asks for. */
export interface PlannedShot {
  readonly intent: string;
  readonly lieName: string;
  readonly club?: string;
}

/** A measure the player is asked to bring into a range, in the measure's unit. */
export interface AskedMeasure {
  readonly measure: string;
  readonly axes?: "turf" | "level";
  /** For one intent only; left out: for all. */
  readonly intent?: string;
  readonly least?: number;
  readonly most?: number;
}

/** Which shots, how many of each, in which order; everything that a person chose, and the seed of what was drawn. */
export interface SessionPlan {
  readonly order: "blocked" | "balanced" | "split" | "as-given";
  readonly seed: number;
  readonly lies: readonly ({ readonly name: string } & Pick<Lie, "pitchDeg" | "rollDeg" | "source" | "sdDeg">)[];
  readonly conditions: readonly (PlannedShot & { readonly count: number })[];
  readonly asked: readonly AskedMeasure[];
  /** In the order to be hit. */
  readonly drawn: readonly PlannedShot[];
}

export interface SessionDetails {
  readonly playerId: string;
  readonly layoutId?: string | undefined;
  /** YYYY-MM-DD. */
  readonly day: string;
  readonly place?: string | undefined;
  readonly plan?: SessionPlan | undefined;
  readonly note?: string | undefined;
}

export interface Session extends SessionDetails {
  readonly id: string;
  readonly createdMs: number;
}

/** A session as it stands in a list. */
export interface SessionLine {
  readonly id: string;
  readonly playerId: string;
  readonly playerCode: string;
  readonly day: string;
  readonly place?: string;
  readonly layoutId?: string;
  /** What its plan asks of measures; absent without a plan. */
  readonly asked?: readonly AskedMeasure[];
  readonly shotCount: number;
}

export interface SessionQuery {
  readonly playerId?: string;
  readonly fromDay?: string;
  readonly toDay?: string;
  /** At most 500; 50 where left out. */
  readonly limit?: number;
  /** `next` of the page before. */
  readonly after?: string;
}

export interface Sessions {
  /** Latest first, a page at a time. */
  list(
    query?: SessionQuery,
  ): Promise<{ readonly rows: readonly SessionLine[]; readonly total: number; readonly next?: string }>;
  byId(id: string): Promise<Session>;
  add(details: SessionDetails, by?: string): Promise<Session>;
  change(id: string, part: Partial<SessionDetails>, by?: string): Promise<Session>;
  /** @throws UnderfootError library-in-use while it has shots or checks */
  remove(id: string, by?: string): Promise<void>;
}

const DAY = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/;
const MOST_ROWS = 500;

export function checkedDay(day: string): string {
  if (!DAY.test(day))
    throw libraryFaults.wrong(`"${day}" is no day.`, "Write it as YYYY-MM-DD, for example 2026-03-09.");
  return day;
}

/** How many rows a page may have. */
export function pageLimit(limit = 50): number {
  if (!Number.isInteger(limit) || limit < 1 || limit > MOST_ROWS)
    throw libraryFaults.wrong(`A page of ${limit} rows cannot be given.`, `Ask for 1 to ${MOST_ROWS}.`);
  return limit;
}

function sessionFrom(row: SessionRow): Session {
  return present<Session>({
    id: row.id,
    playerId: row.player_id,
    layoutId: row.layout_id,
    day: row.day,
    place: row.place,
    plan: row.plan_json === null ? undefined : (JSON.parse(row.plan_json) as SessionPlan),
    note: row.note,
    createdMs: row.created_ms,
  });
}

function rowPart(part: Partial<SessionDetails>): RowPart {
  return {
    ...(part.playerId === undefined ? {} : { player_id: part.playerId }),
    ...("layoutId" in part ? { layout_id: part.layoutId ?? null } : {}),
    ...(part.day === undefined ? {} : { day: checkedDay(part.day) }),
    ...("place" in part ? { place: part.place ?? null } : {}),
    ...("plan" in part ? { plan_json: part.plan === undefined ? null : JSON.stringify(part.plan) } : {}),
    ...("note" in part ? { note: part.note ?? null } : {}),
  };
}

/** Where a page ends: day and id, as one text. */
function cursorParts(after: string): readonly [string, string] {
  const [day = "", id = ""] = after.split("_");
  if (!DAY.test(day) || id === "")
    throw libraryFaults.wrong(`"${after}" is no place in the list.`, "Take the one that came with the page before.");
  return [day, id];
}

async function sessionLines(db: CatalogueDb, query: SessionQuery): ReturnType<Sessions["list"]> {
  const limit = pageLimit(query.limit);
  let wanted = db.selectFrom("sessions");
  if (query.playerId !== undefined) wanted = wanted.where("player_id", "=", query.playerId);
  if (query.fromDay !== undefined) wanted = wanted.where("day", ">=", checkedDay(query.fromDay));
  if (query.toDay !== undefined) wanted = wanted.where("day", "<=", checkedDay(query.toDay));
  const { total } = await wanted.select(db.fn.countAll<number>().as("total")).executeTakeFirstOrThrow();
  let page = wanted.innerJoin("players", "players.id", "sessions.player_id");
  if (query.after !== undefined) {
    const [day, id] = cursorParts(query.after);
    page = page.where((is) => is.or([is("day", "<", day), is.and([is("day", "=", day), is("sessions.id", "<", id)])]));
  }
  const rows = await page
    .select(["sessions.id", "sessions.player_id", "players.code", "sessions.day", "sessions.place"])
    .select(["sessions.layout_id", "sessions.plan_json"])
    .select((is) =>
      is
        .selectFrom("shots")
        .whereRef("shots.session_id", "=", "sessions.id")
        .where("shots.removed_ms", "is", null)
        .select(is.fn.countAll<number>().as("count"))
        .as("shot_count"),
    )
    .orderBy("sessions.day", "desc")
    .orderBy("sessions.id", "desc")
    .limit(limit + 1)
    .execute();
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return {
    total,
    rows: shown.map((row) =>
      present<SessionLine>({
        id: row.id,
        playerId: row.player_id,
        playerCode: row.code,
        day: row.day,
        place: row.place,
        layoutId: row.layout_id,
        asked: row.plan_json === null ? undefined : (JSON.parse(row.plan_json) as SessionPlan).asked,
        shotCount: row.shot_count ?? 0,
      }),
    ),
    ...(rows.length > limit && last ? { next: `${last.day}_${last.id}` } : {}),
  };
}

export function sessions(workshop: Workshop): Sessions {
  const { db } = workshop.catalogue;
  const byId = async (id: string): Promise<Session> => {
    const row = await db.selectFrom("sessions").selectAll().where("id", "=", id).executeTakeFirst();
    if (!row) throw libraryFaults.notThere("session", id);
    return sessionFrom(row);
  };
  const checkLayout = async (id: string | undefined): Promise<void> => {
    if (id === undefined) return;
    const layout = await db.selectFrom("plate_layouts").select("id").where("id", "=", id).executeTakeFirst();
    if (!layout) throw libraryFaults.notThere("plate layout", id);
  };
  return {
    byId,
    list: (query = {}) => sessionLines(db, query),
    add: async (details, by) => {
      await checkLayout(details.layoutId);
      const player = await db
        .selectFrom("players")
        .select("code")
        .where("id", "=", details.playerId)
        .executeTakeFirst();
      if (!player) throw libraryFaults.notThere("player", details.playerId);
      const id = workshop.newId();
      const insert = { id, ...rowPart(details), created_ms: Math.floor(workshop.clock()) };
      const words = {
        deed: `opened a session of ${player.code} on ${details.day}`,
        by,
        sessionId: id,
        playerId: details.playerId,
      };
      await deed(workshop, words, [{ table: "sessions", id, insert }]);
      return byId(id);
    },
    change: async (id, part, by) => {
      const { day, playerId } = await byId(id);
      await checkLayout(part.layoutId);
      if (part.playerId !== undefined && part.playerId !== playerId)
        throw libraryFaults.wrong(
          "A session keeps its player.",
          "Open a session for the other player and move the shots there.",
        );
      const what = part.plan === undefined ? "the session" : "the plan of the session";
      const words = { deed: `changed ${what} of ${day}`, by, sessionId: id, playerId };
      await deed(workshop, words, [{ table: "sessions", id, set: rowPart(part) }]);
      return byId(id);
    },
    remove: async (id, by) => {
      const { day, playerId } = await byId(id);
      const shots = await db
        .selectFrom("shots")
        .select(db.fn.countAll<number>().as("count"))
        .where("session_id", "=", id)
        .executeTakeFirstOrThrow();
      const checks = await db
        .selectFrom("plate_checks")
        .select(db.fn.countAll<number>().as("count"))
        .where("session_id", "=", id)
        .executeTakeFirstOrThrow();
      if (shots.count + checks.count > 0)
        throw libraryFaults.inUse(
          `The session of ${day}`,
          `it has ${shots.count} shots and ${checks.count} plate checks`,
        );
      await deed(workshop, { deed: `removed the session of ${day}`, by, sessionId: id, playerId }, [
        { table: "sessions", id, remove: true },
      ]);
    },
  };
}
