import type { ShotFacts } from "@underfoot/domain";
import type { CatalogueDb, CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { RowStep, Workshop } from "../history/deed.ts";

// Whose shot it is stands in one place: in the shot's row where the player is known here, else in the facts, as a code.

/** Facts as they are kept: without the player's code where the row names the player. */
export function factsJson(facts: ShotFacts, playerId: string | null | undefined): string {
  if (playerId === null || playerId === undefined) return JSON.stringify(facts);
  const { player: _, ...others } = facts;
  return JSON.stringify(others);
}

/** Facts as they are read: with today's code of the player whom the row names. */
export function factsFromJson(text: string, code: string | null | undefined): ShotFacts {
  const facts = JSON.parse(text) as ShotFacts;
  return code === null || code === undefined ? facts : { ...facts, player: code };
}

export interface ShotOwner {
  readonly playerId: string;
  /** Puts the player in, where nobody has this code yet. */
  readonly newPlayer: RowStep | undefined;
}

/** The player whose code the facts name; undefined where they name none. */
export async function ownerByCode(
  db: CatalogueDb | CatalogueTransaction,
  workshop: Workshop,
  facts: ShotFacts | undefined,
): Promise<ShotOwner | undefined> {
  const code = facts?.player;
  if (facts === undefined || code === undefined || code.trim() === "") return undefined;
  const known = await db.selectFrom("players").select("id").where("code", "=", code).executeTakeFirst();
  if (known) return { playerId: known.id, newPlayer: undefined };
  const id = workshop.newId();
  const insert = {
    ...{ id, code, handed: facts.handed, pronoun: "they", mass_kg: facts.mass?.kg ?? null, consent: "none" },
    created_ms: Math.floor(workshop.clock()),
  };
  return { playerId: id, newPlayer: { table: "players", id, insert } };
}
