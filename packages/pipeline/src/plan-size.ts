import { UnderfootError } from "@underfoot/domain";
import { detectableDifference, shotsNeeded, typicalError } from "@underfoot/statistics";

export interface PlanSizeQuestion {
  /** Values of one measure in earlier shots, one array a condition, in one unit; NaN is left out. */
  readonly values: readonly (readonly number[])[];
  /** The difference between two conditions that should be seen, in that unit; its sign does not matter. */
  readonly difference: number;
  /** For the sentence: "%", "N", "ms". */
  readonly unit: string;
  /** Shots planned in each of two conditions, for what these could show. */
  readonly counts?: readonly [number, number];
  /** Chance of seeing the difference, 0.8 by default. */
  readonly powerOfOne?: number;
  /** Two-sided level, 0.05 by default, and the measures that share it, 1 by default. */
  readonly alphaOfOne?: number;
  readonly countMeasures?: number;
}

/** How many shots a plan needs. */
export interface PlanSize {
  /** Shots in each of two conditions; undefined where no scatter is known, or 200 are not enough. */
  readonly shots: number | undefined;
  /** The same if the scatter is at its 80 % upper limit. */
  readonly shotsAtUpperLimit: number | undefined;
  /** Smallest true difference that the planned counts show, in the unit of the values; undefined without counts or scatter. */
  readonly detectable: number | undefined;
  /** Scatter of single shots within their condition; undefined where it is not known. */
  readonly sd: number | undefined;
  /** Earlier shots behind it. */
  readonly n: number;
  readonly sentence: string;
}

/** Below this many shots no scatter is known (ours). */
const LEAST_SHOTS = 5;
const DIGITS = 2;

/**
 * How many shots of each of two conditions show a difference, from the player's own scatter (two-sided t test, power 0.8).
 * The scatter is that of single shots within their condition, pooled over conditions (Hopkins 2000); with few shots it is
 * itself uncertain, so the count for its 80 % upper limit is given too (Browne 1995).
 *
 * @throws UnderfootError `plan-difference` where the difference is 0 or no number, `plan-count` where a count is below 2
 */
export function planSize(question: PlanSizeQuestion): PlanSize {
  const { values, difference, unit, counts, ...rest } = question;
  const of = unitOfDifference(unit);
  if (!(Number.isFinite(difference) && difference !== 0))
    throw new UnderfootError({
      code: "plan-difference",
      sentence: `A difference of ${difference} ${of} is nothing that could be looked for.`,
      remedy: "Give the smallest difference that would matter, above 0.",
    });
  if (counts?.some((count) => !(Number.isInteger(count) && count >= 2)))
    throw new UnderfootError({
      code: "plan-count",
      sentence: `${counts.join(" and ")} shots cannot be compared.`,
      remedy: "Plan at least 2 shots of each condition.",
    });
  const counted = values.filter((group) => valid(group).length > 1);
  const n = counted.reduce((sum, group) => sum + valid(group).length, 0);
  const unknown = { shots: undefined, shotsAtUpperLimit: undefined, detectable: undefined, sd: undefined, n };
  if (n < LEAST_SHOTS) return { ...unknown, sentence: tooFew(n) };
  const error = typicalError(counted.map((group) => Float64Array.from(group)));
  if (error.kind === "withheld") return { ...unknown, sentence: tooFew(n) };
  const { value: sd, nu } = error;
  if (!(sd > 0))
    return { ...unknown, sentence: `The ${n} earlier shots do not differ at all, so their scatter says nothing.` };
  const needed = shotsNeeded({ ...rest, difference: Math.abs(difference), sd, nu });
  const detectable =
    counts && detectableDifference({ kind: "two-groups", nA: counts[0], nB: counts[1] }, { ...rest, sd });
  const sentences = [
    countSentence({ shots: needed.n, upper: needed.nAtUpperLimit }, question, { sd, n }),
    ...(detectable === undefined ? [] : [`${counts!.join(" and ")} shots can show ${text(detectable)} ${of}.`]),
  ];
  return {
    shots: needed.n,
    shotsAtUpperLimit: needed.nAtUpperLimit,
    detectable,
    sd,
    n,
    sentence: sentences.join(" "),
  };
}

const valid = (values: readonly number[]): readonly number[] => values.filter((value) => !Number.isNaN(value));
const text = (value: number): string => String(Number(value.toPrecision(DIGITS)));

function tooFew(n: number): string {
  const so =
    n === 0 ? "There is no earlier shot" : n === 1 ? "There is 1 earlier shot" : `There are ${n} earlier shots`;
  return `${so} to take the scatter from; with fewer than ${LEAST_SHOTS} in conditions hit more than once no scatter is known. Hit ${LEAST_SHOTS} shots of one condition first, or plan 10 of each.`;
}

function countSentence(
  { shots, upper }: { readonly shots: number | undefined; readonly upper: number | undefined },
  { difference, unit, powerOfOne = 0.8 }: PlanSizeQuestion,
  { sd, n }: { readonly sd: number; readonly n: number },
): string {
  const of = unitOfDifference(unit);
  const wanted = `${text(Math.abs(difference))} ${of}`;
  const from = `single shots scatter by ${text(sd)} ${of}, from ${n} shots`;
  if (shots === undefined) return `Even 200 shots of each condition are not enough to show ${wanted}: ${from}.`;
  const or = upper === shots ? "" : `, or ${upper ?? "more than 200"} if the scatter is at its upper limit`;
  return `To show ${wanted} in ${Math.round(100 * powerOfOne)} of 100 such sessions, hit ${shots} shots of each condition${or}: ${from}.`;
}

/** Two shares differ by points, not by percent. */
function unitOfDifference(unit: string): string {
  return unit === "%" ? "points" : unit;
}
