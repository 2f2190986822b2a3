import { join } from "node:path";
import { DEFAULT_SETTINGS, type Settings } from "@underfoot/mechanics";
import { deed, type Workshop } from "../history/deed.ts";

/** Under this name the settings that every result hangs on. */
const MECHANICS = "mechanics";

const BACKUP_FOLDER = "backupFolder";

export interface LibrarySettings {
  /** Undefined where nothing was set. */
  read(name: string): Promise<unknown>;
  all(): Promise<Readonly<Record<string, unknown>>>;
  /** Undefined takes it away: the default stands again. */
  set(name: string, value: unknown, by?: string): Promise<void>;
  /** Where the daily backups go: as set under "backupFolder", else `backups` in the library's folder. */
  backupFolder(library: string): Promise<string>;
  /** The defaults with what was set in this library. */
  mechanics(): Promise<Settings>;
  /** Results computed with others are no longer current until recomputed. */
  setMechanics(part: Partial<Settings>, by?: string): Promise<Settings>;
}

export function librarySettings(workshop: Workshop): LibrarySettings {
  const { db } = workshop.catalogue;
  const read = async (name: string): Promise<unknown> => {
    const row = await db.selectFrom("settings").select("value_json").where("id", "=", name).executeTakeFirst();
    return row && (JSON.parse(row.value_json) as unknown);
  };
  const set = async (name: string, value: unknown, by?: string): Promise<void> => {
    const row = await db.selectFrom("settings").select("id").where("id", "=", name).executeTakeFirst();
    if (value === undefined) {
      if (row)
        await deed(workshop, { deed: `set ${name} back to its default`, by }, [
          { table: "settings", id: name, remove: true },
        ]);
      return;
    }
    const value_json = JSON.stringify(value);
    const step = row ? { set: { value_json } } : { insert: { id: name, value_json } };
    await deed(workshop, { deed: `set ${name}`, by }, [{ table: "settings", id: name, ...step }]);
  };
  const mechanics = async (): Promise<Settings> => ({
    ...DEFAULT_SETTINGS,
    ...((await read(MECHANICS)) as Partial<Settings> | undefined),
  });
  return {
    read,
    set,
    mechanics,
    backupFolder: async (library) => {
      const set = await read(BACKUP_FOLDER);
      return typeof set === "string" && set !== "" ? set : join(library, "backups");
    },
    all: async () => {
      const rows = await db.selectFrom("settings").selectAll().orderBy("id").execute();
      return Object.fromEntries(rows.map(({ id, value_json }) => [id, JSON.parse(value_json) as unknown]));
    },
    setMechanics: async (part, by) => {
      const changed = { ...((await read(MECHANICS)) as Partial<Settings> | undefined), ...part };
      await set(MECHANICS, changed, by);
      return mechanics();
    },
  };
}
