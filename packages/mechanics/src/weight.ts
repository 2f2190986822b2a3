import type { Finding, PlayerVector, ShotFacts } from "@underfoot/domain";
import { playerDot } from "./axes.ts";
import { shotFindings } from "./faults.ts";
import type { Window } from "./quiet-window.ts";
import type { Settings } from "./settings.ts";
import type { PlateSigmas, PlayerWrench } from "./shot.ts";
import { validMean } from "./valid-mean.ts";

/** What a club adds that a scale without it did not see, kg, as one sigma (common practice, no source). */
const CLUB_KG = 0.5;
/** Beyond this many sd two masses disagree (ours). */
const DISAGREE_SD = 3;

/** Mean of the total force in the quiet stance and what it is wrong by. */
export interface QuietForce {
  /** F_q, turf axes, N. */
  readonly forceN: PlayerVector;
  readonly sigmaN: PlayerVector;
  /** sigma_b: F_q / m as zero of acceleration, m/s². */
  readonly driftMPerS2: PlayerVector;
}

/**
 * F_q: mean unfiltered total force over the quiet window, turf axes; missing samples are skipped.
 *
 *   sigma(F_q) = zero of every plate in quadrature, and gain (up) or crosstalk (target, ahead) of each plate's load
 *   sigma_b = sqrt(2 (sigma_vq / D)² + a_b²),  D the window's length: a mean force is a change of speed over D
 */
export function quietForce(
  total: PlayerWrench,
  plates: readonly {
    readonly unfiltered: PlayerWrench;
    readonly sigmas: Pick<PlateSigmas, "zeroN" | "gain" | "crosstalk">;
  }[],
  { window, rateHz, settings }: { readonly window: Window; readonly rateHz: number; readonly settings: Settings },
): QuietForce {
  const { first, end } = window;
  let zero2 = 0;
  let cross2 = 0;
  let gain2 = 0;
  for (const { unfiltered, sigmas } of plates) {
    const loadN = validMean(unfiltered.upN, first, end);
    zero2 += sigmas.zeroN ** 2;
    cross2 += (sigmas.crosstalk * loadN) ** 2;
    gain2 += (sigmas.gain * loadN) ** 2;
  }
  const lengthS = (end - first) / rateHz;
  const drift = (speed: number, rest: number): number => Math.sqrt(2 * (speed / lengthS) ** 2 + rest * rest);
  const alongDrift = drift(settings.swaySpeedMPerS, settings.driftMPerS2);
  const horizontal = Math.sqrt(zero2 + cross2);
  return {
    forceN: {
      target: validMean(total.targetN, first, end),
      ahead: validMean(total.aheadN, first, end),
      up: validMean(total.upN, first, end),
    },
    sigmaN: { target: horizontal, ahead: horizontal, up: Math.sqrt(zero2 + gain2) },
    driftMPerS2: {
      target: alongDrift,
      ahead: alongDrift,
      up: drift(settings.swaySpeedUpMPerS, settings.driftUpMPerS2),
    },
  };
}

/** Weight and mass, one sigma each. */
export interface WeightAndMass {
  readonly weightN: number;
  readonly weightSigmaN: number;
  readonly massKg: number;
  readonly massSigmaKg: number;
  readonly findings: readonly Finding[];
}

/**
 * W = F_q · k and m = W / g, k the direction against gravity in turf axes. A mass from a scale, given with its sd, is
 * combined by inverse variance; where they disagree by more than 3 sd the plates' mass stays and `mass-disagrees` says so.
 */
export function weightAndMass(
  quiet: QuietForce,
  k: PlayerVector,
  { gravityMPerS2, mass }: { readonly gravityMPerS2: number; readonly mass: ShotFacts["mass"] },
): WeightAndMass {
  const weightN = playerDot(quiet.forceN, k);
  const weightSigmaN = Math.hypot(k.target * quiet.sigmaN.target, k.ahead * quiet.sigmaN.ahead, k.up * quiet.sigmaN.up);
  const platesKg = weightN / gravityMPerS2;
  const platesSigmaKg = weightSigmaN / gravityMPerS2;
  const own = { weightN, weightSigmaN, massKg: platesKg, massSigmaKg: platesSigmaKg, findings: [] };
  if (mass?.sdKg === undefined || !(mass.sdKg > 0) || (mass.source ?? "scale") !== "scale") return own;
  const scaleSigmaKg = mass.withClub === false ? Math.hypot(mass.sdKg, CLUB_KG) : mass.sdKg;
  const differenceSd = Math.hypot(platesSigmaKg, scaleSigmaKg);
  if (Math.abs(platesKg - mass.kg) > DISAGREE_SD * differenceSd) {
    return { ...own, findings: [shotFindings.massDisagrees(platesKg, mass.kg, differenceSd)] };
  }
  const scaleShare = platesSigmaKg ** 2 / differenceSd ** 2;
  return {
    ...own,
    massKg: platesKg + scaleShare * (mass.kg - platesKg),
    massSigmaKg: (platesSigmaKg * scaleSigmaKg) / differenceSd,
  };
}
