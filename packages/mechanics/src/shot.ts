import type {
  Column,
  EventName,
  EventSource,
  Finding,
  Handed,
  Lie,
  PlayerAxes,
  PlayerVector,
  TurfPoint,
} from "@underfoot/domain";
import type { Settings } from "./settings.ts";

/**
 * The player wrench: six numbers a sample about the fixed reference point of the turf plane, turf player axes.
 * F_t F_a F_u in N; B_t, B_a, N in N m (formulas at `playerWrench`). A linear map of the channels, so it may be
 * filtered, resampled, averaged and added. The same for a left-handed player's mirrored shot.
 */
export interface PlayerWrench {
  readonly targetN: Column;
  readonly aheadN: Column;
  readonly upN: Column;
  readonly bTargetNm: Column;
  readonly bAheadNm: Column;
  readonly turnNm: Column;
}

/** A traced or assumed sole in the turf plane (metres from the reference point, along target and ahead). */
export interface Sole {
  readonly outline: readonly TurfPoint[];
  readonly heel: TurfPoint;
  readonly toe: TurfPoint;
}

/** One foot, or both: filtered wrench and what follows from it. n samples each; NaN where not loaded. */
export interface FootSeries {
  /** Filtered. */
  readonly wrench: PlayerWrench;
  /** The same before the filter: address means and noise come from here. */
  readonly unfiltered: PlayerWrench;
  /** 1 while loaded (hysteresis of the settings). For both: the sum. */
  readonly isLoaded: Uint8Array;
  /** CoP from the reference point, m. */
  readonly copTargetM: Column;
  readonly copAheadM: Column;
  /** One sigma of the CoP, m. */
  readonly copSigmaM: Column;
  /** 1 where loaded and the CoP's sigma is small enough to be drawn. */
  readonly isTrusted: Uint8Array;
  /** Moment about the turf's normal through the CoP, + toward the target, N m. For both: the total turning torque. */
  readonly freeMomentNm: Column;
}

/** How wrong one plate may be, one sigma each, turf player axes; and where it stands. */
export interface PlateSigmas {
  /** Plate centre from the reference point, m. */
  readonly centre: PlayerVector;
  /** Of white noise before the filter: raw minus filtered in the address window. N and N m (about the plate's centre). */
  readonly noiseN: PlayerVector;
  readonly noiseNm: PlayerVector;
  readonly zeroN: number;
  readonly zeroNm: number;
  readonly gain: number;
  readonly crosstalk: number;
  readonly placeM: number;
}

export interface ShotEvent {
  readonly event: EventName;
  /** Seconds from the first sample. */
  readonly timeS: number;
  readonly source: EventSource;
  readonly sigmaMs: number;
  /** Which channel of the recording told it, where one did. */
  readonly signal?: "trigger" | "sound";
}

/** The quiet window before the shot: samples [first, end). */
export interface AddressWindow {
  readonly first: number;
  readonly end: number;
  readonly isStill: boolean;
  /** Mean of the unfiltered total force over it, turf axes, N: weight as felt on this lie, zero errors included. */
  readonly forceN: PlayerVector;
  /** Its sigmas from zero, gain and crosstalk, N. */
  readonly forceSigmaN: PlayerVector;
  /** sigma_b of mechanics: how wrong F_q / m is as zero of acceleration, m/s². */
  readonly driftSigmaMPerS2: PlayerVector;
}

/** Centre of mass along one version of the player axes; n samples each. */
export interface MotionSeries {
  readonly axes: PlayerAxes;
  readonly speedTargetMPerS: Column;
  readonly speedAheadMPerS: Column;
  readonly speedUpMPerS: Column;
  readonly travelTargetM: Column;
  readonly travelAheadM: Column;
  readonly travelUpM: Column;
  readonly speedTargetSigmaMPerS: Column;
  readonly speedAheadSigmaMPerS: Column;
  readonly speedUpSigmaMPerS: Column;
  readonly travelTargetSigmaM: Column;
  readonly travelAheadSigmaM: Column;
  readonly travelUpSigmaM: Column;
}

/** Everything about one shot that is a curve or a constant; measures are made from this and nothing else. */
export interface Shot {
  readonly rateHz: number;
  readonly sampleCount: number;
  readonly handed: Handed;
  readonly lie: Lie;
  /** False where nobody gave a lie: 0, 0 is assumed and said. */
  readonly isLieKnown: boolean;
  readonly settings: Settings;
  /** Design cut-off actually used, Hz; undefined: not filtered. */
  readonly cutoffHz: number | undefined;
  readonly gravityMPerS2: number;
  readonly weightN: number;
  readonly weightSigmaN: number;
  readonly massKg: number;
  readonly massSigmaKg: number;
  readonly padM: number;
  readonly address: AddressWindow;
  /** In order of time; events that could not be found are not there. */
  readonly events: readonly ShotEvent[];
  /** Undefined where no plate carries that foot alone. */
  readonly lead: FootSeries | undefined;
  readonly trail: FootSeries | undefined;
  readonly both: FootSeries;
  /** Lead load over the load of both, 0..1; NaN where nobody stands or a foot has no plate of its own. */
  readonly leadShare: Column;
  /** Couple of the feet, + toward the target, N m. turn = lead + trail free moments + couple. */
  readonly coupleNm: Column;
  readonly turf: MotionSeries;
  readonly level: MotionSeries;
  /** `closed`: the speed of a second quiet stance was weighed in; `open`: nothing subtracted. */
  readonly closing: "closed" | "open";
  readonly sigmas: {
    readonly lead: PlateSigmas | undefined;
    readonly trail: PlateSigmas | undefined;
    readonly both: PlateSigmas | undefined;
  };
  readonly soles: { readonly lead: Sole | undefined; readonly trail: Sole | undefined };
  /** Where copTarget and copAhead are counted from: middle between the feet's heel-toe midpoints, else middle of the plates. */
  readonly middle: TurfPoint;
  /** Plate edges for drawing, turf plane. */
  readonly plateOutlines: readonly {
    readonly plate: number;
    readonly foot: "lead" | "trail" | "both" | "none";
    readonly outline: readonly TurfPoint[];
  }[];
  readonly ball: TurfPoint | undefined;
  /** Sigma of the time between the two plates, ms; 0 for one clock. */
  readonly clockSigmaMs: number;
  /** True: clocks too far apart, whatever needs both plates is withheld. */
  readonly isClockWithheld: boolean;
  /** 1 where any plate was at the end of its range. */
  readonly isSaturated: Uint8Array;
  /** Lean of the quiet stance, degrees, and whether it agrees with the inclinometer. */
  readonly slopeCheck: {
    readonly pitchDeg: number;
    readonly rollDeg: number;
    readonly sigmaDeg: number;
    readonly allowedDeg: number;
    readonly agrees: boolean;
  };
  readonly findings: readonly Finding[];
}

/** One number of a shot, with its uncertainty. */
export interface Measure {
  readonly id: string;
  /** NaN where not valid. Text for `both.peakOrder.text` stands in `text`. */
  readonly value: number;
  readonly text?: string;
  readonly unit: string;
  /** One standard deviation, same unit. */
  readonly sigma: number;
  /** The part of sigma that is the same in every shot of a session. */
  readonly sigmaShared: number;
  /** Absent where it makes no difference. */
  readonly axes: PlayerAxes | undefined;
  /** What gravity alone explains, same unit; turf axes only. */
  readonly slopeShare?: number;
  /** True where a plate was at the end of its range at that peak: the true value is at least this. */
  readonly isAtLeast?: boolean;
  readonly isValid: boolean;
  /** Why not valid. */
  readonly why?: string;
}
