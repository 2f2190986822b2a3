import type { FootOutlineFact, Handed } from "@underfoot/domain";
import type { FootOutlineRow, PlayerRow } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { deed, type RowPart, type Workshop } from "../history/deed.ts";

/** study: may be counted and exported; report: shown to player and coach; none: nothing was agreed. */
export type Consent = "study" | "report" | "none";
export type Pronoun = "she" | "he" | "they";

export interface PlayerDetails {
  /** A short pseudonym, such as P01: what leaves this machine. */
  readonly code: string;
  readonly name?: string | undefined;
  readonly handed: Handed;
  readonly pronoun: Pronoun;
  readonly massKg?: number | undefined;
  readonly consent: Consent;
  /** YYYY-MM-DD. */
  readonly consentDay?: string | undefined;
  readonly notes?: string | undefined;
  readonly shoes?: string | undefined;
}

export interface Player extends PlayerDetails {
  readonly id: string;
  readonly createdMs: number;
}

/** A traced foot of a player, and in which shoes. */
export interface PlayerOutline {
  readonly id: string;
  readonly playerId: string;
  readonly shoes?: string;
  readonly outline: FootOutlineFact;
  readonly createdMs: number;
}

export interface Players {
  list(): Promise<readonly Player[]>;
  /** @throws UnderfootError library-not-there */
  byId(id: string): Promise<Player>;
  byCode(code: string): Promise<Player | undefined>;
  /** @throws UnderfootError library-taken: the code is another player's */
  add(details: PlayerDetails, by?: string): Promise<Player>;
  change(id: string, part: Partial<PlayerDetails>, by?: string): Promise<Player>;
  /** Newest first. */
  outlines(playerId: string): Promise<readonly PlayerOutline[]>;
  addOutline(
    playerId: string,
    outline: FootOutlineFact,
    options?: { readonly shoes?: string; readonly by?: string },
  ): Promise<PlayerOutline>;
}

const COLUMN_OF = {
  code: "code",
  name: "name",
  handed: "handed",
  pronoun: "pronoun",
  massKg: "mass_kg",
  consent: "consent",
  consentDay: "consent_day",
  notes: "notes",
  shoes: "shoes",
} as const satisfies Record<keyof PlayerDetails, keyof PlayerRow>;

function playerFrom(row: PlayerRow): Player {
  return present<Player>({
    id: row.id,
    code: row.code,
    name: row.name,
    handed: row.handed as Handed,
    pronoun: row.pronoun as Pronoun,
    massKg: row.mass_kg,
    consent: row.consent as Consent,
    consentDay: row.consent_day,
    notes: row.notes,
    shoes: row.shoes,
    createdMs: row.created_ms,
  });
}

function rowPart(part: Partial<PlayerDetails>): RowPart {
  const names = Object.keys(COLUMN_OF) as (keyof PlayerDetails)[];
  return Object.fromEntries(names.filter((name) => name in part).map((name) => [COLUMN_OF[name], part[name] ?? null]));
}

function outlineFrom(row: FootOutlineRow): PlayerOutline {
  return present<PlayerOutline>({
    id: row.id,
    playerId: row.player_id,
    shoes: row.shoes,
    outline: JSON.parse(row.outline_json) as FootOutlineFact,
    createdMs: row.created_ms,
  });
}

/** A code must be there, and fit one line. */
function checkedCode(code: string): void {
  if (code.trim() === "" || code.length > 40 || /[\n\r]/.test(code))
    throw libraryFaults.wrong(`"${code}" is no player code.`, "Give 1 to 40 characters on one line, for example P01.");
}

export function players(workshop: Workshop): Players {
  const { db } = workshop.catalogue;
  const rowsByCode = (code: string) => db.selectFrom("players").selectAll().where("code", "=", code).executeTakeFirst();
  const byId = async (id: string): Promise<Player> => {
    const row = await db.selectFrom("players").selectAll().where("id", "=", id).executeTakeFirst();
    if (!row) throw libraryFaults.notThere("player", id);
    return playerFrom(row);
  };
  const checkTaken = async (code: string, id?: string): Promise<void> => {
    checkedCode(code);
    const other = await rowsByCode(code);
    if (other && other.id !== id) throw libraryFaults.taken("player with the code", code);
  };
  return {
    byId,
    list: async () => (await db.selectFrom("players").selectAll().orderBy("code").execute()).map(playerFrom),
    byCode: async (code) => {
      const row = await rowsByCode(code);
      return row && playerFrom(row);
    },
    add: async (details, by) => {
      await checkTaken(details.code);
      const id = workshop.newId();
      const insert = { id, ...rowPart(details), created_ms: Math.floor(workshop.clock()) };
      await deed(workshop, { deed: `added the player ${details.code}`, by, playerId: id }, [
        { table: "players", id, insert },
      ]);
      return byId(id);
    },
    change: async (id, part, by) => {
      const { code } = await byId(id);
      if (part.code !== undefined) await checkTaken(part.code, id);
      await deed(workshop, { deed: `changed the player ${code}`, by, playerId: id }, [
        { table: "players", id, set: rowPart(part) },
      ]);
      return byId(id);
    },
    outlines: async (playerId) =>
      (
        await db
          .selectFrom("foot_outlines")
          .selectAll()
          .where("player_id", "=", playerId)
          .orderBy("id", "desc")
          .execute()
      ).map(outlineFrom),
    addOutline: async (playerId, outline, { shoes, by } = {}) => {
      const { code } = await byId(playerId);
      const id = workshop.newId();
      const row: FootOutlineRow = {
        id,
        player_id: playerId,
        foot: outline.foot,
        shoes: shoes ?? null,
        outline_json: JSON.stringify(outline),
        created_ms: Math.floor(workshop.clock()),
      };
      const words = { deed: `traced the ${outline.foot} foot of ${code}`, by, playerId };
      await deed(workshop, words, [{ table: "foot_outlines", id, insert: { ...row } }]);
      return outlineFrom(row);
    },
  };
}
