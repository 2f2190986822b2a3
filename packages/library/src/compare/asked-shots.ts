import { setImmediate as nextTurn } from "node:timers/promises";
import type { ShotsAsked } from "@underfoot/domain";
import type { ColumnMapping } from "@underfoot/formats";
import type { Settings } from "@underfoot/mechanics";
import type { ShotQuestion } from "@underfoot/pipeline";
import type { CatalogueDb } from "../catalogue/catalogue.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { cacheKey } from "../results/cache-key.ts";
import { currentLayout } from "../results/packed-values.ts";
import type { KeptEvents } from "../results/results.ts";
import type { ShotLabel } from "../shots/shot-columns.ts";
import { factsFromJson } from "../shots/shot-owner.ts";
import { type ShotQuery, wantedShots } from "../shots/shot-query.ts";
import type { ShotSaid, StoredNumbers } from "./computed-shot.ts";

/** A shot that is asked for: what is said of it, and what it is computed from. */
export interface AskedShot {
  readonly said: ShotSaid;
  /** Under which its result is kept. */
  readonly key: string;
  readonly recordingSha256: string;
  readonly question: Omit<ShotQuestion, "bytes">;
  /** What was computed and is still so; absent where there is nothing, or it was computed from something else. */
  readonly stored?: StoredNumbers;
}

/** Shots of one question; more are a slip, and would not fit into memory with their curves. */
const MOST_SHOTS = 2000;
const { id: LAYOUT_ID } = currentLayout();
/** Rows read before others have their turn. */
const AT_ONCE = 25;

function shotRows(db: CatalogueDb, { shotIds, ...facts }: ShotsAsked, withConsent: "study" | undefined) {
  const query: ShotQuery = facts;
  let rows = wantedShots(db.selectFrom("shots"), query, false);
  if (shotIds !== undefined) rows = rows.where("shots.id", "in", [...shotIds]);
  if (withConsent !== undefined)
    rows = rows.where("shots.player_id", "in", (is) =>
      is.selectFrom("players").select("id").where("consent", "=", withConsent),
    );
  return rows
    .leftJoin("shot_facts", "shot_facts.id", "shots.id")
    .leftJoin("players", "players.id", "shots.player_id")
    .leftJoin("sessions", "sessions.id", "shots.session_id")
    .leftJoin("results", "results.id", "shots.id")
    .leftJoin("plate_layouts", "plate_layouts.id", "sessions.layout_id")
    .select(["shots.id", "shots.session_id", "shots.day", "shots.ordinal", "shots.label", "shots.intent"])
    .select(["shots.lie_name", "shots.pitch_deg", "shots.roll_deg", "shots.club"])
    .select(["recording_id", "file_name", "first_sample", "end_sample", "facts_json", "mapping_json"])
    .select(["players.code", "players.shoes", "plate_layouts.name as layout"])
    .select(["results.cache_key", "results.layout_id", "results.status", "results.events_json"])
    .select(["packed_values", "packed_sigmas", "packed_shared", "packed_shares"])
    .orderBy("shots.day")
    .orderBy("shots.session_id")
    .orderBy("shots.ordinal")
    .orderBy("shots.id");
}

type Row = Awaited<ReturnType<ReturnType<typeof shotRows>["execute"]>>[number];

function storedNumbers(row: Row, key: string): StoredNumbers | undefined {
  const { packed_values: values, packed_sigmas: sigmas, packed_shared: shared, packed_shares: shares } = row;
  // A version before this one kept neither of the last two.
  if (row.cache_key !== key || row.layout_id !== LAYOUT_ID || !values || !sigmas || !shared || !shares)
    return undefined;
  const events = row.events_json === null ? undefined : (JSON.parse(row.events_json) as KeptEvents);
  return { isValid: row.status === "ok", values, sigmas, shared, shares, events };
}

function askedShot(row: Row, settings: Settings): AskedShot {
  const facts = row.facts_json === null ? undefined : factsFromJson(row.facts_json, row.code);
  const mapping = row.mapping_json === null ? undefined : (JSON.parse(row.mapping_json) as ColumnMapping);
  const stretch = { first: row.first_sample, end: row.end_sample };
  const key = cacheKey({ recordingSha256: row.recording_id, stretch, facts, mapping, settings });
  const stored = storedNumbers(row, key);
  return {
    said: present<ShotSaid>({
      shotId: row.id,
      label: row.label as ShotLabel,
      player: row.code ?? facts?.player,
      sessionId: row.session_id,
      day: row.day,
      ordinal: row.ordinal,
      intent: row.intent,
      lieName: row.lie_name,
      pitchDeg: row.pitch_deg,
      rollDeg: row.roll_deg,
      club: row.club,
      shoes: row.shoes,
      layout: row.layout,
      result: facts?.result,
    }),
    key,
    recordingSha256: row.recording_id,
    question: {
      file: row.file_name,
      sha256: row.recording_id,
      ...{ settings, stretch },
      ...(facts ? { facts } : {}),
      ...(mapping ? { mapping } : {}),
    },
    ...(stored ? { stored } : {}),
  };
}

/**
 * The shots that are meant, in the order they were hit.
 *
 * @param withConsent  of players who agreed to this only
 * @throws UnderfootError  library-not-there where a shot that is named by its id is not there, library-wrong for too many
 */
export async function askedShots(
  db: CatalogueDb,
  asked: ShotsAsked,
  settings: Settings,
  withConsent?: "study",
): Promise<readonly AskedShot[]> {
  const found = await shotRows(db, asked, withConsent)
    .limit(MOST_SHOTS + 1)
    .execute();
  if (found.length > MOST_SHOTS)
    throw libraryFaults.wrong(
      `More than ${MOST_SHOTS.toLocaleString("en-GB")} shots are asked for; so many are not compared at once.`,
      "Name the player, the session or the days.",
    );
  const missing = asked.shotIds?.find((id) => found.every((row) => row.id !== id));
  if (missing !== undefined && withConsent === undefined) throw libraryFaults.notThere("shot", missing);
  const shots: AskedShot[] = [];
  for (const [k, row] of found.entries()) {
    if (k % AT_ONCE === AT_ONCE - 1) await nextTurn();
    shots.push(askedShot(row, settings));
  }
  return shots;
}
