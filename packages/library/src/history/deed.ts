import { type RawBuilder, sql } from "kysely";
import type { Catalogue, CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { CatalogueTables, HistoryRow, TableName } from "../catalogue/catalogue-tables.ts";
import type { NewId } from "../catalogue/new-id.ts";
import type { ChangeFeed, LibraryChange } from "./change-feed.ts";

/** A row or a part of it, as it stands in the catalogue. */
export type RowPart = Readonly<Record<string, string | number | null>>;

/** One row put in, changed or taken out. */
export type RowStep =
  | { readonly table: TableName; readonly id: string; readonly insert: RowPart }
  | { readonly table: TableName; readonly id: string; readonly set: RowPart }
  | { readonly table: TableName; readonly id: string; readonly remove: true };

/** A step as the history keeps it: `null` where there was, or is, no such row; else the parts that differ. */
export interface RowChange {
  readonly table: TableName;
  readonly id: string;
  readonly before: RowPart | null;
  readonly after: RowPart | null;
}

/** What everything that changes rows needs. */
export interface Workshop {
  readonly catalogue: Catalogue;
  readonly feed: ChangeFeed;
  readonly newId: NewId;
  readonly clock: () => number;
  readonly who: string;
}

export interface DeedWords {
  /** In words, past tense: "labelled the shot a mishit". */
  readonly deed: string;
  readonly by: string | undefined;
  readonly shotId?: string | undefined;
  readonly sessionId?: string | undefined;
  readonly playerId?: string | undefined;
  readonly undoesId?: string;
}

export async function rowAt(trx: CatalogueTransaction, table: TableName, id: string): Promise<RowPart | undefined> {
  const { rows } = await sql<RowPart>`select * from ${sql.table(table)} where id = ${id}`.execute(trx);
  return rows[0];
}

async function insertRow(trx: CatalogueTransaction, table: TableName, row: RowPart): Promise<void> {
  const names = Object.keys(row);
  const columns = sql.join(names.map((name) => sql.ref(name)));
  const values = sql.join(names.map((name) => sql`${row[name] ?? null}`));
  await sql`insert into ${sql.table(table)} (${columns}) values (${values})`.execute(trx);
}

async function updateRow(trx: CatalogueTransaction, table: TableName, id: string, part: RowPart): Promise<void> {
  const sets: RawBuilder<unknown>[] = Object.entries(part).map(([name, value]) => sql`${sql.ref(name)} = ${value}`);
  if (sets.length > 0) await sql`update ${sql.table(table)} set ${sql.join(sets)} where id = ${id}`.execute(trx);
}

/** Puts one row into the state that `after` tells. */
export async function applyChange(trx: CatalogueTransaction, change: RowChange): Promise<void> {
  const { table, id, before, after } = change;
  if (after === null) await sql`delete from ${sql.table(table)} where id = ${id}`.execute(trx);
  else if (before === null) await insertRow(trx, table, { ...after, id });
  else await updateRow(trx, table, id, after);
}

/** What a step changes; undefined where it changes nothing. */
async function changeOf(trx: CatalogueTransaction, step: RowStep): Promise<RowChange | undefined> {
  const { table, id } = step;
  if ("insert" in step) return { table, id, before: null, after: step.insert };
  const row = await rowAt(trx, table, id);
  if ("remove" in step) return row && { table, id, before: { ...row }, after: null };
  const names = Object.keys(step.set).filter((name) => (row?.[name] ?? null) !== step.set[name]);
  if (names.length === 0) return undefined;
  const part = (from: RowPart | undefined): RowPart =>
    Object.fromEntries(names.map((name) => [name, from?.[name] ?? null]));
  return { table, id, before: part(row), after: part(step.set) };
}

/** Writes what a person did into the history. */
export async function writeHistory(
  trx: CatalogueTransaction,
  { newId, clock, who }: Workshop,
  words: DeedWords,
  changes: readonly RowChange[],
): Promise<string> {
  const row: HistoryRow = {
    id: newId(),
    made_ms: Math.floor(clock()),
    made_by: words.by ?? who,
    deed: words.deed,
    shot_id: words.shotId ?? null,
    session_id: words.sessionId ?? null,
    player_id: words.playerId ?? null,
    changes_json: JSON.stringify(changes),
    undoes_id: words.undoesId ?? null,
    undone_by_id: null,
  };
  await trx.insertInto("history").values(row).execute();
  return row.id;
}

/**
 * Carries out what a person did, row by row, and writes it into the history, within a transaction.
 *
 * @returns the id of the history's row; undefined where nothing changed
 */
export async function doDeed(
  trx: CatalogueTransaction,
  workshop: Workshop,
  words: DeedWords,
  steps: readonly RowStep[],
): Promise<string | undefined> {
  const changes: RowChange[] = [];
  for (const step of steps) {
    const change = await changeOf(trx, step);
    if (change === undefined) continue;
    await applyChange(trx, change);
    changes.push(change);
  }
  return changes.length === 0 ? undefined : writeHistory(trx, workshop, words, changes);
}

const KIND_OF: Partial<Record<keyof CatalogueTables, LibraryChange["kind"]>> = {
  players: "player",
  foot_outlines: "player",
  clubs: "club",
  plate_layouts: "layout",
  sessions: "session",
  plate_checks: "check",
  shots: "shot",
  shot_facts: "shot",
  results: "result",
  settings: "setting",
};

/** Whom a change of a table's row concerns. */
export function kindOf(table: TableName): LibraryChange["kind"] {
  return KIND_OF[table] ?? "shot";
}

/** One deed in a transaction of its own, told to whoever listens once it is on the disk. */
export async function deed(
  workshop: Workshop,
  words: DeedWords,
  steps: readonly RowStep[],
): Promise<string | undefined> {
  const historyId = await workshop.catalogue.change((trx) => doDeed(trx, workshop, words, steps));
  const [first] = steps;
  if (historyId !== undefined && first !== undefined) {
    workshop.feed.tell({
      kind: kindOf(first.table),
      id: first.id,
      deed: words.deed,
      ...(words.sessionId === undefined ? {} : { sessionId: words.sessionId }),
    });
  }
  return historyId;
}
