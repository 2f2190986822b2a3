import type { PlateFact, Vector } from "@underfoot/domain";
import type { PlateLayoutRow } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { deed, type Workshop } from "../history/deed.ts";

/** One plate as it lies, and what it stands. */
export interface LaidPlate {
  /** Number in the recordings, from 1. */
  readonly plate: number;
  readonly foot: PlateFact["foot"];
  /** Corners in the laboratory, m, in the order of the recordings. */
  readonly cornersM?: readonly Vector[];
  /** The load it is built for, N. */
  readonly ratedLoadN?: number;
  /** The tilt it is built for, degrees. */
  readonly ratedTiltDeg?: number;
  readonly calibration?: {
    /** YYYY-MM-DD. */
    readonly day: string;
    readonly gainSigma?: number;
    readonly crosstalkSigma?: number;
    readonly note?: string;
  };
  readonly note?: string;
}

export interface PlateLayoutDetails {
  readonly name: string;
  readonly plates: readonly LaidPlate[];
  readonly note?: string | undefined;
}

export interface PlateLayout extends PlateLayoutDetails {
  readonly id: string;
  readonly createdMs: number;
}

export interface PlateLayouts {
  list(): Promise<readonly PlateLayout[]>;
  byId(id: string): Promise<PlateLayout>;
  add(details: PlateLayoutDetails, by?: string): Promise<PlateLayout>;
  change(id: string, part: Partial<PlateLayoutDetails>, by?: string): Promise<PlateLayout>;
  /** @throws UnderfootError library-in-use while a session stands on it */
  remove(id: string, by?: string): Promise<void>;
}

function layoutFrom(row: PlateLayoutRow): PlateLayout {
  const plates = JSON.parse(row.plates_json) as LaidPlate[];
  return present<PlateLayout>({ id: row.id, name: row.name, plates, note: row.note, createdMs: row.created_ms });
}

export function plateLayouts(workshop: Workshop): PlateLayouts {
  const { db } = workshop.catalogue;
  const byId = async (id: string): Promise<PlateLayout> => {
    const row = await db.selectFrom("plate_layouts").selectAll().where("id", "=", id).executeTakeFirst();
    if (!row) throw libraryFaults.notThere("plate layout", id);
    return layoutFrom(row);
  };
  return {
    byId,
    list: async () =>
      (await db.selectFrom("plate_layouts").selectAll().orderBy("id", "desc").execute()).map(layoutFrom),
    add: async ({ name, plates, note }, by) => {
      const id = workshop.newId();
      const insert = {
        id,
        name,
        plates_json: JSON.stringify(plates),
        note: note ?? null,
        created_ms: Math.floor(workshop.clock()),
      };
      await deed(workshop, { deed: `added the plate layout ${name}`, by }, [{ table: "plate_layouts", id, insert }]);
      return byId(id);
    },
    change: async (id, part, by) => {
      const { name } = await byId(id);
      const set = {
        ...(part.name === undefined ? {} : { name: part.name }),
        ...(part.plates === undefined ? {} : { plates_json: JSON.stringify(part.plates) }),
        ...("note" in part ? { note: part.note ?? null } : {}),
      };
      await deed(workshop, { deed: `changed the plate layout ${name}`, by }, [{ table: "plate_layouts", id, set }]);
      return byId(id);
    },
    remove: async (id, by) => {
      const { name } = await byId(id);
      const inUse = await db
        .selectFrom("sessions")
        .select(db.fn.countAll<number>().as("count"))
        .where("layout_id", "=", id)
        .executeTakeFirstOrThrow();
      if (inUse.count > 0) throw libraryFaults.inUse(`The plate layout ${name}`, `${inUse.count} sessions stand on it`);
      await deed(workshop, { deed: `removed the plate layout ${name}`, by }, [
        { table: "plate_layouts", id, remove: true },
      ]);
    },
  };
}
