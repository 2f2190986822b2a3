import { scaled, sum, type Vector } from "@underfoot/domain";
import { type TurfAxes, turfFromLab } from "./axes.ts";
import type { CarriedFoot } from "./carried-feet.ts";
import { lowPassed } from "./filtered-feet.ts";
import { centreMoment } from "./player-wrench.ts";
import type { Window } from "./quiet-window.ts";
import type { Settings } from "./settings.ts";
import type { PlateSigmas, PlayerWrench } from "./shot.ts";
import { validSd } from "./valid-mean.ts";

export interface PlateSigmasOptions {
  readonly axes: TurfAxes;
  readonly referenceM: Vector;
  readonly window: Window;
  readonly rateHz: number;
  readonly cutoffHz: number | undefined;
  readonly settings: Settings;
}

/** Cut-off against which noise is told from signal where nothing was filtered, Hz. */
const NOISE_CUTOFF_HZ = 25;

/**
 * How wrong a plate may be: sizes from the settings, noise as the sd of raw minus filtered in the quiet window, the
 * moments' about the plate's own centre.
 */
export function plateSigmas(foot: CarriedFoot, filtered: PlayerWrench, options: PlateSigmasOptions): PlateSigmas {
  const { axes, referenceM, window, rateHz, cutoffHz, settings } = options;
  const centre = turfFromLab(axes, sum(foot.plate.frame.centreM, scaled(referenceM, -1)));
  const smooth = cutoffHz === undefined ? lowPassed(foot.unfiltered, { cutoffHz: NOISE_CUTOFF_HZ, rateHz }) : filtered;
  const residual = centredResidual(foot.unfiltered, smooth, { window, centre, hand: axes.hand });
  const sd = residual.map((column) => validSd(column, 0, column.length));
  return {
    centre,
    noiseN: { target: sd[0]!, ahead: sd[1]!, up: sd[2]! },
    noiseNm: { target: sd[3]!, ahead: sd[4]!, up: sd[5]! },
    zeroN: settings.zeroSigmaN,
    zeroNm: settings.zeroSigmaNm,
    gain: settings.gainSigma,
    crosstalk: settings.crosstalkSigma,
    placeM: settings.placeSigmaM,
  };
}

/** Raw minus filtered in the window: force and moment about the plate's centre, turf player axes. */
function centredResidual(
  raw: PlayerWrench,
  smooth: PlayerWrench,
  { window, centre, hand }: { window: Window; centre: PlateSigmas["centre"]; hand: 1 | -1 },
): Float64Array<ArrayBuffer>[] {
  const count = window.end - window.first;
  const out = [0, 1, 2, 3, 4, 5].map(() => new Float64Array(count));
  for (let k = 0; k < count; k++) {
    const i = window.first + k;
    const w = {
      targetN: raw.targetN[i]! - smooth.targetN[i]!,
      aheadN: raw.aheadN[i]! - smooth.aheadN[i]!,
      upN: raw.upN[i]! - smooth.upN[i]!,
      bTargetNm: raw.bTargetNm[i]! - smooth.bTargetNm[i]!,
      bAheadNm: raw.bAheadNm[i]! - smooth.bAheadNm[i]!,
      turnNm: raw.turnNm[i]! - smooth.turnNm[i]!,
    };
    const moment = centreMoment(w, centre, hand);
    out[0]![k] = w.targetN;
    out[1]![k] = w.aheadN;
    out[2]![k] = w.upN;
    out[3]![k] = moment.target;
    out[4]![k] = moment.ahead;
    out[5]![k] = moment.up;
  }
  return out;
}
