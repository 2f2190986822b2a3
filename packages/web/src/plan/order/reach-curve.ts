import { detectableDifference } from "@underfoot/statistics";

/** What so many shots of each of two conditions can show, in the unit of the scatter. */
export interface ReachPoint {
  readonly shots: number;
  readonly difference: number;
}

const FEWEST = 3;
/** Drawn at least this far, and a half beyond the chosen count. */
const LEAST_SHOWN = 24;

/** The smallest true difference that is seen with power 0.8, by shots of each condition: a falling curve. */
export function reachCurve(sd: number, chosenShots: number | undefined): readonly ReachPoint[] {
  const most = Math.min(200, Math.max(LEAST_SHOWN, Math.ceil(1.5 * (chosenShots ?? 0))));
  return Array.from({ length: most - FEWEST + 1 }, (_, k) => {
    const shots = FEWEST + k;
    return { shots, difference: detectableDifference({ kind: "two-groups", nA: shots, nB: shots }, { sd }) };
  });
}
