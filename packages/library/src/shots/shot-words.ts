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

const counted = (counts: Counts): readonly CountedWord[] =>
  [...counts]
    .filter(([, shots]) => shots > 0)
    .map(([word, shots]) => ({ word, shots }))
    .sort(byCount);

const COLUMNS = ["intent", "lie_name", "club", "contact"] as const;
type Column = (typeof COLUMNS)[number];
/** How many shots have each word of a column. */
type Counts = ReadonlyMap<string, number>;

function counts(words: Iterable<string | null>): Counts {
  const found = new Map<string, number>();
  for (const word of words) if (word !== null) found.set(word, (found.get(word) ?? 0) + 1);
  return found;
}

const less = (all: Counts, hidden: Counts): Counts =>
  new Map([...all].map(([word, shots]) => [word, shots - (hidden.get(word) ?? 0)]));

const wordsFrom = (of: (column: Column) => Counts, findings: Counts): ShotWords => ({
  intents: counted(of("intent")),
  lies: counted(of("lie_name")),
  clubs: counted(of("club")),
  contacts: counted(of("contact")),
  findings: counted(findings),
});

const distinctShots = sql<number>`count(distinct shot_id)`.as("count");

async function wordsOfPlayer(db: CatalogueDb, playerId: string): Promise<ShotWords> {
  const shots = db.selectFrom("shots").where("player_id", "=", playerId).where("removed_ms", "is", null);
  const rows = await shots.select(COLUMNS).execute();
  const findings = await shots
    .innerJoin("findings", "findings.shot_id", "shots.id")
    .select(["code", distinctShots])
    .groupBy("code")
    .execute();
  return wordsFrom(
    (column) => counts(rows.map((row) => row[column])),
    new Map(findings.map(({ code, count }) => [code, count])),
  );
}

/**
 * Counted from the indexes alone, less what the few hidden shots have: a fifth of the time that walking over the shots
 * takes (bench library).
 */
async function wordsOfAll(db: CatalogueDb): Promise<ShotWords> {
  const hidden = await db
    .selectFrom("shots")
    .where("removed_ms", "is not", null)
    .select(["id", ...COLUMNS])
    .execute();
  const found = new Map<Column, Counts>();
  for (const column of COLUMNS) {
    const rows = await db
      .selectFrom("shots")
      .where(column, "is not", null)
      .select([sql<string>`${sql.ref(column)}`.as("word"), (is) => is.fn.countAll<number>().as("count")])
      .groupBy(column)
      .execute();
    const all = new Map(rows.map(({ word, count }) => [word, count]));
    found.set(column, less(all, counts(hidden.map((row) => row[column]))));
  }
  const findings = await db.selectFrom("findings").select(["code", distinctShots]).groupBy("code").execute();
  const ofHidden = await db
    .selectFrom("findings")
    .where("shot_id", "in", (is) => is.selectFrom("shots").select("id").where("removed_ms", "is not", null))
    .select(["code", distinctShots])
    .groupBy("code")
    .execute();
  const asMap = (rows: typeof findings): Counts => new Map(rows.map(({ code, count }) => [code, count]));
  return wordsFrom((column) => found.get(column) ?? new Map(), less(asMap(findings), asMap(ofHidden)));
}

const wordsNow = (db: CatalogueDb, { playerId }: WordsQuery): Promise<ShotWords> =>
  playerId === undefined ? wordsOfAll(db) : wordsOfPlayer(db, playerId);

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
