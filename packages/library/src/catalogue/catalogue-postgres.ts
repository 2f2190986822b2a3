import { PostgresDialect, type PostgresPool, type PostgresPoolClient } from "kysely";
import pg from "pg";
import { postgresFault } from "../faults.ts";

/** Connections of one library; PostgreSQL allows 100 by default for all together. */
const CONNECTIONS = 4;

/** How long a server may take to answer a first call, and a writer to wait for another, ms. */
const CONNECT_MS = 5000;
const LOCK_MS = 5000;

const types = {
  // bigint arrives as text, to save what a number cannot hold; ours are ms, bytes and counts, far below 2^53.
  getTypeParser: (oid: number, format?: "text" | "binary") =>
    oid === pg.types.builtins.INT8 ? Number : pg.types.getTypeParser(oid, format),
} as pg.CustomTypesConfig;

/** The client with faults as sentences. */
function told(client: pg.PoolClient, place: string): PostgresPoolClient {
  const query = async (...asked: unknown[]): Promise<unknown> => {
    try {
      return await (client.query as (...asked: unknown[]) => Promise<unknown>)(...asked);
    } catch (cause) {
      throw postgresFault(place, cause);
    }
  };
  // A connection that breaks tells its query, and by this event everybody else: once is enough.
  const heard = (): void => undefined;
  client.on("error", heard);
  const release = (): void => {
    client.removeListener("error", heard);
    client.release();
  };
  return { query: query as PostgresPoolClient["query"], release };
}

/** The catalogue on a PostgreSQL server, for bays and offices that share one library; faults as sentences. */
export function postgresDialect(url: string, place: string): PostgresDialect {
  const pool = new pg.Pool({
    ...{ connectionString: url, max: CONNECTIONS, types },
    ...{ connectionTimeoutMillis: CONNECT_MS, lock_timeout: LOCK_MS },
  });
  // A server that goes away while nobody asks: the next question tells it.
  pool.on("error", () => undefined);
  const toldPool: PostgresPool = {
    connect: async () => {
      try {
        return told(await pool.connect(), place);
      } catch (cause) {
        throw postgresFault(place, cause);
      }
    },
    end: () => pool.end(),
    options: pool.options,
  };
  return new PostgresDialect({ pool: toldPool });
}
