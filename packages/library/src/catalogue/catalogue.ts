import { join } from "node:path";
import type { DatabaseSync } from "node:sqlite";
import { Kysely, sql, type Transaction } from "kysely";
import { Migrator } from "kysely/migration";
import { libraryFaults } from "../faults.ts";
import { postgresDialect } from "./catalogue-postgres.ts";
import { sqliteConnection } from "./catalogue-sqlite.ts";
import type { CatalogueTables } from "./catalogue-tables.ts";
import { migrations } from "./migrations.ts";

export type Engine = "sqlite" | "postgres";
export type CatalogueDb = Kysely<CatalogueTables>;
export type CatalogueTransaction = Transaction<CatalogueTables>;

/** The rows of a library, on either engine. */
export interface Catalogue {
  readonly engine: Engine;
  /** For people: the file, or the server's address without its password. */
  readonly place: string;
  readonly db: CatalogueDb;
  /** The embedded engine's own connection. */
  readonly raw: DatabaseSync | undefined;
  /** One transaction, one writer at a time on both engines: all of it stays or nothing. */
  change<T>(work: (trx: CatalogueTransaction) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

export const CATALOGUE_FILE = "catalogue.sqlite";

/** Any number, the same in every Underfoot: PostgreSQL's lock that lets one writer in at a time. */
const WRITER_LOCK = 4_870_321;

async function migrated(catalogue: Catalogue): Promise<Catalogue> {
  const steps = migrations(catalogue.engine);
  const migrator = new Migrator({ db: catalogue.db, provider: { getMigrations: async () => steps } });
  const done = await sql<{ name: string }>`select name from kysely_migration order by name desc limit 1`
    .execute(catalogue.db)
    .catch(() => undefined);
  const newest = done?.rows[0]?.name;
  if (newest !== undefined && newest in steps && newest === Object.keys(steps).at(-1)) return catalogue;
  if (newest !== undefined && !(newest in steps)) throw libraryFaults.newer(catalogue.place, newest);
  const { error } = await migrator.migrateToLatest();
  if (error !== undefined) throw error;
  return catalogue;
}

async function sqliteCatalogue(folder: string): Promise<Catalogue> {
  const place = join(folder, CATALOGUE_FILE);
  const { dialect, raw } = await sqliteConnection(place);
  const db: CatalogueDb = new Kysely<CatalogueTables>({ dialect });
  let isOpen = true;
  return {
    engine: "sqlite",
    place,
    db,
    raw,
    change: (work) => db.transaction().execute(work),
    close: async () => {
      if (isOpen) raw.close();
      isOpen = false;
    },
  };
}

function withoutPassword(url: string): string {
  if (!URL.canParse(url)) return "with that address";
  const { host, pathname } = new URL(url);
  return `${host}${pathname}`;
}

function postgresCatalogue(url: string): Catalogue {
  const place = withoutPassword(url);
  const db: CatalogueDb = new Kysely<CatalogueTables>({ dialect: postgresDialect(url, place) });
  return {
    engine: "postgres",
    place,
    db,
    raw: undefined,
    change: (work) =>
      db.transaction().execute(async (trx) => {
        await sql`select pg_advisory_xact_lock(${sql.lit(WRITER_LOCK)})`.execute(trx);
        return work(trx);
      }),
    close: () => db.destroy(),
  };
}

/** Opens the catalogue in a folder or on a server, and brings its tables up to date. */
export async function openCatalogue({
  folder,
  postgresUrl,
}: {
  readonly folder: string;
  readonly postgresUrl?: string | undefined;
}): Promise<Catalogue> {
  const catalogue = postgresUrl === undefined ? await sqliteCatalogue(folder) : postgresCatalogue(postgresUrl);
  try {
    if (postgresUrl !== undefined) {
      await sql`select 1`.execute(catalogue.db).catch((cause: unknown) => {
        throw libraryFaults.unreachable(catalogue.place, cause);
      });
    }
    return await migrated(catalogue);
  } catch (cause) {
    await catalogue.close();
    throw cause;
  }
}
