import type { PlayerAxes } from "@underfoot/domain";
import { CATALOGUE, type CatalogueEntry } from "./catalogue.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { measureAt } from "./measures-at.ts";
import { isMotion, measureMotion } from "./measures-motion.ts";
import { measurePeak } from "./measures-peak.ts";
import { measureDuration, measurePeakGap, measurePeakOrder, measureTempo } from "./measures-timing.ts";
import { measureDip, measureImpulse, measurePath, measureRange, measureRise } from "./measures-window.ts";
import type { Measure, Shot } from "./shot.ts";
import { type ShotMoments, shotMoments } from "./shot-moments.ts";

/**
 * Every measure of the catalogue, in its order: one entry for each version of the axes in which it is given.
 *
 * Values and sigmas in the catalogue's units; forces in N (`bwFromN` with the shot's weight gives BW). What cannot be
 * measured is there too, with `isValid: false` and the reason in `why`. Pure: the same shot gives the same numbers.
 */
export function measuresFromShot(shot: Shot): Measure[] {
  const moments = shotMoments(shot);
  return CATALOGUE.flatMap((entry) =>
    entry.axes.map((axes) => named(entry, axes, whole(estimate(entry, axes, moments)))),
  );
}

function estimate(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  if (isMotion(entry)) return measureMotion(entry, axes, moments);
  switch (entry.statistic) {
    case "at":
      return measureAt(entry, axes, moments);
    case "peak":
    case "peakTime":
    case "min":
    case "minTime":
      return measurePeak(entry, axes, moments);
    case "impulse":
      return measureImpulse(entry, axes, moments);
    case "rise":
      return measureRise(entry, axes, moments);
    case "dip":
      return measureDip(entry, axes, moments);
    case "range":
      return measureRange(entry, axes, moments);
    case "path":
      return measurePath(moments);
    case "duration":
      return measureDuration(entry, moments);
    case "ratio":
      return measureTempo(moments);
    case "targetToAhead":
    case "aheadToUp":
    case "targetToUp":
      return measurePeakGap(entry, axes, moments);
    case "text":
      return measurePeakOrder(axes, moments);
    case "mean":
      return weight(moments.shot);
  }
}

function weight({ weightN, weightSigmaN }: Shot): Estimate {
  if (!Number.isFinite(weightN)) return notValid("nobody stands on the plates");
  return { value: weightN, ownVariance: 0, sharedVariance: weightSigmaN ** 2 };
}

/** A value whose uncertainty cannot be formed touches something missing: it is not given either. */
function whole(found: Estimate): Estimate {
  if (found.why !== undefined || found.text !== undefined) return found;
  return Number.isFinite(found.value + found.ownVariance + found.sharedVariance) ? found : notValid(WHY.gap);
}

function named(entry: CatalogueEntry, axes: PlayerAxes | undefined, found: Estimate): Measure {
  const { value, ownVariance, sharedVariance, slopeShare, text, isAtLeast, why } = found;
  return {
    id: entry.id,
    value,
    ...(text === undefined ? {} : { text }),
    unit: entry.unit,
    sigma: Math.sqrt(ownVariance + sharedVariance),
    sigmaShared: Math.sqrt(sharedVariance),
    axes,
    ...(slopeShare === undefined ? {} : { slopeShare }),
    ...(isAtLeast === undefined ? {} : { isAtLeast }),
    isValid: why === undefined,
    ...(why === undefined ? {} : { why }),
  };
}
