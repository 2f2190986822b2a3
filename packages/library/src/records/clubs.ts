import type { ClubRow } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { deed, type Workshop } from "../history/deed.ts";

export interface ClubDetails {
  /** As it stands in a shot's facts, for example "58". */
  readonly name: string;
  readonly loftDeg?: number | undefined;
  readonly note?: string | undefined;
}

export interface Club extends ClubDetails {
  readonly id: string;
  readonly createdMs: number;
}

export interface Clubs {
  list(): Promise<readonly Club[]>;
  byId(id: string): Promise<Club>;
  add(details: ClubDetails, by?: string): Promise<Club>;
  change(id: string, part: Partial<ClubDetails>, by?: string): Promise<Club>;
  /** Shots keep the club's name in their facts. */
  remove(id: string, by?: string): Promise<void>;
}

function clubFrom(row: ClubRow): Club {
  return present<Club>({
    id: row.id,
    name: row.name,
    loftDeg: row.loft_deg,
    note: row.note,
    createdMs: row.created_ms,
  });
}

export function clubs(workshop: Workshop): Clubs {
  const { db } = workshop.catalogue;
  const byId = async (id: string): Promise<Club> => {
    const row = await db.selectFrom("clubs").selectAll().where("id", "=", id).executeTakeFirst();
    if (!row) throw libraryFaults.notThere("club", id);
    return clubFrom(row);
  };
  const checkTaken = async (name: string, id?: string): Promise<void> => {
    if (name.trim() === "") throw libraryFaults.wrong("A club needs a name.", "Give it one, for example 58.");
    const other = await db.selectFrom("clubs").select("id").where("name", "=", name).executeTakeFirst();
    if (other && other.id !== id) throw libraryFaults.taken("club", name);
  };
  return {
    byId,
    list: async () => (await db.selectFrom("clubs").selectAll().orderBy("name").execute()).map(clubFrom),
    add: async ({ name, loftDeg, note }, by) => {
      await checkTaken(name);
      const id = workshop.newId();
      const insert = {
        id,
        name,
        loft_deg: loftDeg ?? null,
        note: note ?? null,
        created_ms: Math.floor(workshop.clock()),
      };
      await deed(workshop, { deed: `added the club ${name}`, by }, [{ table: "clubs", id, insert }]);
      return byId(id);
    },
    change: async (id, part, by) => {
      const { name } = await byId(id);
      if (part.name !== undefined) await checkTaken(part.name, id);
      const set = {
        ...(part.name === undefined ? {} : { name: part.name }),
        ...("loftDeg" in part ? { loft_deg: part.loftDeg ?? null } : {}),
        ...("note" in part ? { note: part.note ?? null } : {}),
      };
      await deed(workshop, { deed: `changed the club ${name}`, by }, [{ table: "clubs", id, set }]);
      return byId(id);
    },
    remove: async (id, by) => {
      const { name } = await byId(id);
      await deed(workshop, { deed: `removed the club ${name}`, by }, [{ table: "clubs", id, remove: true }]);
    },
  };
}
