import { studentQuantile } from "../distributions/student-t.ts";
import { checkedLevel, LEVEL_OF_ONE, type Withheld } from "../estimate.ts";
import { mean, squaresAboutMean, type Values, validValues } from "../samples.ts";

const LEAST_SESSIONS = 4;

/** How sessions without an intended change differ, and what a change must exceed. */
export interface SessionScatter {
  readonly kind: "session-scatter";
  /** Variance between sessions beyond that of their shots, unit squared; 0 where none is seen. */
  readonly varianceSession: number;
  /** Variance of shots within sessions, unit squared. */
  readonly varianceShot: number;
  readonly meanSquareBetween: number;
  /** Mean number of shots a session that the mean squares stand for. */
  readonly n0: number;
  readonly nu: number;
  /** What two sessions of `countShots` shots must differ by to leave the scatter. */
  readonly mdcSession: number;
  readonly countShots: number;
  readonly levelOfOne: number;
  readonly n: readonly number[];
  readonly method: "session-scatter";
}

/**
 * Scatter between sessions, σ_S² = max(0, (MSB - MSW)/n0), n0 = (Σn - Σn²/Σn)/(J - 1), and the smallest change between two sessions
 * of n shots that leaves it, t_{J-1} √(2(σ_S² + σ²/n)).
 *
 * @param sessions  shots of each session of the reference phase, unit of the measure; NaN is left out, as are sessions without a value
 * @returns         `withheld` below 4 sessions, or where no session has two shots
 */
export function sessionScatter(
  sessions: readonly Values[],
  o: { readonly countShots: number; readonly levelOfOne?: number },
): SessionScatter | Withheld {
  const levelOfOne = checkedLevel(o.levelOfOne ?? LEVEL_OF_ONE);
  const valid = sessions.map(validValues).filter((shots) => shots.length > 0);
  const n = valid.map((shots) => shots.length);
  const J = valid.length;
  const total = n.reduce((sum, count) => sum + count, 0);
  if (J < LEAST_SESSIONS || total === J) return { kind: "withheld", reason: "too-few", n, needed: LEAST_SESSIONS };
  const centre = valid.reduce((sum, shots) => sum + shots.length * mean(shots), 0) / total;
  const between = valid.reduce((sum, shots) => sum + shots.length * (mean(shots) - centre) ** 2, 0) / (J - 1);
  const varianceShot = valid.reduce((sum, shots) => sum + Math.max(0, squaresAboutMean(shots)), 0) / (total - J);
  const n0 = (total - n.reduce((sum, count) => sum + count * count, 0) / total) / (J - 1);
  const varianceSession = Math.max(0, (between - varianceShot) / n0);
  const quantile = studentQuantile((1 + levelOfOne) / 2, J - 1);
  return {
    kind: "session-scatter",
    varianceSession,
    varianceShot,
    meanSquareBetween: between,
    n0,
    nu: J - 1,
    mdcSession: quantile * Math.sqrt(2 * (varianceSession + varianceShot / o.countShots)),
    countShots: o.countShots,
    levelOfOne,
    n,
    method: "session-scatter",
  };
}
