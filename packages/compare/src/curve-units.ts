import { type ComparedCurve, type Registration, visitMeanCurves } from "@underfoot/statistics";
import { isOverSessions, meanOfKnown } from "./column-values.ts";
import type { Design } from "./design.ts";
import type { RegisteredCurve } from "./registered-shots.ts";

/** One curve of the design's shots, freed of slope and of sessions as measures are. */
export interface FreedCurve extends RegisteredCurve {
  readonly freed: Float64Array<ArrayBuffer>;
}

/** Mean of some rows at each point. */
export function meanRows(
  values: Float64Array,
  countPoints: number,
  rows: readonly number[],
): Float64Array<ArrayBuffer> {
  return Float64Array.from({ length: countPoints }, (_, q) => {
    let sum = 0;
    for (const row of rows) sum += values[row * countPoints + q]!;
    return sum / rows.length;
  });
}

/** Places of the shots of one side. */
export const rowsOf = (groups: ArrayLike<number>, side: number): number[] =>
  Array.from(groups).flatMap((g, k) => (g === side ? [k] : []));

/** Takes off at each point what a session adds to both sides, as `columnValues` does. */
function lessSessions(
  values: Float64Array<ArrayBuffer>,
  design: Design,
  countPoints: number,
): Float64Array<ArrayBuffer> {
  if (!isOverSessions(design)) return values;
  const middles = Array.from({ length: design.countSessions }, (_, session) => {
    const [a, b] = [0, 1].map((side) =>
      meanRows(
        values,
        countPoints,
        rowsOf(design.groups, side).filter((k) => design.sessions[k] === session),
      ),
    ) as [Float64Array, Float64Array];
    return a.map((value, q) => (value + b[q]!) / 2);
  });
  return values.map((value, at) => {
    const [row, q] = [Math.floor(at / countPoints), at % countPoints];
    const centre = middles.reduce((sum, middle) => sum + middle[q]!, 0) / middles.length;
    return value - (middles[design.sessions[row]!]![q]! - centre);
  });
}

/** The curve less the slope's share between lies, and less what sessions add. */
export function freedCurve(design: Design, curve: RegisteredCurve, countPoints: number): FreedCurve {
  const { values, slopeShare } = curve;
  const own = design.isBetweenLies ? values.map((value, k) => value - slopeShare[k]!) : values;
  return { ...curve, freed: lessSessions(own, design, countPoints) };
}

/** Twice the error that all shots of a side share, in quadrature over both: what a difference must also exceed. */
function sharedExcess(design: Design, { sigmaOfLie, sigmaOfSetUp }: RegisteredCurve): number {
  const perSide = [0, 1].map((side) => {
    const rows = rowsOf(design.groups, side);
    const meanOf = (sigmas: readonly number[]): number => meanOfKnown(rows.map((k) => sigmas[k]!));
    return Math.hypot(
      design.isBetweenLies ? meanOf(sigmaOfLie) : 0,
      design.isBetweenSessions ? meanOf(sigmaOfSetUp) : 0,
    );
  });
  return 2 * Math.hypot(...perSide);
}

/** What is handed to the test: shots, means of visits, or differences of pairs. */
export interface CurveUnits {
  readonly curves: readonly ComparedCurve[];
  readonly groups: Uint8Array<ArrayBuffer>;
  readonly blocks?: Int32Array<ArrayBuffer>;
  readonly isPaired: boolean;
}

/** The units that the design exchanges. */
export function curveUnits(design: Design, curves: readonly FreedCurve[], grid: Registration["grid"]): CurveUnits {
  const { countPoints } = grid;
  const { groups, blocks, lies, visits } = design;
  const common = (
    curve: FreedCurve,
    shots: number,
  ): Pick<ComparedCurve, "countPoints" | "grid" | "sigma" | "leastExcess"> => ({
    countPoints,
    grid,
    sigma: new Float64Array(countPoints).fill(curve.sigma / Math.sqrt(shots)),
    leastExcess: new Float64Array(countPoints).fill(sharedExcess(design, curve)),
  });
  if (design.kind === "visits") {
    const names = [...new Set(visits)];
    const groupOfVisit = Uint8Array.from(names, (name) => groups[visits.indexOf(name)] ?? 0);
    const shotsPerVisit = groups.length / names.length;
    return {
      curves: curves.map((curve) => ({
        ...common(curve, shotsPerVisit),
        values: visitMeanCurves({ curves: { values: curve.freed, countPoints }, lies, visits }).curves.values,
      })),
      groups: groupOfVisit,
      isPaired: false,
    };
  }
  if (design.kind === "paired" && blocks !== undefined) {
    const pairs = [...new Set(blocks)];
    const rowAt = (pair: number, side: number): number =>
      blocks.findIndex((block, k) => block === pair && groups[k] === side);
    return {
      curves: curves.map((curve) => {
        const values = new Float64Array(pairs.length * countPoints);
        pairs.forEach((pair, row) => {
          const [a, b] = [rowAt(pair, 0), rowAt(pair, 1)];
          for (let q = 0; q < countPoints; q++)
            values[row * countPoints + q] = curve.freed[b * countPoints + q]! - curve.freed[a * countPoints + q]!;
        });
        return { ...common(curve, 1), values };
      }),
      groups,
      isPaired: true,
    };
  }
  const isByVisits = design.isBetweenLies && design.kind === "free";
  return {
    curves: curves.map((curve) => {
      const shared = common(curve, 1);
      if (!isByVisits) return { ...shared, values: curve.freed };
      const { largestDifference } = visitMeanCurves({ curves: { values: curve.freed, countPoints }, lies, visits });
      const leastExcess = largestDifference.map((least, q) => Math.max(least || 0, shared.leastExcess?.[q] ?? 0));
      return { ...shared, leastExcess, values: curve.freed };
    }),
    groups,
    ...(blocks === undefined ? {} : { blocks }),
    isPaired: false,
  };
}
