import type { Intent } from "@underfoot/domain";

/** What a player of 80 kg does on the flat when asked for one shot. All invented, plausible sizes: common practice, no source. */
export interface IntentStyle {
  /** Lead foot's part of the load, %. */
  readonly addressShare: number;
  readonly topShare: number;
  readonly deliveryShare: number;
  readonly finishShare: number;
  readonly targetPushN: number;
  readonly aheadPushN: number;
  /** Largest up force, body weights. */
  readonly upPeakBw: number;
  readonly turnNm: number;
  readonly downswingS: number;
  /** When the three forces peak, before impact, s. */
  readonly targetPeakBeforeS: number;
  readonly aheadPeakBeforeS: number;
  readonly upPeakBeforeS: number;
}

/** Loads, pushes and times of the five intents. */
export const INTENT_STYLES: Readonly<Record<Intent, IntentStyle>> = {
  stock: {
    addressShare: 58,
    topShare: 57,
    deliveryShare: 78,
    finishShare: 85,
    targetPushN: 70,
    aheadPushN: 28,
    upPeakBw: 1.12,
    turnNm: 18,
    downswingS: 0.33,
    targetPeakBeforeS: 0.2,
    aheadPeakBeforeS: 0.14,
    upPeakBeforeS: 0.075,
  },
  steep: {
    addressShare: 66,
    topShare: 66,
    deliveryShare: 84,
    finishShare: 86,
    targetPushN: 75,
    aheadPushN: 30,
    upPeakBw: 1.28,
    turnNm: 16,
    downswingS: 0.31,
    targetPeakBeforeS: 0.26,
    aheadPeakBeforeS: 0.15,
    upPeakBeforeS: 0.08,
  },
  shallow: {
    addressShare: 55,
    topShare: 52,
    deliveryShare: 70,
    finishShare: 80,
    targetPushN: 65,
    aheadPushN: 24,
    upPeakBw: 1.08,
    turnNm: 17,
    downswingS: 0.35,
    targetPeakBeforeS: 0.19,
    aheadPeakBeforeS: 0.14,
    upPeakBeforeS: 0.08,
  },
  low: {
    addressShare: 64,
    topShare: 62,
    deliveryShare: 82,
    finishShare: 88,
    targetPushN: 85,
    aheadPushN: 32,
    upPeakBw: 1.1,
    turnNm: 20,
    downswingS: 0.31,
    targetPeakBeforeS: 0.19,
    aheadPeakBeforeS: 0.13,
    upPeakBeforeS: 0.07,
  },
  high: {
    addressShare: 54,
    topShare: 54,
    deliveryShare: 72,
    finishShare: 80,
    targetPushN: 80,
    aheadPushN: 30,
    upPeakBw: 1.24,
    turnNm: 30,
    downswingS: 0.29,
    targetPeakBeforeS: 0.18,
    aheadPeakBeforeS: 0.075,
    upPeakBeforeS: 0.12,
  },
};

/** Points of lead share per degree: a downslope adds 4, an upslope takes 2 (common practice, no source). */
const DOWNSLOPE_POINTS_PER_DEG = 4;
const UPSLOPE_POINTS_PER_DEG = 2;
/** Shares approach these and never reach them, %. */
const SHARE_FLOOR = 8;
const SHARE_CEILING = 97;
/** The share from which the points above are counted in full, %. */
const SHARE_REFERENCE = 58;

/**
 * The lead share on a slope: the flat one moved by 4 points a degree down, 2 up, less the nearer it is to one foot alone.
 *
 * @param flatShare  lead share on the flat, %
 * @param pitchDeg   + rises toward the target
 */
export function shareOnSlope(flatShare: number, pitchDeg: number): number {
  const bounded = Math.min(SHARE_CEILING - 1, Math.max(SHARE_FLOOR + 1, flatShare));
  if (pitchDeg < 0) {
    const room = (SHARE_CEILING - bounded) / (SHARE_CEILING - SHARE_REFERENCE);
    return Math.min(SHARE_CEILING, bounded - DOWNSLOPE_POINTS_PER_DEG * pitchDeg * Math.min(1, room));
  }
  const room = (bounded - SHARE_FLOOR) / (SHARE_REFERENCE - SHARE_FLOOR);
  return Math.max(SHARE_FLOOR, bounded - UPSLOPE_POINTS_PER_DEG * pitchDeg * Math.min(1, room));
}
