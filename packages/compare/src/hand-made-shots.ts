import type { ComparedLabel, ComparedShot } from "./compared-shot.ts";

/** Facts of hand-made shots, and what their measures share. */
export interface HandMade {
  readonly sessionId?: string;
  readonly day?: string;
  readonly player?: string;
  readonly lieName?: string;
  readonly pitchDeg?: number;
  readonly club?: string;
  readonly slopeShare?: number;
  readonly sigmaShared?: number;
  /** Numbers of the shots in the session; every second one by default, so that two intents take turns. */
  readonly ordinals?: readonly number[];
  /** One a shot, kept where left out. */
  readonly labels?: readonly ComparedLabel[];
}

/** Invented shots of one intent for tests: one a value, NaN where it could not be measured. */
export function shotsOf(
  intent: string,
  measures: Readonly<Record<string, readonly number[]>>,
  { slopeShare, sigmaShared = 0, ordinals, labels, ...facts }: HandMade = {},
): readonly ComparedShot[] {
  const count = Math.max(...Object.values(measures).map((values) => values.length));
  const offset = intent.length % 2;
  return Array.from(
    { length: count },
    (_, k): ComparedShot => ({
      shotId: `${intent}-${facts.sessionId ?? "s"}-${k}`,
      label: labels?.[k] ?? "kept",
      sessionId: "s",
      day: "2026-03-17",
      ordinal: ordinals?.[k] ?? 2 * k + offset + 1,
      intent,
      pitchDeg: 0,
      rollDeg: 0,
      impactSource: "marked",
      ...facts,
      measures: new Map(
        Object.entries(measures).map(([column, values]) => [
          column,
          {
            value: values[k] ?? Number.NaN,
            sigma: 1,
            sigmaShared,
            ...(slopeShare === undefined ? {} : { slopeShare }),
          },
        ]),
      ),
    }),
  );
}
