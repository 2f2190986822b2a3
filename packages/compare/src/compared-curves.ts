import type { PlayerAxes } from "@underfoot/domain";
import {
  type CurveComparison,
  type CurveStretch,
  curveClusters,
  curveDifference,
  type Looks,
  pairedCurveClusters,
  pairedCurveDifference,
  type Streams,
  streamLabel,
  type Withheld,
} from "@underfoot/statistics";
import type { ComparedShot } from "./compared-shot.ts";
import { type CurveUnits, curveUnits, type FreedCurve, freedCurve, meanRows, rowsOf } from "./curve-units.ts";
import { type ComparisonPlan, type Design, designOf } from "./design.ts";
import { REGISTRATION_EVENTS, registeredCurve, registrationOf } from "./registered-shots.ts";
import { curveKind } from "./shot-curves.ts";

/** Shots a side below which curves are drawn singly and nothing is said. */
const LEAST_FOR_WORDS = 5;

export interface CurvesAsked {
  /** Of `CURVES`, looked at together: one family. */
  readonly columns: readonly string[];
  readonly registration: "impact" | "events";
  /** The second view: finds long, weak differences, without limits. */
  readonly withClusters?: boolean;
}

/** One curve, B minus A. One value a point of the grid, NaN where a shot has none. Unit of the curve. */
export interface ComparedCurveRow {
  readonly column: string;
  readonly curve: string;
  readonly axes: PlayerAxes | undefined;
  readonly title: string;
  readonly unit: string;
  readonly meanA: readonly number[];
  readonly meanB: readonly number[];
  /** With the slope's share in it. */
  readonly difference: readonly number[];
  /** What gravity alone explains of the difference: the middle of the allowed band. */
  readonly slopeShare: readonly number[];
  /** Simultaneous interval of the difference. */
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** Where a difference must lie to be within scatter, labels and interval both: its middle is the slope's share. */
  readonly allowedLow: readonly number[];
  readonly allowedHigh: readonly number[];
  readonly t: readonly number[];
  readonly adjustedP: readonly number[];
  /** Beyond the labels and the interval. `difference`, `low` and `high` have the slope's share in them. */
  readonly stretches: readonly (CurveStretch & { readonly slopeShare: number })[];
  /** Single curves, A then B, where there are too few for a band. */
  readonly singles?: { readonly a: readonly (readonly number[])[]; readonly b: readonly (readonly number[])[] };
  readonly clusters?: readonly {
    readonly fromMs: number;
    readonly toMs: number;
    readonly side: "above" | "below";
    readonly p: number;
  }[];
  readonly findings: readonly "unequal-scatter"[];
}

/** Why curves are drawn but not judged. */
export type CurvesWithheld =
  | Withheld["reason"]
  | "lie-once"
  | "order-confounded"
  | "impact-estimated"
  | "no-common-events";

/** Whole curves of two conditions, one family. */
export interface ComparedCurves {
  /** `judged`, or drawn only: `too-few` shots, or `withheld` for a reason. */
  readonly status: "judged" | "too-few" | "withheld";
  readonly reason?: CurvesWithheld;
  readonly registration: {
    readonly kind: "impact" | "events";
    readonly firstMs: number;
    readonly stepMs: number;
    readonly countPoints: number;
    /** Names and instants of the events used; empty for `impact`. */
    readonly events: readonly string[];
    readonly targetsMs: readonly number[];
  };
  readonly n: readonly [number, number];
  /** Shots without impact or without one of the curves. */
  readonly countMissing: readonly [number, number];
  readonly curves: readonly ComparedCurveRow[];
  /** p of the largest |t| of all curves; NaN where not judged. */
  readonly p: number;
  /** What |t| must leave: threshold of the labels, factor of the interval. */
  readonly threshold: number;
  readonly factor: number;
  readonly smallestP: number;
  readonly arrangements: "exact" | "drawn" | "none";
  readonly countArrangements: number;
  readonly method: string;
  readonly levelOfOne: number;
  readonly seed?: number;
  readonly looks: Looks;
  readonly findings: CurveComparison["findings"];
}

export interface CurveOptions {
  readonly seed: number;
  readonly streams: Streams;
  readonly nameA: string;
  readonly nameB: string;
  readonly looks: Looks;
  readonly plan?: ComparisonPlan | undefined;
  readonly purpose: "lesson" | "study";
}

function judgedCurves(units: CurveUnits, options: CurveOptions, withClusters: boolean) {
  const { seed, streams, looks, nameA: a, nameB: b } = options;
  const label = (method: string): string => streamLabel({ method, measure: "curves", a, b });
  const drawn = { seed, streams, looks, label: label("max-t-curves") };
  const drawnClusters = { ...drawn, label: label("cluster-mass") };
  const { curves, groups, blocks } = units;
  const labelled = { groups, ...(blocks === undefined ? {} : { blocks }) };
  return {
    judged: units.isPaired ? pairedCurveDifference(curves, drawn) : curveDifference(curves, labelled, drawn),
    clusters: !withClusters
      ? undefined
      : units.isPaired
        ? pairedCurveClusters(curves, drawnClusters)
        : curveClusters(curves, labelled, drawnClusters),
  };
}

/** Why the curves may not be judged, whatever they look like. */
function reasonOf(design: Design): CurvesWithheld | undefined {
  if (design.kind === "none") return "dependent";
  const isEstimated = design.shots.some(({ impactSource }) => impactSource === "estimated");
  return design.withheldFor[0] ?? (design.isBetweenLies && isEstimated ? "impact-estimated" : undefined);
}

/**
 * Whole curves of two conditions, B minus A, all of them one family: beyond scatter where both the labels and the simultaneous interval say so,
 * and between lies beyond what the slope alone predicts.
 *
 * @param a  shots that count, of the reference
 */
export function comparedCurves(
  a: readonly ComparedShot[],
  b: readonly ComparedShot[],
  asked: CurvesAsked,
  options: CurveOptions,
): ComparedCurves {
  const hasAll = (shot: ComparedShot): boolean => asked.columns.every((column) => shot.curves?.has(column) === true);
  const [ofA, ofB] = [a.filter(hasAll), b.filter(hasAll)];
  const countMissing = [a.length - ofA.length, b.length - ofB.length] as const;
  const design = designOf(ofA, ofB, options);
  const registration = registrationOf(design.shots, asked.registration);
  const n = [rowsOf(design.groups, 0).length, rowsOf(design.groups, 1).length] as const;
  const bare = { n, countMissing, levelOfOne: 0.95, looks: options.looks };
  if (registration === undefined || Math.min(...n) === 0)
    return {
      ...NOT_JUDGED,
      ...bare,
      ...(registration === undefined ? { status: "withheld", reason: "no-common-events" } : {}),
    };
  const { grid } = registration;
  const curves = asked.columns.map((column) =>
    freedCurve(design, registeredCurve(design.shots, column, registration), grid.countPoints),
  );
  const units = curveUnits(design, curves, grid);
  const reason = reasonOf(design);
  const { judged, clusters } = judgedCurves(units, options, asked.withClusters === true);
  const isFew = Math.min(...n) < LEAST_FOR_WORDS || (judged.kind === "withheld" && judged.reason === "too-few");
  const status = isFew ? "too-few" : reason === undefined && judged.kind !== "withheld" ? "judged" : "withheld";
  const clustersOf = (c: number) =>
    clusters === undefined || clusters.kind === "withheld" || status !== "judged"
      ? {}
      : {
          clusters: clusters.clusters
            .filter(({ curve }) => curve === c)
            .map(({ fromMs, toMs, side, p }) => ({ fromMs, toMs, side, p })),
        };
  return {
    ...NOT_JUDGED,
    ...bare,
    status,
    ...(status === "withheld" ? { reason: reason ?? (judged.kind === "withheld" ? judged.reason : "too-few") } : {}),
    registration: {
      kind: registration.kind,
      ...grid,
      events: registration.events.map((e) => REGISTRATION_EVENTS[e] ?? ""),
      targetsMs: registration.targetsMs,
    },
    curves: curves.map((curve, c) => ({
      ...curveRow(design, curve, {
        judged,
        c,
        leastExcess: units.curves[c]?.leastExcess,
        countPoints: grid.countPoints,
        status,
      }),
      ...clustersOf(c),
    })),
    ...(judged.kind === "withheld" ? {} : familyPart(judged)),
  };
}

const NOT_JUDGED = {
  status: "too-few",
  registration: { kind: "impact", firstMs: -700, stepMs: 2, countPoints: 501, events: [], targetsMs: [] },
  curves: [],
  p: Number.NaN,
  threshold: Number.NaN,
  factor: Number.NaN,
  smallestP: 1,
  arrangements: "none",
  countArrangements: 0,
  method: "none",
  findings: [],
} as const;

function familyPart(judged: CurveComparison) {
  const { p, threshold, factor, smallestP, arrangements, countArrangements, method, seed, findings } = judged;
  return {
    ...{ p, threshold, factor, smallestP, arrangements, countArrangements, method, findings },
    ...(seed === undefined ? {} : { seed }),
  };
}

interface RowInput {
  readonly judged: CurveComparison | Withheld;
  readonly c: number;
  readonly leastExcess: ArrayLike<number> | undefined;
  readonly countPoints: number;
  readonly status: ComparedCurves["status"];
}

const NONE: readonly number[] = [];

function curveRow(design: Design, curve: FreedCurve, o: RowInput): ComparedCurveRow {
  const { countPoints, status } = o;
  const kind = curveKind(curve.column);
  const [rowsA, rowsB] = [rowsOf(design.groups, 0), rowsOf(design.groups, 1)];
  const means = (values: Float64Array): [Float64Array, Float64Array] => [
    meanRows(values, countPoints, rowsA),
    meanRows(values, countPoints, rowsB),
  ];
  const [meanA, meanB] = means(curve.values);
  const [shareA, shareB] = means(curve.slopeShare);
  const share = shareB.map((value, q) => (design.isBetweenLies ? value - shareA[q]! : 0));
  const singles = (rows: readonly number[]): number[][] =>
    rows.map((row) => Array.from(curve.values.subarray(row * countPoints, (row + 1) * countPoints)));
  const named = { column: curve.column, curve: kind.id, axes: kind.in, title: kind.title, unit: kind.unit };
  const drawn = {
    ...named,
    meanA: Array.from(meanA),
    meanB: Array.from(meanB),
    slopeShare: Array.from(share),
    ...(status === "too-few" ? { singles: { a: singles(rowsA), b: singles(rowsB) } } : {}),
  };
  const one = o.judged.kind === "withheld" ? undefined : o.judged.curves[o.c];
  if (one === undefined || o.judged.kind === "withheld") {
    const difference = Array.from(meanB, (value, q) => value - meanA[q]!);
    const empty = { low: NONE, high: NONE, allowedLow: NONE, allowedHigh: NONE, t: NONE, adjustedP: NONE };
    return { ...drawn, difference, ...empty, stretches: [], findings: [] };
  }
  const limit = Math.max(o.judged.threshold, o.judged.factor);
  const half = Array.from(one.se, (se, q) => Math.max(limit * se, o.leastExcess?.[q] ?? 0));
  const withShare = (values: ArrayLike<number>): number[] => Array.from(values, (value, q) => value + share[q]!);
  return {
    ...drawn,
    difference: withShare(one.difference),
    low: withShare(one.low),
    high: withShare(one.high),
    allowedLow: half.map((allowed, q) => share[q]! - allowed),
    allowedHigh: half.map((allowed, q) => share[q]! + allowed),
    t: Array.from(one.t),
    adjustedP: Array.from(one.adjustedP),
    stretches: status === "judged" ? one.stretches.map((stretch) => shared(stretch, share, one.difference)) : [],
    findings: one.findings,
  };
}

/** The stretch with the slope's share at the instant of its largest difference. */
function shared(
  stretch: CurveStretch,
  share: Float64Array,
  difference: ArrayLike<number>,
): CurveStretch & { slopeShare: number } {
  let at = stretch.firstPoint;
  for (let q = stretch.firstPoint; q <= stretch.lastPoint; q++)
    if (Math.abs(difference[q]!) > Math.abs(difference[at]!)) at = q;
  const slopeShare = share[at]!;
  return {
    ...stretch,
    difference: stretch.difference + slopeShare,
    low: stretch.low + slopeShare,
    high: stretch.high + slopeShare,
    slopeShare,
  };
}
