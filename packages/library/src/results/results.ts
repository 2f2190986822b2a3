import {
  type EventName,
  type EventSource,
  type Finding,
  type PlayerAxes,
  type ShotFacts,
  VERSION,
} from "@underfoot/domain";
import type { ColumnMapping } from "@underfoot/formats";
import type { Measure, Settings, Shot } from "@underfoot/mechanics";
import type { ShotOutcome, ShotQuestion, Stretch } from "@underfoot/pipeline";
import { sql } from "kysely";
import type { CatalogueDb, CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { ResultRow, ShotRow } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import type { RecordingStore } from "../disk/recording-store.ts";
import { libraryFaults } from "../faults.ts";
import type { Workshop } from "../history/deed.ts";
import type { LibrarySettings } from "../records/library-settings.ts";
import type { ShotLabel } from "../shots/shot-columns.ts";
import { replaceFindings } from "../shots/shot-findings.ts";
import { factsFromJson } from "../shots/shot-owner.ts";
import { cacheKey } from "./cache-key.ts";
import {
  columnName,
  currentLayout,
  type PackedMeasures,
  packedMeasures,
  SIGMA_BYTES,
  sigmaAt,
  VALUE_BYTES,
  type ValueLayout,
  valueAt,
} from "./packed-values.ts";
import { type ResultsReach, resultsReach } from "./results-reach.ts";

/** What was computed of a shot, as it was kept. */
export interface StoredResult {
  readonly shotId: string;
  readonly status: ShotOutcome["status"];
  readonly version: string;
  readonly madeMs: number;
  /** False where recording, facts, settings or version are no longer those it was computed from. */
  readonly isCurrent: boolean;
  /** By column ("both.target.peak turf", "lead.share.at.impact"); NaN where not valid. */
  readonly values: ReadonlyMap<string, { readonly value: number; readonly sigma: number; readonly text?: string }>;
  /** Only where they were asked to be kept. */
  readonly measures?: readonly Measure[];
}

export interface MeasureQuery {
  readonly measure: string;
  readonly axes?: PlayerAxes | undefined;
  readonly playerId?: string;
  readonly sessionId?: string;
  readonly intent?: string;
  readonly lieName?: string;
  readonly club?: string;
}

/** One measure of one shot, with what it is sorted by. */
export interface MeasurePoint {
  readonly shotId: string;
  readonly sessionId?: string;
  readonly day: string;
  readonly ordinal: number;
  readonly label: ShotLabel;
  readonly intent?: string;
  readonly lieName?: string;
  readonly club?: string;
  /** NaN where it could not be measured. */
  readonly value: number;
  readonly sigma: number;
}

export interface Results {
  /** All the chain needs to compute a shot; `key` names what it hangs on. */
  question(shotId: string): Promise<ShotQuestion & { readonly key: string }>;
  /**
   * Keeps what was computed, and its findings. Refused silently where the shot's facts have changed since the question.
   *
   * @returns false where it was refused
   */
  put(
    shotId: string,
    outcome: ShotOutcome,
    options: { readonly key: string; readonly withMeasures?: boolean },
  ): Promise<boolean>;
  /** Undefined where nothing was computed yet. */
  get(shotId: string): Promise<StoredResult | undefined>;
  /** One measure over all shots asked for that were computed, hidden ones left out, oldest first. */
  measure(query: MeasureQuery): Promise<readonly MeasurePoint[]>;
  /** What a changed setting would make out of date. */
  reach(): Promise<ResultsReach>;
}

/** What is computed of a shot, small enough to be kept for each. */
export interface ResultToKeep {
  readonly key: string;
  readonly status: ShotOutcome["status"];
  readonly packed: PackedMeasures;
  readonly findings: readonly Finding[];
  readonly events?: KeptEvents;
  readonly measuresJson?: string;
}

/** The events that were found: when, in ms from impact, and where impact itself comes from. Without impact there are none. */
export interface KeptEvents {
  readonly impactSource: EventSource;
  readonly eventsMs: Readonly<Partial<Record<EventName, number>>>;
}

export function keptEvents({ events }: Shot): KeptEvents | undefined {
  const impact = events.find(({ event }) => event === "impact");
  if (impact === undefined) return undefined;
  return {
    impactSource: impact.source,
    eventsMs: Object.fromEntries(events.map(({ event, timeS }) => [event, 1000 * (timeS - impact.timeS)])),
  };
}

const errorFinding = (outcome: Extract<ShotOutcome, { status: "error" }>): Finding => ({
  code: outcome.code,
  severity: "stop",
  sentence: outcome.sentence,
  remedy: outcome.remedy,
});

/** What is kept of an outcome. */
export function resultToKeep(outcome: ShotOutcome, key: string, layout: ValueLayout): ResultToKeep {
  const measures = outcome.status === "error" ? [] : outcome.measures;
  const events = outcome.status === "ok" ? keptEvents(outcome.shot) : undefined;
  return {
    ...(events === undefined ? {} : { events }),
    key,
    status: outcome.status,
    packed: packedMeasures(measures, layout),
    findings: outcome.status === "error" ? [errorFinding(outcome)] : outcome.findings,
  };
}

interface ShotInputs {
  readonly key: string;
  readonly recordingSha256: string;
  readonly fileName: string;
  readonly stretch: Stretch;
  readonly facts: ShotFacts | undefined;
  readonly mapping: ColumnMapping | undefined;
}

/** What a shot's result hangs on, as the catalogue has it now. */
export async function shotInputs(
  db: CatalogueDb | CatalogueTransaction,
  shotId: string,
  settings: Settings,
): Promise<ShotInputs> {
  const row = await db
    .selectFrom("shots")
    .leftJoin("shot_facts", "shot_facts.id", "shots.id")
    .leftJoin("players", "players.id", "shots.player_id")
    .select(["recording_id", "file_name", "first_sample", "end_sample", "facts_json", "mapping_json", "players.code"])
    .where("shots.id", "=", shotId)
    .executeTakeFirst();
  if (!row) throw libraryFaults.notThere("shot", shotId);
  const inputs = {
    recordingSha256: row.recording_id,
    fileName: row.file_name,
    stretch: { first: row.first_sample, end: row.end_sample },
    facts: row.facts_json === null ? undefined : factsFromJson(row.facts_json, row.code),
    mapping: row.mapping_json === null ? undefined : (JSON.parse(row.mapping_json) as ColumnMapping),
  };
  return { ...inputs, key: cacheKey({ ...inputs, settings }) };
}

/** Writes a result in place of the shot's earlier one, with its findings. */
export async function keepResult(
  trx: CatalogueTransaction,
  workshop: Workshop,
  { shotId, layout, result }: { readonly shotId: string; readonly layout: ValueLayout; readonly result: ResultToKeep },
): Promise<void> {
  const row: ResultRow = {
    id: shotId,
    cache_key: result.key,
    version: VERSION,
    status: result.status,
    layout_id: layout.id,
    made_ms: Math.floor(workshop.clock()),
    packed_values: result.packed.values,
    packed_sigmas: result.packed.sigmas,
    texts_json: Object.keys(result.packed.texts).length === 0 ? null : JSON.stringify(result.packed.texts),
    measures_json: result.measuresJson ?? null,
    packed_shared: result.packed.shared,
    packed_shares: result.packed.shares,
    events_json: result.events === undefined ? null : JSON.stringify(result.events),
  };
  const { id: _, ...others } = row;
  await trx
    .insertInto("value_layouts")
    .values({ id: layout.id, columns_json: JSON.stringify(layout.columns) })
    .onConflict((on) => on.column("id").doNothing())
    .execute();
  await trx
    .insertInto("results")
    .values(row)
    .onConflict((on) => on.column("id").doUpdateSet(others))
    .execute();
  await replaceFindings(trx, workshop.newId, { shotId, source: "chain", findings: result.findings });
}

export async function layoutColumns(
  db: CatalogueDb | CatalogueTransaction,
  layoutId: string,
): Promise<readonly string[]> {
  const row = await db.selectFrom("value_layouts").select("columns_json").where("id", "=", layoutId).executeTakeFirst();
  return row ? (JSON.parse(row.columns_json) as string[]) : [];
}

async function storedResult(db: CatalogueDb, shotId: string, settings: Settings): Promise<StoredResult | undefined> {
  const row = await db.selectFrom("results").selectAll().where("id", "=", shotId).executeTakeFirst();
  if (!row) return undefined;
  const columns = await layoutColumns(db, row.layout_id);
  const texts = row.texts_json === null ? {} : (JSON.parse(row.texts_json) as Record<string, string>);
  const { key } = await shotInputs(db, shotId, settings);
  return {
    shotId,
    status: row.status as ShotOutcome["status"],
    version: row.version,
    madeMs: row.made_ms,
    isCurrent: row.cache_key === key,
    values: new Map(
      columns.map((name, k) => {
        const text = texts[name];
        const numbers = { value: valueAt(row.packed_values, k), sigma: sigmaAt(row.packed_sigmas, k) };
        return [name, text === undefined ? numbers : { ...numbers, text }];
      }),
    ),
    ...(row.measures_json === null ? {} : { measures: JSON.parse(row.measures_json) as Measure[] }),
  };
}

const ASKED = {
  playerId: "player_id",
  sessionId: "session_id",
  intent: "intent",
  lieName: "lie_name",
  club: "club",
} as const satisfies Partial<Record<keyof MeasureQuery, keyof ShotRow>>;

/** The rows of one layout, where the measure stands at `place`: eight bytes of each, not the whole result. */
async function measureRows(
  db: CatalogueDb,
  query: MeasureQuery,
  layoutId: string,
  place: number,
): Promise<MeasurePoint[]> {
  let rows = db
    .selectFrom("shots")
    .innerJoin("results", "results.id", "shots.id")
    .where("results.layout_id", "=", layoutId)
    .where("shots.removed_ms", "is", null);
  for (const [name, column] of Object.entries(ASKED) as [keyof typeof ASKED, (typeof ASKED)[keyof typeof ASKED]][]) {
    const value = query[name];
    if (value !== undefined) rows = rows.where(`shots.${column}`, "=", value);
  }
  const part = (column: string, size: number) =>
    sql<Uint8Array>`substr(${sql.ref(column)}, ${sql.lit(place * size + 1)}, ${sql.lit(size)})`;
  const found = await rows
    .select(["shots.id", "shots.session_id", "shots.day", "shots.ordinal", "shots.label", "shots.intent"])
    .select(["shots.lie_name", "shots.club"])
    .select([
      part("packed_values", VALUE_BYTES).as("value_bytes"),
      part("packed_sigmas", SIGMA_BYTES).as("sigma_bytes"),
    ])
    .execute();
  return found.map((row) =>
    present<MeasurePoint>({
      shotId: row.id,
      sessionId: row.session_id,
      day: row.day,
      ordinal: row.ordinal,
      label: row.label as ShotLabel,
      intent: row.intent,
      lieName: row.lie_name,
      club: row.club,
      value: valueAt(row.value_bytes, 0),
      sigma: sigmaAt(row.sigma_bytes, 0),
    }),
  );
}

async function measurePoints(db: CatalogueDb, query: MeasureQuery): Promise<readonly MeasurePoint[]> {
  const name = columnName(query.measure, query.axes);
  const points: MeasurePoint[] = [];
  for (const { id, columns_json } of await db.selectFrom("value_layouts").selectAll().execute()) {
    const place = (JSON.parse(columns_json) as string[]).indexOf(name);
    if (place >= 0) points.push(...(await measureRows(db, query, id, place)));
  }
  return points.sort(inOrderHit);
}

function inOrderHit(a: MeasurePoint, b: MeasurePoint): number {
  if (a.day !== b.day) return a.day < b.day ? -1 : 1;
  if (a.sessionId !== b.sessionId) return (a.sessionId ?? "") < (b.sessionId ?? "") ? -1 : 1;
  return a.ordinal - b.ordinal || (a.shotId < b.shotId ? -1 : 1);
}

export function results(workshop: Workshop, store: RecordingStore, settings: LibrarySettings): Results {
  const { db, change } = workshop.catalogue;
  return {
    question: async (shotId) => {
      const mechanics = await settings.mechanics();
      const { key, recordingSha256, fileName, stretch, facts, mapping } = await shotInputs(db, shotId, mechanics);
      return {
        key,
        stretch,
        bytes: await store.bytes(recordingSha256),
        file: fileName,
        sha256: recordingSha256,
        settings: mechanics,
        ...(facts ? { facts } : {}),
        ...(mapping ? { mapping } : {}),
      };
    },
    put: async (shotId, outcome, { key, withMeasures = false }) => {
      const layout = currentLayout();
      const mechanics = await settings.mechanics();
      const kept = resultToKeep(outcome, key, layout);
      const isKept = await change(async (trx) => {
        if ((await shotInputs(trx, shotId, mechanics)).key !== key) return false;
        const measuresJson = withMeasures && outcome.status !== "error" ? JSON.stringify(outcome.measures) : undefined;
        await keepResult(trx, workshop, {
          shotId,
          layout,
          result: { ...kept, ...(measuresJson ? { measuresJson } : {}) },
        });
        return true;
      });
      if (isKept) workshop.feed.tell({ kind: "result", id: shotId, deed: "computed the shot" });
      return isKept;
    },
    get: async (shotId) => storedResult(db, shotId, await settings.mechanics()),
    measure: (query) => measurePoints(db, query),
    reach: () => resultsReach(db),
  };
}
