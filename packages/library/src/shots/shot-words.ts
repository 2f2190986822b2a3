import { sql } from "kysely";
import type { CatalogueDb } from "../catalogue/catalogue.ts";
import type { Workshop } from "../history/deed.ts";

/** A word that shots are found by, and how many have it. */
export interface CountedWord {
  readonly word: string;
  readonly shots: number;
}

/** Every word that occurs; the commonest first. Hidden shots are left out. */
export interface ShotWords {
  readonly intents: readonly CountedWord[];
  readonly lies: readonly CountedWord[];
  readonly clubs: readonly CountedWord[];
  readonly contacts: readonly CountedWord[];
  /** By the codes of findings. */
  readonly findings: readonly CountedWord[];
}

export interface WordsQuery {
  readonly playerId?: string;
}

const byCount = (a: CountedWord, b: CountedWord): number => b.shots - a.shots || (a.word < b.word ? -1 : 1);

const counted = (counts: ReadonlyMap<string, number>): readonly CountedWord[] =>
  [...counts]
    .filter(([, shots]) => shots > 0)
    .map(([word, shots]) => ({ word, shots }))
    .sort(byCount);

/** One walk over the shots for all their words. */
async function wordsOfShots(db: CatalogueDb, playerId: string | undefined): Promise<Omit<ShotWords, "findings">> {
  let shots = db.selectFrom("shots").where("removed_ms", "is", null);
  if (playerId !== undefined) shots = shots.where("player_id", "=", playerId);
  const rows = await shots
    .select(["intent", "lie_name", "club", "contact"])
    .select((is) => is.fn.countAll<number>().as("count"))
    .groupBy(["intent", "lie_name", "club", "contact"])
    .execute();
  const of = (column: "intent" | "lie_name" | "club" | "contact"): readonly CountedWord[] => {
    const counts = new Map<string, number>();
    for (const { count, [column]: word } of rows) if (word !== null) counts.set(word, (counts.get(word) ?? 0) + count);
    return counted(counts);
  };
  return { intents: of("intent"), lies: of("lie_name"), clubs: of("club"), contacts: of("contact") };
}

async function findingsOfPlayer(db: CatalogueDb, playerId: string): Promise<ReadonlyMap<string, number>> {
  const rows = await db
    .selectFrom("shots")
    .innerJoin("findings", "findings.shot_id", "shots.id")
    .where("shots.player_id", "=", playerId)
    .where("shots.removed_ms", "is", null)
    .select(["code", (is) => is.fn.count<number>("shot_id").distinct().as("count")])
    .groupBy("code")
    .execute();
  return new Map(rows.map(({ code, count }) => [code, count]));
}

/** Counted from the index of findings alone, less those of the few hidden shots. */
async function allFindings(db: CatalogueDb): Promise<ReadonlyMap<string, number>> {
  const shots = sql<number>`count(distinct shot_id)`.as("count");
  const all = await db.selectFrom("findings").select(["code", shots]).groupBy("code").execute();
  const hidden = await db
    .selectFrom("findings")
    .where("shot_id", "in", (is) => is.selectFrom("shots").select("id").where("removed_ms", "is not", null))
    .select(["code", shots])
    .groupBy("code")
    .execute();
  const less = new Map(hidden.map(({ code, count }) => [code, count]));
  return new Map(all.map(({ code, count }) => [code, count - (less.get(code) ?? 0)]));
}

async function wordsNow(db: CatalogueDb, { playerId }: WordsQuery): Promise<ShotWords> {
  const findings = playerId === undefined ? await allFindings(db) : await findingsOfPlayer(db, playerId);
  return { ...(await wordsOfShots(db, playerId)), findings: counted(findings) };
}

/**
 * The words of a library, counted anew only after something changed. The embedded engine tells whether another process
 * wrote; on a server that cannot be told for sure, so there they are counted each time.
 */
export function shotWords({ catalogue: { db, raw }, feed }: Workshop): (query?: WordsQuery) => Promise<ShotWords> {
  const kept = new Map<string, { readonly state: string; readonly words: Promise<ShotWords> }>();
  let changes = 0;
  feed.subscribe(() => changes++);
  const version = raw?.prepare("pragma data_version");
  return (query = {}) => {
    if (version === undefined) return wordsNow(db, query);
    const state = `${changes} ${version.get()?.["data_version"]}`;
    const key = query.playerId ?? "";
    const known = kept.get(key);
    if (known?.state === state) return known.words;
    const words = wordsNow(db, query);
    for (const [other, { state: old }] of kept) if (old !== state) kept.delete(other);
    kept.set(key, { state, words });
    words.catch(() => kept.delete(key));
    return words;
  };
}
