import { studentQuantile } from "@underfoot/statistics";

/** About what so many shots of each of two conditions can show, in the unit of the scatter. */
export interface ReachPoint {
  readonly shots: number;
  readonly difference: number;
}

const FEWEST = 3;
const MOST = 200;
/** Drawn at least this far, and a half beyond the chosen count. */
const LEAST_SHOWN = 24;
const LEVEL = 0.05;
const POWER = 0.8;

/** Every count while the curve is steep, then farther and farther apart; the chosen one is among them. */
function countsTo(most: number, chosenShots: number | undefined): readonly number[] {
  const counts = new Set(chosenShots === undefined || chosenShots < FEWEST ? [] : [Math.min(chosenShots, most)]);
  for (let shots = FEWEST; shots < most; shots += Math.max(1, Math.floor(shots / 8))) counts.add(shots);
  return [...counts.add(most)].sort((a, b) => a - b);
}

/**
 * About the smallest true difference that is seen with power 0.8, by shots n of each condition: a falling curve,
 *
 *   s √(2/n) (t_{0.975, 2n-2} + t_{0.8, 2n-2})
 *
 * a textbook approximation of the noncentral t (from memory), within 1.5 % of it from 3 shots on, and fast enough to be
 * drawn while a person types. The count itself is computed exactly, elsewhere.
 */
export function reachCurve(sd: number, chosenShots: number | undefined): readonly ReachPoint[] {
  const most = Math.min(MOST, Math.max(LEAST_SHOWN, Math.ceil(1.5 * (chosenShots ?? 0))));
  return countsTo(most, chosenShots).map((shots) => {
    const nu = 2 * shots - 2;
    const noncentrality = studentQuantile(1 - LEVEL / 2, nu) + studentQuantile(POWER, nu);
    return { shots, difference: sd * Math.sqrt(2 / shots) * noncentrality };
  });
}
