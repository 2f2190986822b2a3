import type { CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { HistoryRow, TableName } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { settleCheckFindings } from "../shots/shot-findings.ts";
import { applyChange, kindOf, type RowChange, rowAt, type Workshop, writeHistory } from "./deed.ts";

/** One thing that a person did. */
export interface HistoryEntry {
  readonly id: string;
  readonly madeMs: number;
  readonly by: string;
  /** Past tense: "labelled the shot a mishit". */
  readonly deed: string;
  readonly shotId?: string;
  readonly sessionId?: string;
  readonly playerId?: string;
  readonly changes: readonly RowChange[];
  /** The entry that this one undid. */
  readonly undoesId?: string;
  /** The entry that undid this one. */
  readonly undoneById?: string;
}

function historyEntry(row: HistoryRow): HistoryEntry {
  return present<HistoryEntry>({
    id: row.id,
    madeMs: row.made_ms,
    by: row.made_by,
    deed: row.deed,
    shotId: row.shot_id,
    sessionId: row.session_id,
    playerId: row.player_id,
    changes: JSON.parse(row.changes_json) as RowChange[],
    undoesId: row.undoes_id,
    undoneById: row.undone_by_id,
  });
}

/** Refuses where the row is no longer as the change left it. */
async function checkUnchanged(trx: CatalogueTransaction, change: RowChange, deed: string): Promise<void> {
  const row = await rowAt(trx, change.table, change.id);
  if (change.after === null) {
    if (row !== undefined) throw libraryFaults.changedSince(`what is behind "${deed}"`);
    return;
  }
  for (const [name, value] of Object.entries(change.after)) {
    if (row === undefined || (row[name] ?? null) !== value)
      throw libraryFaults.changedSince(`what is behind "${deed}"`);
  }
}

/** A row that others name cannot be taken out again. */
const NAMED_BY: Partial<Record<TableName, readonly (readonly [TableName, string])[]>> = {
  players: [
    ["sessions", "player_id"],
    ["shots", "player_id"],
    ["foot_outlines", "player_id"],
  ],
  plate_layouts: [["sessions", "layout_id"]],
  sessions: [
    ["shots", "session_id"],
    ["plate_checks", "session_id"],
  ],
};

async function checkUnnamed(trx: CatalogueTransaction, { table, id, before }: RowChange, deed: string): Promise<void> {
  if (before !== null) return;
  for (const [other, column] of NAMED_BY[table] ?? []) {
    const { dynamic } = trx;
    const row = await trx
      .selectFrom(other)
      .select("id")
      .where(dynamic.ref(column), "=", id)
      .limit(1)
      .executeTakeFirst();
    if (row)
      throw libraryFaults.inUse(`What is behind "${deed}"`, `other entries (${other.replace("_", " ")}) belong to it`);
  }
}

/** Sessions whose plate checks, or the shots they leave findings on, were touched. */
async function settleAfter(
  trx: CatalogueTransaction,
  workshop: Workshop,
  row: HistoryRow,
  changes: readonly RowChange[],
): Promise<void> {
  const touched = new Set<string>();
  const isAboutChecks = changes.some(
    ({ table, before, after }) =>
      table === "plate_checks" ||
      (table === "shots" && ("session_id" in (before ?? {}) || "session_id" in (after ?? {}))),
  );
  if (!isAboutChecks) return;
  if (row.session_id !== null) touched.add(row.session_id);
  for (const { before, after } of changes) {
    for (const part of [before, after]) if (typeof part?.["session_id"] === "string") touched.add(part["session_id"]);
  }
  for (const sessionId of touched) await settleCheckFindings(trx, workshop.newId, { sessionId });
}

async function undoRow(trx: CatalogueTransaction, workshop: Workshop, historyId: string, by: string | undefined) {
  const row = await trx.selectFrom("history").selectAll().where("id", "=", historyId).executeTakeFirst();
  if (!row) throw libraryFaults.notThere("change", historyId);
  if (row.undone_by_id !== null) throw libraryFaults.alreadyUndone();
  const changes = JSON.parse(row.changes_json) as RowChange[];
  const back = changes
    .toReversed()
    .map((change): RowChange => ({ ...change, before: change.after, after: change.before }));
  for (const change of back) {
    await checkUnchanged(trx, { ...change, after: change.before }, row.deed);
    if (change.after === null) await checkUnnamed(trx, { ...change, before: null }, row.deed);
    await applyChange(trx, change);
  }
  await settleAfter(trx, workshop, row, back);
  const id = await writeHistory(
    trx,
    workshop,
    {
      deed: `undid: ${row.deed}`,
      by,
      shotId: row.shot_id ?? undefined,
      sessionId: row.session_id ?? undefined,
      playerId: row.player_id ?? undefined,
      undoesId: historyId,
    },
    back,
  );
  await trx.updateTable("history").set({ undone_by_id: id }).where("id", "=", historyId).execute();
  return { id, row, first: back[0] };
}

/**
 * Takes back one thing a person did. Undoing the undoing brings it back.
 *
 * @returns the id of the new entry in the history
 * @throws UnderfootError library-changed-since, library-already-undone, library-in-use
 */
export async function undo(workshop: Workshop, historyId: string, by?: string): Promise<string> {
  const { id, row, first } = await workshop.catalogue.change((trx) => undoRow(trx, workshop, historyId, by));
  workshop.feed.tell({
    kind: first === undefined ? "shot" : kindOf(first.table),
    id: first?.id ?? row.shot_id ?? "",
    deed: `undid: ${row.deed}`,
    ...(row.session_id === null ? {} : { sessionId: row.session_id }),
  });
  return id;
}

export interface HistoryQuery {
  readonly shotId?: string;
  readonly sessionId?: string;
  readonly playerId?: string;
  readonly limit?: number;
}

/** What people did, the latest first. */
export async function history(
  workshop: Workshop,
  { shotId, sessionId, playerId, limit = 100 }: HistoryQuery,
): Promise<readonly HistoryEntry[]> {
  let rows = workshop.catalogue.db.selectFrom("history").selectAll();
  if (shotId !== undefined) rows = rows.where("shot_id", "=", shotId);
  if (sessionId !== undefined) rows = rows.where("session_id", "=", sessionId);
  if (playerId !== undefined) rows = rows.where("player_id", "=", playerId);
  return (await rows.orderBy("id", "desc").limit(limit).execute()).map(historyEntry);
}
