import type { PlayerAxes } from "@underfoot/domain";
import {
  benjaminiHochberg,
  type Comparison as Counts,
  detectableDifference,
  drift,
  equivalence,
  glassDelta,
  hedgesG,
  hedgesGOfDifferences,
  type Looks,
  mean,
  meanInterval,
  minimalDetectableChange,
  type Streams,
  standardDeviation,
  streamLabel,
} from "@underfoot/statistics";
import { type ColumnValues, columnValues, meanOfKnown, sideOf } from "./column-values.ts";
import { type ComparedCurves, comparedCurves } from "./compared-curves.ts";
import type { ComparedShot, ShotGroup } from "./compared-shot.ts";
import { type ComparisonPlan, type Design, type DesignKind, designOf } from "./design.ts";
import { compareFaults } from "./faults.ts";
import { differenceOf, type JudgeOptions, judgedFamily, sharedOf, visitDifferenceOf } from "./judged-family.ts";
import { type MeanEvents, meanEvents } from "./mean-events.ts";
import type { ComparedMeasure, FamilyName, Judgement, RowSide } from "./measure-row.ts";
import type { Notice } from "./notices.ts";
import { allColumns, rowOf } from "./row-of-measure.ts";
import { checkedPlayer, countedShots, leftOutNotices } from "./shots-in-order.ts";

/** Chance of a value outside at 0.95. */
const ALPHA_OF_ONE = 0.05;
const LEVEL_OF_ONE = 0.95;
/** The player scatters alike in both conditions while their sds differ by less than this (own choice). */
const MOST_UNEQUAL = 2;

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

interface JudgedColumn {
  readonly column: string;
  readonly family: FamilyName;
  readonly values: ColumnValues;
  readonly judgement: Judgement;
}

function judgedColumns(
  design: Design,
  families: ReadonlyMap<FamilyName, readonly string[]>,
  options: JudgeOptions,
): readonly JudgedColumn[] {
  return [...families].flatMap(([family, columns]) => {
    const values = columns.map((column) => columnValues(design, column));
    const judged = judgedFamily(design, columns, { columns: values, options, family });
    return columns.map((column, m) => ({ column, family, values: values[m]!, judgement: judged[m]! }));
  });
}

function rowSide(column: JudgedColumn, design: Design, side: 0 | 1, options: JudgeOptions): RowSide {
  const { raw, slopeShare, sigmaShared } = column.values;
  const own = sideOf(raw, design.groups, side);
  const known = own.filter((value) => !Number.isNaN(value));
  const interval = meanInterval(own);
  const isKnown = "value" in interval;
  const name = side === 0 ? options.nameA : options.nameB;
  const moved = drift(
    own,
    {
      seed: options.seed,
      streams: options.streams,
      label: streamLabel({ method: "drift", measure: column.column, a: name, b: name }),
    },
    design.shots.flatMap((shot, k) => (design.groups[k] === side ? [shot.ordinal] : [])),
  );
  return {
    n: known.length,
    countMissing: own.length - known.length,
    mean: known.length > 0 ? mean(known) : Number.NaN,
    sd: standardDeviation(known),
    low: isKnown ? interval.low : Number.NaN,
    high: isKnown ? interval.high : Number.NaN,
    slopeShare: meanOfKnown(sideOf(slopeShare, design.groups, side)),
    sigmaShared: meanOfKnown(sideOf(sigmaShared, design.groups, side)),
    ...(moved.kind === "drift" ? { drift: moved } : {}),
  };
}

/** Scatter of single shots (of pair differences where paired), and what means of so many must differ by. */
function scatterOf(
  design: Design,
  { freed }: ColumnValues,
  difference: Judgement["freed"],
): { readonly sd: number; readonly mdc: number; readonly counts: Counts } | undefined {
  if (difference.kind === "withheld") return undefined;
  const half = (difference.high - difference.low) / 2;
  if (design.kind === "paired") {
    const n = difference.n[0] ?? 0;
    return { sd: difference.se * Math.sqrt(n), mdc: half, counts: { kind: "paired", n } };
  }
  const [nA = 0, nB = 0] = difference.n;
  const [sdA, sdB] = [0, 1].map((side) =>
    standardDeviation(sideOf(freed, design.groups, side as 0 | 1).filter((value) => !Number.isNaN(value))),
  ) as [number, number];
  const nu = nA + nB - 2;
  const sd = Math.sqrt(((nA - 1) * sdA ** 2 + (nB - 1) * sdB ** 2) / nu);
  const isAlike = Math.max(sdA, sdB) < MOST_UNEQUAL * Math.min(sdA, sdB);
  const mdc = isAlike ? minimalDetectableChange({ sd, nu, nFirst: nA, nSecond: nB }) : half;
  return { sd, mdc, counts: { kind: "two-groups", nA, nB } };
}

function effectOf(column: JudgedColumn, design: Design, options: JudgeOptions): ComparedMeasure["effect"] {
  const { freed } = column.values;
  const { looks, seed, streams, nameA: a, nameB: b } = options;
  const [ofA, ofB] = [sideOf(freed, design.groups, 0), sideOf(freed, design.groups, 1)];
  if (design.kind === "paired" && design.blocks !== undefined) {
    const { blocks, groups } = design;
    const pairs = [...new Set(blocks)];
    const at = (pair: number, side: number): number =>
      freed[blocks.findIndex((block, k) => block === pair && groups[k] === side)]!;
    return hedgesGOfDifferences(
      pairs.map((pair) => at(pair, 1) - at(pair, 0)),
      { looks },
    );
  }
  const g = hedgesG(ofA, ofB, { looks });
  if (g.kind === "withheld" || g.findings.length === 0) return g;
  const label = streamLabel({ method: "glass-delta", measure: column.column, a, b });
  const delta = glassDelta(ofA, ofB, { looks, seed, streams, label });
  return delta.kind === "withheld"
    ? g
    : { ...delta, kind: "effect-size", method: "glass-delta-bca", findings: g.findings };
}

/** Detectable difference per sd of single shots, by counts: the same for all measures of as many shots. */
function detectablePerSd(): (counts: Counts) => number {
  const known = new Map<string, number>();
  return (counts) => {
    const key = JSON.stringify(counts);
    const found = known.get(key) ?? detectableDifference(counts, { sd: 1 });
    known.set(key, found);
    return found;
  };
}

interface RowInputs {
  readonly design: Design;
  readonly options: JudgeOptions;
  readonly perSd: (counts: Counts) => number;
  readonly q: ReadonlyMap<string, number>;
  readonly withMishits: ReadonlyMap<string, NonNullable<ComparedMeasure["withMishits"]>>;
}

function comparedMeasure(column: JudgedColumn, o: RowInputs): ComparedMeasure {
  const { design, options } = o;
  const { values, judgement } = column;
  const [a, b] = [rowSide(column, design, 0, options), rowSide(column, design, 1, options)];
  const slopeShare = design.isBetweenLies ? b.slopeShare - a.slopeShare : 0;
  const scatter = scatterOf(design, values, judgement.freed);
  const margin = options.margins.get(column.column);
  const visitDifference = visitDifferenceOf(design, values);
  const both = o.withMishits.get(column.column);
  const { freed } = judgement;
  return {
    kind: "conditions",
    ...rowOf(column.column),
    family: column.family,
    a,
    b,
    raw: differenceOf(design, values.raw, { looks: options.looks, nullDifference: slopeShare }),
    slopeShare,
    sigmaShared: sharedOf(design, values),
    effect: effectOf(column, design, options),
    ...judgement,
    q: o.q.get(column.column) ?? Number.NaN,
    mdc: scatter?.mdc ?? Number.NaN,
    steps: freed.kind === "withheld" || scatter === undefined ? Number.NaN : freed.value / scatter.mdc,
    detectable: scatter === undefined || !(scatter.sd > 0) ? Number.NaN : o.perSd(scatter.counts) * scatter.sd,
    ...(margin === undefined || freed.kind === "withheld" ? {} : { equivalence: equivalence(freed, margin) }),
    ...(visitDifference === undefined ? {} : { visitDifference }),
    ...(both === undefined ? {} : { withMishits: both }),
    mishitsDecide: both !== undefined && both.verdict !== judgement.verdict,
  };
}

/** Benjamini and Hochberg's q of the measures that were merely looked at. */
function hints(columns: readonly JudgedColumn[]): ReadonlyMap<string, number> {
  const rest = columns.filter(({ family, judgement }) => family === "rest" && !Number.isNaN(judgement.p));
  const q = benjaminiHochberg(rest.map(({ judgement }) => judgement.p));
  return new Map(rest.map(({ column }, m) => [column, q[m]!]));
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
  const inputs: RowInputs = { design, options, perSd: detectablePerSd(), q: hints(columns), withMishits };
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
