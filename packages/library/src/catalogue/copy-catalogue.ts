import { sql } from "kysely";
import type { Catalogue, CatalogueDb } from "./catalogue.ts";
import { TABLE_NAMES, type TableName } from "./catalogue-tables.ts";

/** Rows of one statement; results are the widest with some 2 kB. */
const ROWS_AT_ONCE = 200;

type Row = Record<string, unknown> & { readonly id: string };

async function* pages(db: CatalogueDb, table: TableName): AsyncGenerator<readonly Row[]> {
  let after = "";
  for (;;) {
    const { rows } =
      await sql<Row>`select * from ${sql.table(table)} where id > ${after} order by id limit ${sql.lit(ROWS_AT_ONCE)}`.execute(
        db,
      );
    const last = rows.at(-1);
    if (last === undefined) return;
    yield rows;
    after = last.id;
  }
}

async function insertRows(db: CatalogueDb, table: TableName, rows: readonly Row[]): Promise<void> {
  const names = Object.keys(rows[0] ?? {});
  const values = rows.map((row) => sql`(${sql.join(names.map((name) => sql`${row[name]}`))})`);
  await sql`insert into ${sql.table(table)} (${sql.join(names.map((name) => sql.ref(name)))}) values ${sql.join(values)}`.execute(
    db,
  );
}

/** PostgreSQL plans badly until it has counted what was put in; by itself it does so only minutes later. */
export async function countedRows({ engine, db }: Catalogue): Promise<void> {
  if (engine === "postgres") await sql`analyze`.execute(db);
}

/** All rows of one catalogue into an empty one, whatever the engines: each table as it stood at one moment. */
export async function copyCatalogue(from: Catalogue, to: Catalogue): Promise<void> {
  await from.db
    .transaction()
    .setIsolationLevel("repeatable read")
    .execute((source) =>
      to.change(async (target) => {
        for (const table of TABLE_NAMES) {
          for await (const rows of pages(source, table)) await insertRows(target, table, rows);
        }
      }),
    );
  await countedRows(to);
}
