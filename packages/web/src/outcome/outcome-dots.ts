import type { Outcome, OutcomeMeasure } from "@underfoot/compare";
import { domainOutward, type ScaleDomain } from "@underfoot/report";

/** Told apart by shape, so that no colour is needed. */
export const SHAPES = ["circle", "square", "triangle", "diamond", "downward", "cross"] as const;
export type Shape = (typeof SHAPES)[number];

/** A condition as a picture names it: the same words on several days have one shape. */
export interface ShapedCondition {
  readonly name: string;
  readonly shape: Shape;
  readonly countShots: number;
}

export interface OutcomeDot {
  readonly shotId: string;
  readonly value: number;
  readonly result: number;
  readonly isMishit: boolean;
  readonly shape: Shape;
  /** Name of its condition. */
  readonly condition: string;
  /** Dots that would cover each other stand beside each other: 0, 1, −1, 2, ... */
  readonly aside: number;
}

const nameOf = ({ intent, lie, club }: Outcome["conditions"][number]): string =>
  [intent, lie, club].filter((word) => word !== undefined && word !== "").join(", ") || "not said";

/** Every condition name with its shape; where there are more names than shapes the last shape is for all further ones. */
export function shapedConditions(conditions: Outcome["conditions"]): readonly ShapedCondition[] {
  const counts = new Map<string, number>();
  for (const condition of conditions) counts.set(nameOf(condition), (counts.get(nameOf(condition)) ?? 0) + condition.n);
  return [...counts].map(([name, countShots], k) => ({
    name,
    shape: SHAPES[Math.min(k, SHAPES.length - 1)] ?? "circle",
    countShots,
  }));
}

/** Steps to the side in the order they are taken: 0, 1, −1, 2, −2. */
const sideStep = (k: number): number => (k % 2 === 1 ? (k + 1) / 2 : -k / 2) + 0;

/**
 * The dots of a picture. A yes or no stands on one of two lines: dots of one line that are nearer than `nearValue` take places beside each other.
 * @param nearValue  unit of the measure: what a dot is wide
 */
export function outcomeDots(
  { points }: Pick<OutcomeMeasure, "points">,
  outcome: Pick<Outcome, "outcome" | "conditions">,
  nearValue: number,
): readonly OutcomeDot[] {
  const shaped = new Map(shapedConditions(outcome.conditions).map((one) => [one.name, one]));
  const isTwoLines = outcome.outcome === "mishit";
  const placed: { value: number; result: number; aside: number }[] = [];
  return points
    .filter(({ value, outcome: result }) => Number.isFinite(value) && Number.isFinite(result))
    .map(({ shotId, value, outcome: result, condition, isMishit }) => {
      const known = outcome.conditions[condition];
      const name = known === undefined ? "not said" : nameOf(known);
      const near = placed.filter((one) => one.result === result && Math.abs(one.value - value) < nearValue);
      const taken = new Set(near.map(({ aside }) => aside));
      let k = 0;
      while (isTwoLines && taken.has(sideStep(k))) k++;
      const aside = sideStep(k);
      placed.push({ value, result, aside });
      return { shotId, value, result, isMishit, aside, condition: name, shape: shaped.get(name)?.shape ?? "circle" };
    });
}

/** Scales of a picture: the measure across, the result up. */
export function outcomeDomains(dots: readonly OutcomeDot[]): {
  readonly across: ScaleDomain;
  readonly up: ScaleDomain;
} {
  const least = 1e-3;
  return {
    across: domainOutward(
      Float64Array.from(dots, ({ value }) => value),
      [],
      least,
    ),
    up: domainOutward(
      Float64Array.from(dots, ({ result }) => result),
      [],
      least,
    ),
  };
}

/** Least shots that a number is printed for, and for words on it. */
const LEAST_FOR_NUMBER = 8;
const LEAST_FOR_WORDS = 10;
const LEAST_OF_EACH = 4;

/** What is missing before a number, or words, may be given; empty where nothing is. */
export function neededText(dots: readonly OutcomeDot[], outcome: Outcome["outcome"]): string {
  const count = dots.length;
  if (outcome === "mishit") {
    const mishits = dots.filter(({ isMishit }) => isMishit).length;
    const clean = count - mishits;
    if (mishits >= LEAST_OF_EACH && clean >= LEAST_OF_EACH && count >= LEAST_FOR_WORDS) return "";
    return `${shots(mishits, "mishit")} and ${shots(clean, "clean shot")}: a number needs ${LEAST_OF_EACH} of each, and ${LEAST_FOR_WORDS} together for words.`;
  }
  if (count >= LEAST_FOR_WORDS) return "";
  const more = (least: number): string => `${shots(least - count, "more shot")}`;
  return count < LEAST_FOR_NUMBER
    ? `${shots(count, "shot")} with a known result: only the dots are shown. A number needs ${more(LEAST_FOR_NUMBER)}, words need ${more(LEAST_FOR_WORDS)}.`
    : `${shots(count, "shot")} with a known result: words need ${more(LEAST_FOR_WORDS)}.`;
}

const shots = (count: number, one: string): string => `${count} ${one}${count === 1 ? "" : "s"}`;
