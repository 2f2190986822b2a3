import { resolve } from "node:path";
import type { CatalogueDb, CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { FileSystem } from "../disk/file-system.ts";
import type { Workshop } from "../history/deed.ts";

/** Under this name the backups that were made by hand: where to look when a person is to be forgotten. */
const NOTED = "backupsMade";

async function noted(db: CatalogueDb | CatalogueTransaction): Promise<readonly string[]> {
  const row = await db.selectFrom("settings").select("value_json").where("id", "=", NOTED).executeTakeFirst();
  return row ? (JSON.parse(row.value_json) as string[]) : [];
}

/** Notes where a backup was written. No deed of a person: it stands in no history. */
export async function noteBackup({ catalogue }: Workshop, file: string): Promise<void> {
  await catalogue.change(async (trx) => {
    const value_json = JSON.stringify([...new Set([...(await noted(trx)), resolve(file)])]);
    await trx
      .insertInto("settings")
      .values({ id: NOTED, value_json })
      .onConflict((on) => on.column("id").doUpdateSet({ value_json }))
      .execute();
  });
}

/** Those that are still where they were written, or where nobody can tell, on a disk that does not answer. */
export async function notedBackups({ catalogue }: Workshop, files: FileSystem): Promise<readonly string[]> {
  const there: string[] = [];
  for (const file of await noted(catalogue.db)) {
    const isGone = await files.byteCount(file).then(
      (byteCount) => byteCount === undefined,
      () => false,
    );
    if (!isGone) there.push(file);
  }
  return there;
}
