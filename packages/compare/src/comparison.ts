import type { PlayerAxes } from "@underfoot/domain";
import type { Looks, Streams } from "@underfoot/statistics";
import { type ComparedCurves, comparedCurves } from "./compared-curves.ts";
import { comparedMeasure, detectablePerSd, driftOf, hints, judgedColumns, type RowInputs } from "./compared-measure.ts";
import type { ComparedShot, ShotGroup } from "./compared-shot.ts";
import { type ComparisonPlan, type DesignKind, designOf } from "./design.ts";
import { compareFaults } from "./faults.ts";
import type { JudgeOptions } from "./judged-family.ts";
import { type MeanEvents, meanEvents } from "./mean-events.ts";
import type { ComparedMeasure, FamilyName } from "./measure-row.ts";
import type { Notice } from "./notices.ts";
import { allColumns } from "./row-of-measure.ts";
import { checkedPlayer, countedShots, leftOutNotices } from "./shots-in-order.ts";

/** Chance of a value outside at 0.95. */
const ALPHA_OF_ONE = 0.05;
const LEVEL_OF_ONE = 0.95;
export interface ComparisonOptions {
  /** The reference. */
  readonly a: ShotGroup;
  readonly b: ShotGroup;
  /** Columns; left out: every measure of the catalogue in these axes. */
  readonly measures?: readonly string[] | undefined;
  readonly axes: PlayerAxes;
  /** Curve columns on the screen, looked at together: one family. */
  readonly curves?: readonly string[] | undefined;
  /** How curves are brought to one time scale, chosen before looking; `impact` by default. */
  readonly registration?: "impact" | "events";
  /** The second view of the curves. */
  readonly withClusters?: boolean;
  /** Measures named before the session, three at most, and those that were asked of the player. Each is a family of its own. */
  readonly primary?: readonly string[];
  readonly asked?: readonly string[];
  readonly plan?: ComparisonPlan | undefined;
  /** In a study a lie visited once withholds the verdict; in a lesson it is said. */
  readonly purpose?: "lesson" | "study";
  /** Smallest difference that would matter, set before, by column. */
  readonly margins?: ReadonlyMap<string, number>;
  readonly looks?: { readonly times: number; readonly kind: "planned" | "unplanned"; readonly countPairs?: number };
  /** `verdicts`: without effect sizes and drift, for simulations that ask for thousands of verdicts. */
  readonly detail?: "full" | "verdicts";
  readonly seed: number;
  readonly streams: Streams;
}

/** One side of a comparison and what became of its shots. */
export interface ComparedSide {
  readonly name: string;
  readonly countShots: number;
  /** Those that count, mishits left out. */
  readonly shotIds: readonly string[];
  readonly mishitIds: readonly string[];
}

/** Condition against condition, B minus A. */
export interface Comparison {
  readonly kind: "conditions";
  readonly a: ComparedSide;
  readonly b: ComparedSide;
  readonly axes: PlayerAxes;
  readonly design: {
    readonly kind: DesignKind;
    readonly isBetweenLies: boolean;
    readonly isBetweenSessions: boolean;
    readonly countSessions: number;
  };
  readonly measures: readonly ComparedMeasure[];
  readonly curves?: ComparedCurves;
  readonly eventsMs: MeanEvents;
  readonly notices: readonly Notice[];
  readonly looks: Looks;
  /** What chance alone gives and what was found: `countAlone` beyond by itself, `countBeyond` of these after allowing for looks. */
  readonly summary: {
    readonly countMeasures: number;
    readonly expectedByChance: number;
    readonly countAlone: number;
    readonly countBeyond: number;
  };
  readonly levelOfOne: number;
  readonly seed: number;
}

function checkedGroups({ a, b, margins }: ComparisonOptions): void {
  for (const { name, shots } of [a, b]) if (shots.length === 0) throw compareFaults.noShots(name);
  checkedPlayer([...a.shots, ...b.shots]);
  const ofA = new Set(a.shots.map(({ shotId }) => shotId));
  const shared = b.shots.filter(({ shotId }) => ofA.has(shotId)).length;
  if (shared > 0) throw compareFaults.sharedShots(shared);
  for (const [column, margin] of margins ?? []) if (!(margin > 0)) throw compareFaults.badMargin(column, margin);
}

/** The columns by family, each in one: primary before asked before the rest. */
function familiesOf({
  measures,
  axes,
  primary = [],
  asked = [],
}: ComparisonOptions): ReadonlyMap<FamilyName, string[]> {
  const all = [...new Set([...primary, ...asked, ...(measures ?? allColumns(axes))])];
  const familyOf = (column: string): FamilyName =>
    primary.includes(column) ? "primary" : asked.includes(column) ? "asked" : "rest";
  const names: readonly FamilyName[] = ["primary", "asked", "rest"];
  return new Map(names.map((name) => [name, all.filter((column) => familyOf(column) === name)]));
}

/** The same families with the mishits; nothing where there are none. */
function judgedWithMishits(
  o: ComparisonOptions,
  families: ReadonlyMap<FamilyName, readonly string[]>,
  options: JudgeOptions,
): RowInputs["withMishits"] {
  const isMishit = ({ label }: ComparedShot): boolean => label === "mishit";
  if (!o.a.shots.some(isMishit) && !o.b.shots.some(isMishit)) return new Map();
  const { plan, purpose = "lesson" } = o;
  const design = designOf(countedShots(o.a.shots, true), countedShots(o.b.shots, true), { plan, purpose });
  const countB = design.groups.filter((g) => g === 1).length;
  const counts = { countA: design.groups.length - countB, countB };
  return new Map(
    judgedColumns(design, families, options).map(({ column, judgement }) => [column, { ...judgement, ...counts }]),
  );
}

function sideFrom({ name, shots }: ShotGroup): ComparedSide {
  const idsOf = (label: ComparedShot["label"]): string[] =>
    shots.filter((shot) => shot.label === label).map(({ shotId }) => shotId);
  return { name, countShots: shots.length, shotIds: idsOf("kept"), mishitIds: idsOf("mishit") };
}

/**
 * Condition against condition by measure, B minus A: differences with intervals, the slope's share taken off between lies, verdicts after
 * allowing for all that was looked at, without and with the mishits.
 *
 * @throws UnderfootError  no shots, shots of several players, a shot on both sides, a measure that is not in the catalogue, a margin not above 0
 */
export function comparison(o: ComparisonOptions): Comparison {
  checkedGroups(o);
  const families = familiesOf(o);
  const countMeasures = [...families.values()].flat().length;
  const { plan, purpose = "lesson", seed } = o;
  const looks: Looks = { countMeasures, countPairs: o.looks?.countPairs ?? 1, times: o.looks?.times ?? 1 };
  const options: JudgeOptions = {
    seed,
    streams: o.streams,
    nameA: o.a.name,
    nameB: o.b.name,
    looks,
    isPlannedLook: o.looks?.kind === "planned",
    margins: o.margins ?? new Map(),
  };
  const design = designOf(countedShots(o.a.shots), countedShots(o.b.shots), { plan, purpose });
  const columns = judgedColumns(design, families, options);
  const withMishits = judgedWithMishits(o, families, options);
  const isFull = o.detail !== "verdicts";
  const inputs: RowInputs = {
    ...{ design, options, perSd: detectablePerSd(), q: hints(columns), withMishits, isFull },
    drift: isFull ? driftOf(columns, design, options) : new Map(),
  };
  const measures = columns.map((column) => comparedMeasure(column, inputs));
  const countBeyond = measures.filter(({ lozenge }) => lozenge === "beyond").length;
  return {
    kind: "conditions",
    a: sideFrom(o.a),
    b: sideFrom(o.b),
    axes: o.axes,
    design: {
      kind: design.kind,
      isBetweenLies: design.isBetweenLies,
      isBetweenSessions: design.isBetweenSessions,
      countSessions: design.countSessions,
    },
    measures,
    ...curvesPart(o, options),
    eventsMs: meanEvents(design.shots),
    notices: [
      ...leftOutNotices(o.a.shots, o.b.shots),
      ...design.notices,
      ...estimatedNotice(o),
      ...measureNotices(measures),
    ],
    looks,
    summary: {
      countMeasures,
      expectedByChance: ALPHA_OF_ONE * countMeasures,
      countAlone: countBeyond + measures.filter(({ lozenge }) => lozenge === "beyond-alone").length,
      countBeyond,
    },
    levelOfOne: LEVEL_OF_ONE,
    seed,
  };
}

function measureNotices(measures: readonly ComparedMeasure[]): readonly Notice[] {
  const missing = measures.filter(({ adjustedBy }) => adjustedBy === "holm").map(({ column }) => column);
  const decided = measures.filter(({ mishitsDecide }) => mishitsDecide).map(({ column }) => column);
  return [
    ...(missing.length > 0 ? [{ code: "missing-values", columns: missing } as const] : []),
    ...(decided.length > 0 ? [{ code: "mishits-decide", columns: decided } as const] : []),
  ];
}

function curvesPart(o: ComparisonOptions, options: JudgeOptions): { readonly curves?: ComparedCurves } {
  if (o.curves === undefined || o.curves.length === 0) return {};
  const asked = { columns: o.curves, registration: o.registration ?? "impact", withClusters: o.withClusters === true };
  const { plan, purpose = "lesson" } = o;
  return {
    curves: comparedCurves(countedShots(o.a.shots), countedShots(o.b.shots), asked, { ...options, plan, purpose }),
  };
}

function estimatedNotice({ a, b, curves }: ComparisonOptions): readonly Notice[] {
  const [countA = 0, countB = 0] = [a, b].map(
    ({ shots }) => countedShots(shots).filter(({ impactSource }) => impactSource === "estimated").length,
  );
  return curves === undefined || countA + countB === 0 ? [] : [{ code: "impact-estimated", countA, countB }];
}
