import type { EventName, Finding, ShotFacts, ShotResult } from "@underfoot/domain";
import type { ColumnMapping } from "@underfoot/formats";
import { type Mark, withMarks, withoutMarks } from "@underfoot/mechanics";
import type { CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { ShotRow } from "../catalogue/catalogue-tables.ts";
import { libraryFaults } from "../faults.ts";
import { type DeedWords, doDeed, type Workshop } from "../history/deed.ts";
import { type HistoryEntry, history } from "../history/undo.ts";
import { nextOrdinal } from "./import-recording.ts";
import { factColumns, type ShotLabel, withLabel } from "./shot-columns.ts";
import { findingFrom, settleCheckFindings } from "./shot-findings.ts";
import { factsFromJson, factsJson, ownerByCode } from "./shot-owner.ts";
import { foundShots, type ShotLine, type ShotPage, type ShotQuery, shotLine } from "./shot-query.ts";
import { type ShotWords, shotWords, type WordsQuery } from "./shot-words.ts";

/** A shot with all that is said about it. */
export interface StoredShot extends ShotLine {
  /** Absent where nobody has said them yet. */
  readonly facts?: ShotFacts;
  readonly mapping?: ColumnMapping;
  readonly findings: readonly Finding[];
}

export interface Shots {
  find(query?: ShotQuery): Promise<ShotPage>;
  /** Every intent, lie, club, contact and finding that occurs, with how many shots have it. */
  words(query?: WordsQuery): Promise<ShotWords>;
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

async function storedShot({ catalogue: { db } }: Workshop, id: string): Promise<StoredShot> {
  const row = await db
    .selectFrom("shots")
    .leftJoin("players", "players.id", "shots.player_id")
    .leftJoin("shot_facts", "shot_facts.id", "shots.id")
    .selectAll("shots")
    .select(["players.code as player_code", "facts_json", "mapping_json"])
    .where("shots.id", "=", id)
    .executeTakeFirst();
  if (!row) throw libraryFaults.notThere("shot", id);
  const findings = await db.selectFrom("findings").selectAll().where("shot_id", "=", id).orderBy("id").execute();
  return {
    ...shotLine(row),
    findings: findings.map(findingFrom),
    ...(row.facts_json === null ? {} : { facts: factsFromJson(row.facts_json, row.player_code) }),
    ...(row.mapping_json === null ? {} : { mapping: JSON.parse(row.mapping_json) as ColumnMapping }),
  };
}

/**
 * Changes the facts within one transaction, so that two people never overwrite each other unseen: the facts, every
 * column that follows from them, and the player where the facts name one for the first time.
 */
async function sayFacts(
  trx: CatalogueTransaction,
  workshop: Workshop,
  { id, deed, by }: { readonly id: string; readonly deed: string; readonly by: string | undefined },
  next: (facts: ShotFacts | undefined) => ShotFacts,
): Promise<DeedWords> {
  const row = await trx
    .selectFrom("shots")
    .leftJoin("players", "players.id", "shots.player_id")
    .leftJoin("shot_facts", "shot_facts.id", "shots.id")
    .select(["session_id", "player_id", "players.code", "facts_json"])
    .where("shots.id", "=", id)
    .executeTakeFirst();
  if (!row) throw libraryFaults.notThere("shot", id);
  const facts = next(row.facts_json === null ? undefined : factsFromJson(row.facts_json, row.code));
  const owner = row.player_id === null ? await ownerByCode(trx, workshop, facts) : undefined;
  const playerId = row.player_id ?? owner?.playerId ?? null;
  const words = { deed, by, shotId: id, sessionId: row.session_id ?? undefined, playerId: playerId ?? undefined };
  await doDeed(trx, workshop, words, [
    ...(owner?.newPlayer ? [owner.newPlayer] : []),
    { table: "shots", id, set: { ...factColumns(facts), player_id: playerId } },
    { table: "shot_facts", id, set: { facts_json: factsJson(facts, playerId) } },
  ]);
  return words;
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
  const said = async (
    id: string,
    deed: string,
    by: string | undefined,
    next: (facts: ShotFacts | undefined) => ShotFacts,
  ): Promise<StoredShot> => {
    told(id, await change((trx) => sayFacts(trx, workshop, { id, deed, by }, next)));
    return storedShot(workshop, id);
  };
  return {
    find: (query = {}) => foundShots(db, query),
    words: shotWords(workshop),
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
  const row = await trx.selectFrom("shots").select("session_id").where("id", "=", id).executeTakeFirst();
  if (!row) throw libraryFaults.notThere("shot", id);
  const session = await trx
    .selectFrom("sessions")
    .select(["player_id", "day"])
    .where("id", "=", sessionId)
    .executeTakeFirst();
  if (!session) throw libraryFaults.notThere("session", sessionId);
  const set: Pick<ShotRow, "session_id" | "player_id" | "ordinal" | "day"> = {
    session_id: sessionId,
    player_id: session.player_id,
    ordinal: await nextOrdinal(trx, sessionId),
    day: session.day,
  };
  const deed = `moved the shot to the session of ${session.day}`;
  const words = { deed, by, shotId: id, sessionId, playerId: session.player_id };
  await doDeed(trx, workshop, words, [{ table: "shots", id, set: { ...set } }]);
  for (const touched of [row.session_id, sessionId]) {
    if (touched !== null) await settleCheckFindings(trx, workshop.newId, { sessionId: touched });
  }
}
