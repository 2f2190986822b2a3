import type { PlayerAxes } from "@underfoot/domain";
import { type CurveBand, curveBand, type Looks, type UsualBand, usualBand, type Withheld } from "@underfoot/statistics";
import { meanOfKnown } from "./column-values.ts";
import type { ComparedLabel, ComparedShot, ShotGroup } from "./compared-shot.ts";
import type { RowOfMeasure } from "./measure-row.ts";
import { registeredCurve, registrationOf } from "./registered-shots.ts";
import { allColumns, rowOf } from "./row-of-measure.ts";
import { curveKind } from "./shot-curves.ts";
import { checkedPlayer, countedShots, inOrderHit } from "./shots-in-order.ts";

export interface UsualOptions {
  /** Left out: every measure of the catalogue in these axes. */
  readonly measures?: readonly string[] | undefined;
  readonly axes: PlayerAxes;
  /** Curve columns. */
  readonly curves?: readonly string[] | undefined;
  readonly registration?: "impact" | "events";
  /** A shot that is never one of the band's: the one that is judged by it. */
  readonly without?: string;
  /** Times this condition was looked at. */
  readonly times?: number;
}

/** Where the next shot of a condition will fall, by one measure. Unit of the measure. */
export interface UsualMeasure extends RowOfMeasure {
  /** Withheld below 5 shots: then draw the single values. */
  readonly band: UsualBand | Withheld;
  /** Of the shots that count, in the order they were hit; NaN where missing. */
  readonly values: readonly number[];
  /** Mean of what gravity alone explains; 0 where nothing. */
  readonly slopeShare: number;
}

/** Where the whole of the next curve stays. One value a point; empty where nothing is given. Unit of the curve. */
export interface UsualCurve {
  readonly column: string;
  readonly title: string;
  readonly unit: string;
  /** `band`, or `too-few` shots: then draw the single curves. */
  readonly status: "band" | "too-few";
  readonly mean: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly slopeShare: readonly number[];
  /** c of the simultaneous band and the t that would do for one instant; NaN below 5 shots. */
  readonly factor: number;
  readonly pointwiseFactor: number;
  readonly n: number;
  readonly singles?: readonly (readonly number[])[];
}

/** The usual band of one condition of one player. */
export interface Usual {
  readonly kind: "usual";
  readonly name: string;
  /** Shots that count, in the order they were hit. */
  readonly shotIds: readonly string[];
  /** How many do not, by label. */
  readonly leftOut: Readonly<Record<Exclude<ComparedLabel, "kept">, number>>;
  /** More than one: the band holds what differs from day to day too. */
  readonly countSessions: number;
  readonly measures: readonly UsualMeasure[];
  readonly curves: readonly UsualCurve[];
  readonly grid: { readonly kind: "impact" | "events"; readonly firstMs: number; readonly stepMs: number };
  readonly levelOfOne: number;
  readonly looks: Looks;
}

export function usualCurve(
  shots: readonly ComparedShot[],
  column: string,
  registration: NonNullable<ReturnType<typeof registrationOf>>,
): UsualCurve & { readonly band: CurveBand | Withheld } {
  const { countPoints } = registration.grid;
  const curve = registeredCurve(shots, column, registration);
  const { title, unit } = curveKind(column);
  const sigma = new Float64Array(countPoints).fill(curve.sigma);
  const band = curveBand({ values: curve.values, countPoints }, { sigma });
  const rows = shots.map((_, k) => k);
  const meanOf = (values: Float64Array): number[] =>
    Array.from({ length: countPoints }, (_, q) => {
      let sum = 0;
      for (const row of rows) sum += values[row * countPoints + q]!;
      return sum / rows.length;
    });
  const isBand = band.kind === "curve-band";
  const singles = rows.map((row) => Array.from(curve.values.subarray(row * countPoints, (row + 1) * countPoints)));
  return {
    ...{ column, title, unit, band, n: shots.length },
    status: isBand ? "band" : "too-few",
    mean: meanOf(curve.values),
    low: isBand ? Array.from(band.low) : [],
    high: isBand ? Array.from(band.high) : [],
    slopeShare: meanOf(curve.slopeShare),
    factor: isBand ? band.factor : Number.NaN,
    pointwiseFactor: isBand ? band.pointwiseFactor : Number.NaN,
    ...(isBand ? {} : { singles }),
  };
}

/** The shots of a group that make its band: kept ones, without the one that is judged by it. */
export function bandShots({ shots }: ShotGroup, without?: string): readonly ComparedShot[] {
  return inOrderHit(countedShots(shots)).filter(({ shotId }) => shotId !== without);
}

/**
 * The usual band of one condition of one player: by measure, and for whole curves simultaneous.
 *
 * @param group  shots of one condition; those that are not kept are counted and left out
 */
export function usualOf(group: ShotGroup, o: UsualOptions): Usual {
  checkedPlayer(group.shots);
  const shots = bandShots(group, o.without);
  const columns = o.measures ?? allColumns(o.axes);
  const looks: Looks = { countMeasures: columns.length, countPairs: 1, times: o.times ?? 1 };
  const kind = o.registration ?? "impact";
  const curved = (o.curves ?? []).map((column) => ({ column, with: shots.filter((shot) => shot.curves?.has(column)) }));
  const curves = curved.flatMap(({ column, with: own }): UsualCurve[] => {
    const registration = own.length === 0 ? undefined : registrationOf(own, kind);
    if (registration === undefined) return [];
    const { band: _, ...usual } = usualCurve(own, column, registration);
    return [usual];
  });
  const { grid } = registrationOf(shots, shots.length === 0 ? "impact" : kind) ?? {
    grid: { firstMs: -700, stepMs: 2 },
  };
  const countOf = (label: ComparedLabel): number => group.shots.filter((shot) => shot.label === label).length;
  return {
    kind: "usual",
    name: group.name,
    shotIds: shots.map(({ shotId }) => shotId),
    leftOut: { mishit: countOf("mishit"), "set-aside": countOf("set-aside"), invalid: countOf("invalid") },
    countSessions: new Set(shots.map(({ sessionId, day }) => sessionId ?? day)).size,
    measures: columns.map((column): UsualMeasure => {
      const values = shots.map(({ measures }) => measures.get(column)?.value ?? Number.NaN);
      const share = meanOfKnown(shots.map(({ measures }) => measures.get(column)?.slopeShare ?? 0));
      return {
        ...rowOf(column),
        band: usualBand(values, { looks }),
        values,
        slopeShare: Number.isNaN(share) ? 0 : share,
      };
    }),
    curves,
    grid: { kind, firstMs: grid.firstMs, stepMs: grid.stepMs },
    levelOfOne: 0.95,
    looks,
  };
}
