import type { Column, Finding, PlayerVector, Samples } from "@underfoot/domain";
import { mean } from "@underfoot/signal";
import { type LevelFromTurf, levelVector } from "./axes.ts";
import { closingWindow } from "./closing-window.ts";
import { shotFindings } from "./faults.ts";
import { type Closing, closedSpeed, closingVariance, comSpeed, comTravel, middleSample } from "./motion.ts";
import { motionSigmas } from "./motion-sigma.ts";
import type { ForceColumns, Window } from "./quiet-window.ts";
import type { Settings } from "./settings.ts";
import type { MotionSeries, PlayerWrench } from "./shot.ts";

export interface ShotMotionOptions {
  readonly rateHz: number;
  readonly massKg: number;
  readonly massSigmaKg: number;
  readonly gravityMPerS2: number;
  readonly weightN: number;
  readonly window: Window;
  readonly quietN: PlayerVector;
  readonly driftMPerS2: PlayerVector;
  readonly level: LevelFromTurf;
  /** Total force, 10 Hz low-pass, turf axes. */
  readonly slow: ForceColumns;
  /** Lead foot's share of load, 0..1; NaN throughout where one plate carries both feet. */
  readonly leadShare: Samples;
  readonly impactS: number | undefined;
  readonly settings: Settings;
}

/** Motion of the centre of mass on both versions of the player axes. */
export interface ShotMotion {
  readonly turf: MotionSeries;
  readonly level: MotionSeries;
  readonly closing: "closed" | "open";
  readonly findings: readonly Finding[];
}

/** One axis: velocity, displacement, one sigma of each. */
interface AxisMotion {
  readonly speed: Column;
  readonly travel: Column;
  readonly speedSigma: Column;
  readonly travelSigma: Column;
}

const PARTS = ["target", "ahead", "up"] as const;
/** A speed at the second stance beyond this many sigma means that the zero moved (ours). */
const DRIFT_SIGMAS = 3;

/**
 * Velocity and displacement of the centre of mass, from the unfiltered total force less that of the quiet stance,
 * integrated on level axes and turned to turf axes; closed by a second quiet stance where there is one.
 *
 * sd of the speed at the quiet window's middle: sigma_vq / sqrt(1 + 2 D), D its length in s (by simulation).
 */
export function shotMotion(total: PlayerWrench, options: ShotMotionOptions): ShotMotion {
  const { window, rateHz, quietN, level, slow, weightN, settings } = options;
  const middle = middleSample(window);
  const earliest = Math.max(window.end, Math.ceil((options.impactS ?? 0) * rateHz));
  const quiet = [quietN.target, quietN.ahead, quietN.up] as const;
  const after = closingWindow(slow, quiet, { rateHz, weightN, earliest });
  const shift = shareIntegrals(options, middle);
  const levelQuiet = levelVector(level, quietN);
  const lengthS = (window.end - window.first) / rateHz;
  const findings: Finding[] = [];
  let isClosed = after !== undefined;
  const axes = PARTS.map((part) => {
    const open = comSpeed(levelColumn(total, level[part]), {
      rateHz,
      massKg: options.massKg,
      quietN: levelQuiet[part],
      window,
    });
    const sway = part === "up" ? settings.swaySpeedUpMPerS : settings.swaySpeedMPerS;
    const sigma0 = sway / Math.sqrt(1 + 2 * lengthS);
    const sigmaB = options.driftMPerS2[part];
    const e = part === "up" ? settings.gainSigma : settings.crosstalkSigma;
    const shiftMPerS2 = e * Math.SQRT2 * options.gravityMPerS2;
    const closing = after && closingOf(open, { after, middle, rateHz, sigma0, sigmaB, shiftMPerS2, shift, settings });
    if (closing === undefined) isClosed = false;
    else {
      const limit = DRIFT_SIGMAS * Math.sqrt(closingVariance(closing));
      if (Math.abs(closing.speedMPerS) > limit) findings.push(shotFindings.zeroDrift(part, closing.speedMPerS, limit));
    }
    return axisMotion(open, {
      rateHz,
      middle,
      sigma0,
      sigmaB,
      massShare: options.massSigmaKg / options.massKg,
      shiftMPerS2,
      shiftS: shift.once,
      shiftS2: shift.twice,
      closing,
    });
  });
  const [target, ahead, up] = axes as [AxisMotion, AxisMotion, AxisMotion];
  const levelSeries = seriesOf("level", [target, ahead, up]);
  return {
    level: levelSeries,
    turf: seriesOf("turf", turned([target, ahead, up], level)),
    closing: isClosed ? "closed" : "open",
    findings,
  };
}

function closingOf(
  open: Column,
  o: {
    readonly after: Window;
    readonly middle: number;
    readonly rateHz: number;
    readonly sigma0: number;
    readonly sigmaB: number;
    readonly shiftMPerS2: number;
    readonly shift: { readonly once: Column };
    readonly settings: Settings;
  },
): Closing | undefined {
  const { after, middle, rateHz, sigma0, sigmaB } = o;
  const speedMPerS = mean(open, after.first, after.end);
  if (!Number.isFinite(speedMPerS)) return undefined;
  const afterS = ((after.first + after.end - 1) / 2 - middle) / rateHz;
  const shifted = o.shiftMPerS2 * o.shift.once[middleSample(after)]!;
  const sigmaE = Math.hypot(o.settings.closingSpeedMPerS, shifted);
  return { afterS, speedMPerS, sigma0, sigmaB, sigmaE };
}

function axisMotion(open: Column, o: Parameters<typeof motionSigmas>[2]): AxisMotion {
  const { rateHz, middle, closing } = o;
  const speed = closing === undefined ? open : closedSpeed(open, { rateHz, middle, closing });
  const travel = comTravel(speed, { rateHz, middle });
  const sigmas = motionSigmas(speed, travel, o);
  return { speed, travel, speedSigma: sigmas.speedMPerS, travelSigma: sigmas.travelM };
}

/** One level component of the total force. */
function levelColumn({ targetN, aheadN, upN }: PlayerWrench, row: PlayerVector): Column {
  const out = new Float64Array(upN.length);
  const { target, ahead, up } = row;
  for (let i = 0; i < out.length; i++) out[i] = target * targetN[i]! + ahead * aheadN[i]! + up * upN[i]!;
  return out;
}

/** ∫ (s - s_q) dt from the quiet window's middle, s, and its integral, s²; a missing share counts as s_q. */
function shareIntegrals(
  { leadShare, window, rateHz }: ShotMotionOptions,
  middle: number,
): { readonly once: Column; readonly twice: Column } {
  let sum = 0;
  let count = 0;
  for (let i = window.first; i < window.end; i++) {
    const share = leadShare[i]!;
    if (Number.isNaN(share)) continue;
    sum += share;
    count++;
  }
  const quiet = count > 0 ? sum / count : 0;
  const excess = new Float64Array(leadShare.length);
  for (let i = 0; i < excess.length; i++) {
    const share = leadShare[i]!;
    excess[i] = !Number.isNaN(share) ? share - quiet : 0;
  }
  const once = comTravel(excess, { rateHz, middle });
  return { once, twice: comTravel(once, { rateHz, middle }) };
}

/** The same motion on turf axes: components by the rows' transpose, sigmas in quadrature. */
function turned(axes: readonly [AxisMotion, AxisMotion, AxisMotion], level: LevelFromTurf): readonly AxisMotion[] {
  return PARTS.map((part) => {
    const [a, b, c] = [level.target[part], level.ahead[part], level.up[part]];
    const straight = (of: "speed" | "travel"): Column => {
      const [x, y, z] = [axes[0][of], axes[1][of], axes[2][of]];
      const out = new Float64Array(x.length);
      for (let i = 0; i < out.length; i++) out[i] = a * x[i]! + b * y[i]! + c * z[i]!;
      return out;
    };
    const squared = (of: "speedSigma" | "travelSigma"): Column => {
      const [x, y, z] = [axes[0][of], axes[1][of], axes[2][of]];
      const out = new Float64Array(x.length);
      for (let i = 0; i < out.length; i++) {
        out[i] = Math.sqrt((a * x[i]!) ** 2 + (b * y[i]!) ** 2 + (c * z[i]!) ** 2);
      }
      return out;
    };
    return {
      speed: straight("speed"),
      travel: straight("travel"),
      speedSigma: squared("speedSigma"),
      travelSigma: squared("travelSigma"),
    };
  });
}

function seriesOf(axes: MotionSeries["axes"], parts: readonly AxisMotion[]): MotionSeries {
  const [target, ahead, up] = parts as [AxisMotion, AxisMotion, AxisMotion];
  return {
    axes,
    speedTargetMPerS: target.speed,
    speedAheadMPerS: ahead.speed,
    speedUpMPerS: up.speed,
    travelTargetM: target.travel,
    travelAheadM: ahead.travel,
    travelUpM: up.travel,
    speedTargetSigmaMPerS: target.speedSigma,
    speedAheadSigmaMPerS: ahead.speedSigma,
    speedUpSigmaMPerS: up.speedSigma,
    travelTargetSigmaM: target.travelSigma,
    travelAheadSigmaM: ahead.travelSigma,
    travelUpSigmaM: up.travelSigma,
  };
}
