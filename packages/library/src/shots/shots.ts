import type { EventName, Finding, ShotFacts, ShotResult } from "@underfoot/domain";
import type { ColumnMapping } from "@underfoot/formats";
import { type Mark, withMarks, withoutMarks } from "@underfoot/mechanics";
import type { CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { ShotRow } from "../catalogue/catalogue-tables.ts";
import { libraryFaults } from "../faults.ts";
import { type DeedWords, doDeed, type RowStep, type Workshop } from "../history/deed.ts";
import { type HistoryEntry, history } from "../history/undo.ts";
import { nextOrdinal } from "./import-recording.ts";
import { factColumns, type ShotLabel, withLabel } from "./shot-columns.ts";
import { findingFrom, settleCheckFindings } from "./shot-findings.ts";
import { foundShots, type ShotLine, type ShotPage, type ShotQuery, shotLine } from "./shot-query.ts";

/** A shot with all that is said about it. */
export interface StoredShot extends ShotLine {
  /** Absent where nobody has said them yet. */
  readonly facts?: ShotFacts;
  readonly mapping?: ColumnMapping;
  readonly findings: readonly Finding[];
}

export interface Shots {
  find(query?: ShotQuery): Promise<ShotPage>;
  byId(id: string): Promise<StoredShot>;
  /** The latest first. */
  history(id: string): Promise<readonly HistoryEntry[]>;
  /** Facts said for the first time, or corrected; all of them at once. */
  say(id: string, facts: ShotFacts, by?: string): Promise<StoredShot>;
  label(id: string, label: ShotLabel, by?: string): Promise<StoredShot>;
  /** What became of the ball; undefined takes it back. */
  result(id: string, result: ShotResult | undefined, by?: string): Promise<StoredShot>;
  note(id: string, note: string | undefined, by?: string): Promise<StoredShot>;
  /** Events marked on the video; they win over earlier marks of the same events. */
  mark(id: string, marks: readonly Mark[], by?: string): Promise<StoredShot>;
  unmark(id: string, events: readonly EventName[], by?: string): Promise<StoredShot>;
  /** Into a session, at its end, and to its player. */
  move(id: string, sessionId: string, by?: string): Promise<StoredShot>;
  /** Undoes the latest change of this shot that still stands; never its import. Undefined: there is none. */
  undoLast(id: string): Promise<HistoryEntry | undefined>;
}

const LABEL_WORDS: Readonly<Record<ShotLabel, string>> = {
  kept: "kept the shot",
  mishit: "labelled the shot a mishit",
  "set-aside": "set the shot aside",
};

async function storedShot(workshop: Workshop, id: string): Promise<StoredShot> {
  const { db } = workshop.catalogue;
  const row = await db.selectFrom("shots").selectAll().where("id", "=", id).executeTakeFirst();
  if (!row) throw libraryFaults.notThere("shot", id);
  const said = await db.selectFrom("shot_facts").selectAll().where("id", "=", id).executeTakeFirst();
  const findings = await db.selectFrom("findings").selectAll().where("shot_id", "=", id).orderBy("id").execute();
  return {
    ...shotLine(row),
    findings: findings.map(findingFrom),
    ...(said?.facts_json ? { facts: JSON.parse(said.facts_json) as ShotFacts } : {}),
    ...(said?.mapping_json ? { mapping: JSON.parse(said.mapping_json) as ColumnMapping } : {}),
  };
}

/** The steps that set a shot's facts: the facts themselves and every column that follows from them. */
function factSteps(id: string, facts: ShotFacts): readonly RowStep[] {
  return [
    { table: "shots", id, set: { ...factColumns(facts) } },
    { table: "shot_facts", id, set: { facts_json: JSON.stringify(facts) } },
  ];
}

function known(facts: ShotFacts | undefined): ShotFacts {
  if (facts !== undefined) return facts;
  throw libraryFaults.wrong(
    "Nobody has said hand, target and feet of this shot yet.",
    "Say the facts of the shot first, then this.",
  );
}

export function shots(workshop: Workshop, undoEntry: (id: string) => Promise<string>): Shots {
  const { db, change } = workshop.catalogue;
  const told = (id: string, { deed, sessionId }: DeedWords): void =>
    workshop.feed.tell({ kind: "shot", id, deed, ...(sessionId === undefined ? {} : { sessionId }) });
  /** Changes the facts within one transaction, so that two people never overwrite each other unseen. */
  const said = async (
    id: string,
    deed: string,
    by: string | undefined,
    next: (facts: ShotFacts | undefined) => ShotFacts,
  ): Promise<StoredShot> => {
    const words = await change(async (trx): Promise<DeedWords> => {
      const row = await trx
        .selectFrom("shots")
        .select(["session_id", "player_id"])
        .where("id", "=", id)
        .executeTakeFirst();
      if (!row) throw libraryFaults.notThere("shot", id);
      const before = await trx.selectFrom("shot_facts").select("facts_json").where("id", "=", id).executeTakeFirst();
      const facts = next(before?.facts_json ? (JSON.parse(before.facts_json) as ShotFacts) : undefined);
      const about: DeedWords = {
        deed,
        by,
        shotId: id,
        sessionId: row.session_id ?? undefined,
        playerId: row.player_id ?? undefined,
      };
      await doDeed(trx, workshop, about, factSteps(id, facts));
      return about;
    });
    told(id, words);
    return storedShot(workshop, id);
  };
  return {
    find: (query = {}) => foundShots(db, query),
    byId: (id) => storedShot(workshop, id),
    history: (shotId) => history(workshop, { shotId }),
    say: (id, facts, by) => said(id, "corrected the facts of the shot", by, () => facts),
    label: (id, label, by) => said(id, LABEL_WORDS[label], by, (facts) => withLabel(known(facts), label)),
    result: (id, result, by) =>
      said(id, result === undefined ? "took back the result" : "gave the result", by, (facts) => {
        const { result: _, ...others } = known(facts);
        return result === undefined ? others : { ...others, result };
      }),
    note: (id, note, by) =>
      said(id, "changed the note", by, (facts) => {
        const { note: _, ...others } = known(facts);
        return note === undefined || note === "" ? others : { ...others, note };
      }),
    mark: (id, marks, by) =>
      said(id, `marked ${marks.map(({ event }) => event).join(", ")}`, by, (facts) => withMarks(known(facts), marks)),
    unmark: (id, events, by) =>
      said(id, `took back the mark of ${events.join(", ")}`, by, (facts) => withoutMarks(known(facts), events)),
    move: async (id, sessionId, by) => {
      await change((trx) => moveShot(trx, workshop, { id, sessionId, by }));
      told(id, { deed: "moved the shot", by, sessionId });
      return storedShot(workshop, id);
    },
    undoLast: async (id) => {
      const last = (await history(workshop, { shotId: id })).find(isUndoneNext);
      if (last === undefined) return undefined;
      await undoEntry(last.id);
      return last;
    },
  };
}

function isUndoneNext({ undoneById, undoesId, changes }: HistoryEntry): boolean {
  const isImport = changes.some(({ before }) => before !== null && "removed_ms" in before);
  return undoneById === undefined && undoesId === undefined && !isImport;
}

async function moveShot(
  trx: CatalogueTransaction,
  workshop: Workshop,
  { id, sessionId, by }: { readonly id: string; readonly sessionId: string; readonly by: string | undefined },
): Promise<void> {
  const row = await trx.selectFrom("shots").select(["session_id", "player_id"]).where("id", "=", id).executeTakeFirst();
  if (!row) throw libraryFaults.notThere("shot", id);
  const session = await trx
    .selectFrom("sessions")
    .innerJoin("players", "players.id", "sessions.player_id")
    .select(["player_id", "day", "code"])
    .where("sessions.id", "=", sessionId)
    .executeTakeFirst();
  if (!session) throw libraryFaults.notThere("session", sessionId);
  const set: Pick<ShotRow, "session_id" | "player_id" | "ordinal" | "day"> = {
    session_id: sessionId,
    player_id: session.player_id,
    ordinal: await nextOrdinal(trx, sessionId),
    day: session.day,
  };
  const said = await trx.selectFrom("shot_facts").select("facts_json").where("id", "=", id).executeTakeFirst();
  const facts = said?.facts_json ? (JSON.parse(said.facts_json) as ShotFacts) : undefined;
  const words = {
    deed: `moved the shot to the session of ${session.day}`,
    by,
    shotId: id,
    sessionId,
    playerId: session.player_id,
  };
  await doDeed(trx, workshop, words, [
    { table: "shots", id, set: { ...set } },
    ...(facts ? factSteps(id, { ...facts, player: session.code }) : []),
  ]);
  for (const touched of [row.session_id, sessionId]) {
    if (touched !== null) await settleCheckFindings(trx, workshop.newId, { sessionId: touched });
  }
}
