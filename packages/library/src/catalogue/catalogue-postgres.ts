import { PostgresDialect } from "kysely";
import pg from "pg";

/** Connections of one library; PostgreSQL allows 100 by default for all together. */
const CONNECTIONS = 4;

/** The catalogue on a PostgreSQL server, for bays and offices that share one library. */
export function postgresDialect(url: string): PostgresDialect {
  const types = {
    // bigint arrives as text, to save what a number cannot hold; ours are ms, bytes and counts, far below 2^53.
    getTypeParser: (oid: number, format?: "text" | "binary") =>
      oid === pg.types.builtins.INT8 ? Number : pg.types.getTypeParser(oid, format),
  } as pg.CustomTypesConfig;
  const pool = new pg.Pool({ connectionString: url, max: CONNECTIONS, types });
  // A server that goes away while nobody asks: the next question tells it.
  pool.on("error", () => undefined);
  return new PostgresDialect({ pool });
}
