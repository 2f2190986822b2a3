import type { Finding, Lie, PlayerVector, Recording, ShotFacts } from "@underfoot/domain";
import { carriedFeet } from "./carried-feet.ts";
import { filteredFeet } from "./filtered-feet.ts";
import { knownLie } from "./known-lie.ts";
import { quietWindow, type Window } from "./quiet-window.ts";
import { DEFAULT_SETTINGS, type Settings } from "./settings.ts";
import { requireLength, roughWeightN } from "./shot-from-recording.ts";
import { type SlopeCheck, slopeCheck } from "./slope.ts";
import { validSd } from "./valid-mean.ts";
import { quietForce } from "./weight.ts";

/** Still enough: sd of each component of the slow force under 1.5 % of weight, as for the stance before a shot (ours). */
const STILL_SHARE = 0.015;

/** How a quiet stance leans, beside what the lie says. */
export interface QuietLean {
  readonly slope: SlopeCheck;
  readonly lie: Lie;
  /** False: nobody gave it, and flat was assumed. */
  readonly isLieKnown: boolean;
  /** The stillest stance of the recording, samples [first, end). */
  readonly window: Window;
  readonly isStill: boolean;
  /** Mean force on the player there, turf axes, N. */
  readonly forceN: PlayerVector;
  readonly findings: readonly Finding[];
}

/**
 * The lean of the stillest half second, or more, of a recording in which somebody only stands: the check that is made of
 * every shot's address (`slopeCheck`), without a shot.
 *
 * @returns  undefined where nobody stands for half a second
 * @throws UnderfootError as `shotFromRecording`
 */
export function quietLean(
  recording: Recording,
  facts: ShotFacts,
  settings: Settings = DEFAULT_SETTINGS,
): QuietLean | undefined {
  requireLength(recording);
  const { rateHz, sampleCount } = recording;
  const carried = carriedFeet(recording, facts, settings);
  const { lie, isLieKnown } = knownLie(facts, carried.axes, settings);
  const { slow, unfilteredBoth } = filteredFeet(carried.feet, rateHz, settings);
  const weightN = roughWeightN(slow[2]);
  const window = quietWindow(slow, { first: 0, end: sampleCount }, { rateHz, weightN });
  if (window === undefined) return undefined;
  const plates = carried.feet.map(({ unfiltered }) => ({
    unfiltered,
    sigmas: { zeroN: settings.zeroSigmaN, gain: settings.gainSigma, crosstalk: settings.crosstalkSigma },
  }));
  const { forceN, sigmaN } = quietForce(unfilteredBoth, plates, { window, rateHz, settings });
  return {
    slope: slopeCheck(forceN, lie, {
      horizontalSigmaN: Math.max(sigmaN.target, sigmaN.ahead),
      inclinometerSdDeg: lie.sdDeg,
    }),
    lie,
    isLieKnown,
    window: { first: window.first, end: window.end },
    isStill: slow.every((column) => validSd(column, window.first, window.end) < STILL_SHARE * weightN),
    forceN,
    findings: carried.findings,
  };
}
