import type { Labelled } from "../difference/labellings.ts";
import { studentQuantile } from "../distributions/student-t.ts";
import type { Withheld } from "../estimate.ts";
import { type CurveDesign, type CurveTestOptions, labelDesign, signDesign } from "./curve-difference.ts";
import type { DrawnRows, LabelRows } from "./label-rows.ts";
import { adjustedP, permutationSample } from "./permutation-sample.ts";
import type { ComparedCurve } from "./pointwise-t.ts";
import { eachBlockOfT, type ScaledSums } from "./scaled-sums.ts";

/** Level of the t that forms clusters, two-sided; fixed, not tuned (own choice). */
const FORMING_LEVEL_OF_ONE = 0.95;
const POINT_NUMBERS = { firstMs: 0, stepMs: 1 } as const;

/** A run of points with |t| above the forming t. Its limits are not exact: a difference lies somewhere about here. */
export interface CurveCluster {
  /** Number of the curve within the family. */
  readonly curve: number;
  readonly firstPoint: number;
  readonly lastPoint: number;
  readonly fromMs: number;
  readonly toMs: number;
  readonly side: "above" | "below";
  /** Σ |t| × step, ms. */
  readonly mass: number;
  /** Share of labellings whose largest mass over all curves is no smaller. */
  readonly p: number;
}

/**
 * Clusters of a comparison. Finds long, weak differences; it says that the curves differ, never where that begins or ends
 * (Maris & Oostenveld 2007; Sassenhagen & Draschkow 2019). The type has no interval and no instant.
 */
export interface CurveClusters {
  readonly kind: "curve-clusters";
  readonly clusters: readonly CurveCluster[];
  readonly formingT: number;
  readonly n: readonly number[];
  readonly arrangements: "exact" | "drawn";
  readonly countArrangements: number;
  readonly seed?: number;
  readonly method: "cluster-mass" | "cluster-mass-of-pairs";
}

/** Raises each row's entry of `out` to its largest sum of |t| over a run above the forming t on one side. */
function raiseLargestMass(
  sums: ScaledSums,
  rows: LabelRows,
  o: { formingT: number; stepMs: number },
  out: Float64Array,
): void {
  // The run that is open where a block ends, its sign the side; 0 where none is.
  const open = new Float64Array(rows.countRows);
  eachBlockOfT(sums, rows, (row, { count, t }) => {
    let [run, largest] = [open[row]!, out[row]!];
    for (let q = 0; q < count; q++) {
      const one = t[q]!;
      if (!(Math.abs(one) > o.formingT)) run = 0;
      else run = one * run > 0 ? run + one * o.stepMs : one * o.stepMs;
      if (Math.abs(run) > largest) largest = Math.abs(run);
    }
    open[row] = run;
    out[row] = largest;
  });
}

function clustersOf(
  t: ArrayLike<number>,
  formingT: number,
): Pick<CurveCluster, "firstPoint" | "lastPoint" | "side" | "mass">[] {
  const found: Pick<CurveCluster, "firstPoint" | "lastPoint" | "side" | "mass">[] = [];
  for (let q = 0; q < t.length; q++) {
    if (!(Math.abs(t[q]!) > formingT)) continue;
    const sign = t[q]! > 0 ? 1 : -1;
    let [last, mass] = [q, 0];
    for (; sign * t[last]! > formingT; last++) mass += Math.abs(t[last]!);
    found.push({ firstPoint: q, lastPoint: last - 1, side: sign > 0 ? "above" : "below", mass });
    q = last - 1;
  }
  return found;
}

function clustersFrom(curves: readonly ComparedCurve[], design: CurveDesign | Withheld): CurveClusters | Withheld {
  if ("kind" in design) return design;
  const { rows, n } = design;
  const nu = n.reduce((sum, count) => sum + count - 1, 0);
  const formingT = studentQuantile((1 + FORMING_LEVEL_OF_ONE) / 2, nu);
  const largest = new Float64Array(rows.countRows);
  const grids = curves.map((curve) => curve.grid ?? POINT_NUMBERS);
  design.sums.forEach((sums, c) => {
    raiseLargestMass(sums, rows, { formingT, stepMs: grids[c]!.stepMs }, largest);
  });
  const sample = permutationSample(largest);
  const clusters = design.atPoints.flatMap(({ t }, curve) => {
    const { firstMs, stepMs } = grids[curve]!;
    return clustersOf(t, formingT).map((one) => ({
      ...one,
      curve,
      fromMs: firstMs + one.firstPoint * stepMs,
      toMs: firstMs + one.lastPoint * stepMs,
      mass: one.mass * stepMs,
      p: adjustedP(sample, one.mass * stepMs),
    }));
  });
  return {
    kind: "curve-clusters",
    clusters,
    formingT,
    n,
    arrangements: rows.method,
    countArrangements: rows.countRows,
    ...(rows.seed === undefined ? {} : { seed: rows.seed }),
    method: design.method === "max-t" ? "cluster-mass" : "cluster-mass-of-pairs",
  };
}

/**
 * Cluster mass of two conditions, B minus A: a second view beside `curveDifference`, off by default.
 *
 * @param curves  one family, as there
 */
export function curveClusters(
  curves: readonly ComparedCurve[],
  labelled: Labelled,
  options: CurveTestOptions,
): CurveClusters | Withheld {
  return clustersFrom(curves, labelDesign(curves, labelled, options));
}

/** The same for curves of paired differences. */
export function pairedCurveClusters(
  differences: readonly ComparedCurve[],
  options: DrawnRows,
): CurveClusters | Withheld {
  return clustersFrom(differences, signDesign(differences, options));
}
