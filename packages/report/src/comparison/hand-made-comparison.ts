import {
  type ComparedLabel,
  type ComparedShot,
  type Comparison,
  type ComparisonOptions,
  comparison,
} from "@underfoot/compare";
import { random } from "@underfoot/domain";

/** Facts of one side for tests. All shots are invented. */
export interface HandMadeSide {
  readonly name: string;
  /** By column, one a shot; NaN where it could not be measured. */
  readonly values: Readonly<Record<string, readonly number[]>>;
  readonly slopeShare?: number;
  readonly sigmaShared?: number;
  readonly pitchDeg?: number;
  readonly club?: string;
  readonly shoes?: string;
  readonly layout?: string;
  readonly day?: string;
  /** Numbers in the session; every second one by default, so that the sides take turns. */
  readonly ordinals?: readonly number[];
  readonly labels?: readonly ComparedLabel[];
}

export function handMadeShots(side: HandMadeSide, offset = 0): readonly ComparedShot[] {
  const { name, values, slopeShare, sigmaShared = 0, ordinals, labels, pitchDeg = 0, day = "2026-03-17" } = side;
  const { club = "sand wedge", shoes = "spikeless", layout = "first" } = side;
  const count = Math.max(...Object.values(values).map((of) => of.length));
  return Array.from({ length: count }, (_, k) => ({
    shotId: `${name}-${k}`,
    label: labels?.[k] ?? "kept",
    sessionId: day,
    day,
    ordinal: ordinals?.[k] ?? 2 * k + 1 + offset,
    intent: name,
    pitchDeg,
    rollDeg: 0,
    club,
    shoes,
    layout,
    impactSource: "marked",
    measures: new Map(
      Object.entries(values).map(([column, of]) => [
        column,
        { value: of[k] ?? Number.NaN, sigma: 1, sigmaShared, ...(slopeShare === undefined ? {} : { slopeShare }) },
      ]),
    ),
  }));
}

/** Two hand-made sides compared. */
export function handMadeComparison(
  a: HandMadeSide,
  b: HandMadeSide,
  options: Partial<ComparisonOptions> = {},
): Comparison {
  return comparison({
    a: { name: a.name, shots: handMadeShots(a) },
    b: { name: b.name, shots: handMadeShots(b, 1) },
    measures: [...new Set([...Object.keys(a.values), ...Object.keys(b.values)])],
    axes: "turf",
    seed: 1,
    streams: random,
    ...options,
  });
}
