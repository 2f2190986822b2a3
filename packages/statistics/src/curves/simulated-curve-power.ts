import type { Withheld } from "../estimate.ts";
import type { NormalStreams } from "../random.ts";
import type { Values } from "../samples.ts";
import { type Curves, curveScatter } from "../scatter/t-field.ts";
import { curveDifference } from "./curve-difference.ts";

const LEAST_CURVES = 8;
const COUNT_RUNS = 500;
const COUNT_LABELLINGS = 200;
const Z_OF_95 = 1.959963984540054;

/** Share of simulated sessions in which the wanted difference is seen. */
export interface SimulatedPower {
  readonly kind: "simulated-power";
  readonly powerOfOne: number;
  /** 1.96 √(p (1 - p)/runs). */
  readonly halfWidthOfOne: number;
  readonly countRuns: number;
  readonly seed: number;
}

export interface SimulatedPowerOptions {
  readonly seed: number;
  readonly streams: NormalStreams;
  readonly label: string;
  readonly levelOfOne?: number;
  /** 500. */
  readonly countRuns?: number;
  /** Called before each run with the share done; throw in it to stop. */
  readonly onProgress?: (doneOfOne: number) => void;
}

/** A raised cosine: height at its instant, 0 from half the width away. Points, unit of the curves. */
export function raisedCosine(o: {
  readonly countPoints: number;
  readonly height: number;
  readonly atPoint: number;
  readonly widthPoints: number;
}): Float64Array<ArrayBuffer> {
  return Float64Array.from({ length: o.countPoints }, (_, q) => {
    const away = (2 * (q - o.atPoint)) / o.widthPoints;
    return Math.abs(away) < 1 ? (o.height / 2) * (1 + Math.cos(Math.PI * away)) : 0;
  });
}

/**
 * Power for whole curves by simulation: curves mean + Σ g_i r_i/√ν of this player's own residual curves r_i (g_i standard normal), so that their
 * smoothness and scatter are kept; the wanted difference added to half of them; judged as `curveDifference` does, with 200 labellings. Seen where
 * a stretch on the side of the difference touches it. `curvePower` is the quick lower bound.
 *
 * @param band            8 curves or more of one condition, no missing points
 * @param difference      wanted, one value a point (`raisedCosine`, or one seen before)
 * @param countPerCondition  curves a condition, 4 or more
 */
export function simulatedCurvePower(
  band: Curves,
  o: { readonly difference: Values; readonly countPerCondition: number },
  options: SimulatedPowerOptions,
): SimulatedPower | Withheld {
  const scatter = curveScatter(band);
  const { countCurves, residuals } = scatter;
  if (countCurves < LEAST_CURVES)
    return { kind: "withheld", reason: "too-few", n: [countCurves], needed: LEAST_CURVES };
  const { countPoints } = band;
  const n = o.countPerCondition;
  const random = options.streams(options.seed, options.label);
  const groups = Array.from({ length: 2 * n }, (_, k) => (k < n ? 0 : 1));
  const countRuns = options.countRuns ?? COUNT_RUNS;
  const perRoot = 1 / Math.sqrt(countCurves - 1);
  const values = new Float64Array(2 * n * countPoints);
  const draw = (shot: number): void => {
    const at = shot * countPoints;
    for (let q = 0; q < countPoints; q++) values[at + q] = scatter.mean[q]! + groups[shot]! * o.difference[q]!;
    for (let i = 0; i < countCurves; i++) {
      const weight = random.normal() * perRoot;
      for (let q = 0; q < countPoints; q++) values[at + q]! += weight * residuals[i * countPoints + q]!;
    }
  };
  let seen = 0;
  for (let run = 0; run < countRuns; run++) {
    options.onProgress?.(run / countRuns);
    for (let shot = 0; shot < 2 * n; shot++) draw(shot);
    const result = curveDifference(
      [{ values, countPoints }],
      { groups },
      {
        seed: options.seed,
        streams: options.streams,
        label: `${options.label}/${run}`,
        countDrawn: COUNT_LABELLINGS,
        mostExact: COUNT_LABELLINGS,
        ...(options.levelOfOne === undefined ? {} : { levelOfOne: options.levelOfOne }),
      },
    );
    if (result.kind === "withheld") return result;
    if (isSeen(result.curves[0]!.stretches, o.difference)) seen++;
  }
  const powerOfOne = seen / countRuns;
  return {
    kind: "simulated-power",
    powerOfOne,
    halfWidthOfOne: Z_OF_95 * Math.sqrt((powerOfOne * (1 - powerOfOne)) / countRuns),
    countRuns,
    seed: options.seed,
  };
}

function isSeen(
  stretches: readonly { readonly firstPoint: number; readonly lastPoint: number; readonly side: "above" | "below" }[],
  difference: Values,
): boolean {
  return stretches.some(({ firstPoint, lastPoint, side }) => {
    const sign = side === "above" ? 1 : -1;
    for (let q = firstPoint; q <= lastPoint; q++) if (sign * difference[q]! > 0) return true;
    return false;
  });
}
