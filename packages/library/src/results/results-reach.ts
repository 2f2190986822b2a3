import type { CatalogueDb } from "../catalogue/catalogue.ts";

/** What would have to be computed again. */
export interface ResultsReach {
  /** In all, those without a session too. */
  readonly shots: number;
  /** The latest first. */
  readonly sessions: readonly {
    readonly id: string;
    readonly day: string;
    readonly playerCode: string;
    readonly shots: number;
  }[];
}

/** Every kept result hangs on the settings: how many shots have one, and in which sessions. */
export async function resultsReach(db: CatalogueDb): Promise<ResultsReach> {
  const computed = db
    .selectFrom("results")
    .innerJoin("shots", "shots.id", "results.id")
    .where("shots.removed_ms", "is", null);
  const { shots } = await computed.select((is) => is.fn.countAll<number>().as("shots")).executeTakeFirstOrThrow();
  const sessions = await computed
    .innerJoin("sessions", "sessions.id", "shots.session_id")
    .innerJoin("players", "players.id", "sessions.player_id")
    .select(["sessions.id", "sessions.day", "players.code as playerCode"])
    .select((is) => is.fn.countAll<number>().as("shots"))
    .groupBy(["sessions.id", "sessions.day", "players.code"])
    .orderBy("sessions.day", "desc")
    .orderBy("sessions.id", "desc")
    .execute();
  return { shots, sessions };
}
