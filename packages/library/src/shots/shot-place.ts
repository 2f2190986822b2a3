import type { ShotFacts } from "@underfoot/domain";
import type { CatalogueDb, CatalogueTransaction } from "../catalogue/catalogue.ts";
import { libraryFaults } from "../faults.ts";
import type { RowStep, Workshop } from "../history/deed.ts";
import { checkedDay } from "../records/sessions.ts";
import { ownerByCode } from "./shot-owner.ts";

/** Where a new shot belongs: whose it is, on which day, in which session. */
export interface Place {
  readonly playerId?: string;
  readonly sessionId?: string;
  readonly day: string;
  /** Put in first, where they are not there yet. */
  readonly newPlayer?: RowStep | undefined;
  readonly newSession?: RowStep | undefined;
}

/** What is said about where a shot belongs. */
interface PlaceAsked {
  readonly facts?: ShotFacts | undefined;
  readonly sessionId?: string | undefined;
  readonly isSessionOfDay?: boolean | undefined;
  readonly playerId?: string | undefined;
  readonly day?: string | undefined;
}

/** The day at the place where the library stands. */
export function dayOf(ms: number): string {
  const at = new Date(ms);
  const digits = (value: number, count: number): string => String(value).padStart(count, "0");
  return `${digits(at.getFullYear(), 4)}-${digits(at.getMonth() + 1, 2)}-${digits(at.getDate(), 2)}`;
}

/** Writes nothing. Whose shot it is: the session's player, the one named, or the one whose code the facts give. */
export async function placeOf(
  db: CatalogueDb | CatalogueTransaction,
  workshop: Workshop,
  asked: PlaceAsked,
): Promise<Place> {
  const { sessionId, playerId, facts } = asked;
  const day = asked.day === undefined ? undefined : checkedDay(asked.day);
  if (sessionId !== undefined) {
    const session = await db
      .selectFrom("sessions")
      .select(["player_id", "day"])
      .where("id", "=", sessionId)
      .executeTakeFirst();
    if (!session) throw libraryFaults.notThere("session", sessionId);
    return { playerId: session.player_id, sessionId, day: day ?? session.day };
  }
  const owner = playerId === undefined ? await ownerByCode(db, workshop, facts) : await named(db, playerId);
  const place = { ...owner, day: day ?? dayOf(Math.floor(workshop.clock())) };
  return owner && asked.isSessionOfDay ? { ...place, ...(await sessionOfDay(db, workshop, owner, place.day)) } : place;
}

async function named(db: CatalogueDb | CatalogueTransaction, playerId: string): Promise<{ readonly playerId: string }> {
  const player = await db.selectFrom("players").select("id").where("id", "=", playerId).executeTakeFirst();
  if (!player) throw libraryFaults.notThere("player", playerId);
  return { playerId };
}

/** The latest session of the player on this day, else a new one. */
async function sessionOfDay(
  db: CatalogueDb | CatalogueTransaction,
  workshop: Workshop,
  { playerId }: { readonly playerId: string },
  day: string,
): Promise<{ readonly sessionId: string; readonly newSession?: RowStep }> {
  const known = await db
    .selectFrom("sessions")
    .select("id")
    .where("player_id", "=", playerId)
    .where("day", "=", day)
    .orderBy("id", "desc")
    .executeTakeFirst();
  if (known) return { sessionId: known.id };
  const id = workshop.newId();
  const insert = { id, player_id: playerId, day, created_ms: Math.floor(workshop.clock()) };
  return { sessionId: id, newSession: { table: "sessions", id, insert } };
}
