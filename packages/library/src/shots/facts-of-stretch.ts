import type { PlateFact, ShotFacts } from "@underfoot/domain";
import type { Stretch } from "@underfoot/pipeline";

/** A part of a recording: from its first sample, at its rate, among so many shots of the same recording. */
interface Part {
  readonly stretch: Stretch;
  readonly rateHz: number;
  readonly isOnlyShot: boolean;
}

function plateFactOf(fact: PlateFact, startS: number, lengthS: number): PlateFact {
  const { zero, clock, ...others } = fact;
  const moved = clock && { ...clock, offsetS: clock.offsetS + clock.drift * startS };
  const isInside = Array.isArray(zero) && zero[0] >= startS && zero[1] <= startS + lengthS;
  const zeroOf = Array.isArray(zero)
    ? isInside
      ? { zero: [zero[0] - startS, zero[1] - startS] as const }
      : {}
    : zero === undefined
      ? {}
      : { zero };
  return { ...others, ...zeroOf, ...(moved ? { clock: moved } : {}) };
}

/**
 * What is said of a whole recording, as it holds for one shot in it: times count from the shot's first sample, events
 * and zeros outside are left out, and so is the ball's result where it may be that of another shot.
 */
export function factsOfStretch(facts: ShotFacts, { stretch, rateHz, isOnlyShot }: Part): ShotFacts {
  const startS = stretch.first / rateHz;
  const lengthS = (stretch.end - stretch.first) / rateHz;
  if (startS === 0 && isOnlyShot) return facts;
  const { result, ...others } = facts;
  return {
    ...others,
    plates: facts.plates.map((fact) => plateFactOf(fact, startS, lengthS)),
    events: facts.events
      .map(({ fromS, ...event }) => ({
        ...event,
        timeS: event.timeS - startS,
        ...(fromS === undefined ? {} : { fromS: fromS - startS }),
      }))
      .filter(({ timeS }) => timeS >= 0 && timeS < lengthS),
    ...(result && isOnlyShot ? { result } : {}),
  };
}
