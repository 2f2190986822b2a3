import type { EventName, PlayerAxes } from "@underfoot/domain";
import type { CatalogueEntry } from "./catalogue.ts";
import type { QuantityName } from "./catalogue-words.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { findExtremum, spreadOfTime } from "./measures-peak.ts";
import type { ShotEvent } from "./shot.ts";
import type { ShotMoments } from "./shot-moments.ts";

/** Peaks are compared in a window this much wider than top to impact, s. */
const PEAK_WINDOW_AROUND_S = 0.15;
/** Two peaks closer than this many sigmas of their difference are called together. */
const TOGETHER_SIGMAS = 2;

function eventsOf(moments: ShotMoments, names: readonly EventName[]): readonly ShotEvent[] | string {
  const found: ShotEvent[] = [];
  for (const name of names) {
    const moment = moments.events.get(name);
    if (moment === undefined) return `${name} not found`;
    found.push(moment.event);
  }
  return found;
}

/** Time between two events, ms. */
export function measureDuration(entry: CatalogueEntry, moments: ShotMoments): Estimate {
  const events = eventsOf(moments, entry.quantity === "both.backswing" ? ["start", "top"] : ["top", "impact"]);
  if (typeof events === "string") return notValid(events);
  const [from, to] = events as [ShotEvent, ShotEvent];
  return {
    value: 1000 * (to.timeS - from.timeS),
    ownVariance: from.sigmaMs ** 2 + to.sigmaMs ** 2,
    sharedVariance: 0,
  };
}

/** Backswing over downswing; an error of top lengthens one and shortens the other. */
export function measureTempo(moments: ShotMoments): Estimate {
  const events = eventsOf(moments, ["start", "top", "impact"]);
  if (typeof events === "string") return notValid(events);
  const [start, top, impact] = events as [ShotEvent, ShotEvent, ShotEvent];
  const downMs = 1000 * (impact.timeS - top.timeS);
  const ratio = (1000 * (top.timeS - start.timeS)) / downMs;
  return {
    value: ratio,
    ownVariance:
      (start.sigmaMs / downMs) ** 2 +
      (((1 + ratio) * top.sigmaMs) / downMs) ** 2 +
      ((ratio * impact.sigmaMs) / downMs) ** 2,
    sharedVariance: 0,
  };
}

type ForceName = "target" | "ahead" | "up";

interface ForcePeak {
  readonly name: ForceName;
  readonly timeMs: number;
  readonly ownVariance: number;
  readonly sharedVariance: number;
}

/** Where a total force peaks between top - 150 ms and impact + 150 ms; not asked whether it has two peaks. */
function forcePeak(name: ForceName, axes: PlayerAxes | undefined, moments: ShotMoments): ForcePeak | string {
  const events = eventsOf(moments, ["top", "impact"]);
  if (typeof events === "string") return events;
  const { rateHz, sampleCount } = moments.shot;
  const [top, impact] = events as [ShotEvent, ShotEvent];
  const first = Math.max(0, (top.timeS - PEAK_WINDOW_AROUND_S) * rateHz);
  const last = Math.min(sampleCount - 1, (impact.timeS + PEAK_WINDOW_AROUND_S) * rateHz);
  const quantity: QuantityName = `both.${name}`;
  const found = findExtremum(quantity, axes, moments, first, last, 1);
  if (typeof found === "string") return found;
  const spread = spreadOfTime(found, moments);
  return {
    name,
    timeMs: (found.moment.position * 1000) / rateHz,
    ownVariance: spread.noise + spread.clock,
    sharedVariance: spread.shared,
  };
}

const GAPS = {
  targetToAhead: ["target", "ahead"],
  aheadToUp: ["ahead", "up"],
  targetToUp: ["target", "up"],
} as const;

/** Time between the peaks of two total forces, ms, + where the first named comes first. */
export function measurePeakGap(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const [firstName, thenName] = GAPS[entry.statistic as keyof typeof GAPS];
  const first = forcePeak(firstName, axes, moments);
  if (typeof first === "string") return notValid(first);
  const then = forcePeak(thenName, axes, moments);
  if (typeof then === "string") return notValid(then);
  if (!Number.isFinite(first.ownVariance + then.ownVariance)) return notValid(WHY.noPeak);
  return {
    value: then.timeMs - first.timeMs,
    ownVariance: first.ownVariance + then.ownVariance,
    sharedVariance: first.sharedVariance + then.sharedVariance,
  };
}

/**
 * The three total forces in the order of their peaks, in words: "target, ahead, up"; two that are closer than two sigmas of
 * their difference are joined: "target, ahead and up together".
 */
export function measurePeakOrder(axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const peaks: ForcePeak[] = [];
  for (const name of ["target", "ahead", "up"] as const) {
    const peak = forcePeak(name, axes, moments);
    if (typeof peak === "string") return notValid(peak);
    peaks.push(peak);
  }
  if (peaks.every(({ ownVariance }) => !Number.isFinite(ownVariance))) return notValid(WHY.noPeak);
  peaks.sort((a, b) => a.timeMs - b.timeMs);
  const groups: ForceName[][] = [];
  peaks.forEach((peak, i) => {
    const before = peaks[i - 1];
    const isTogether =
      before !== undefined &&
      peak.timeMs - before.timeMs <
        TOGETHER_SIGMAS *
          Math.sqrt(peak.ownVariance + peak.sharedVariance + before.ownVariance + before.sharedVariance);
    if (isTogether) groups.at(-1)!.push(peak.name);
    else groups.push([peak.name]);
  });
  return { value: Number.NaN, ownVariance: Number.NaN, sharedVariance: Number.NaN, text: wordsOf(groups) };
}

function wordsOf(groups: readonly (readonly ForceName[])[]): string {
  return groups
    .map((names) => (names.length === 1 ? names[0]! : `${names.slice(0, -1).join(", ")} and ${names.at(-1)} together`))
    .join(", ");
}
