import {
  type Finding,
  type Lie,
  type Recording,
  type Samples,
  type ShotFacts,
  STANDARD_GRAVITY_M_PER_S2,
} from "@underfoot/domain";
import { type AddressStance, addressStance } from "./address-stance.ts";
import { againstGravity, levelFromTurf } from "./axes.ts";
import { type CarriedFeet, carriedFeet } from "./carried-feet.ts";
import { shotFaults, shotFindings } from "./faults.ts";
import { type FilteredFeet, filteredFeet, noiseShare } from "./filtered-feet.ts";
import { type BothFeet, bothFeet, footSeries } from "./foot-series.ts";
import { knownLie, lieFindings } from "./known-lie.ts";
import { givenEvents } from "./marks.ts";
import { normalGravity } from "./normal-gravity.ts";
import { plateSigmas } from "./plate-sigmas.ts";
import { DEFAULT_SETTINGS, type Settings } from "./settings.ts";
import type { FootSeries, PlateSigmas, Shot, ShotEvent } from "./shot.ts";
import { foundImpact, shotEvents } from "./shot-events.ts";
import { type ShotMotion, shotMotion } from "./shot-motion.ts";
import { slopeCheck } from "./slope.ts";
import { turfPlan } from "./turf-plan.ts";
import { type QuietForce, quietForce, type WeightAndMass, weightAndMass } from "./weight.ts";

const SHORTEST_S = 0.2;
const LOWEST_RATE_HZ = 50;
/** A total load under this is nobody, N (ours). */
const NOBODY_N = 50;

/**
 * From a recording and what is known about it to a shot: every curve and constant that measures are made from.
 *
 * Channels -> wrenches -> player wrench -> filter -> impact -> quiet stance and start -> weight and mass -> CoP, free
 * moments, couple -> motion of the centre of mass -> events. Nothing is stored, nothing asked: same input, same numbers.
 *
 * @throws UnderfootError where nothing can be computed: `plates-missing`, `plates-twice`, `plate-unknown`,
 *         `plate-not-computed`, `plate-calibration`, `target-along-normal`, `lie-too-steep`, `recording-too-short`,
 *         `rate-too-low`, `no-load`. All else is a finding of the shot.
 */
export function shotFromRecording(recording: Recording, facts: ShotFacts, settings: Settings = DEFAULT_SETTINGS): Shot {
  requireLength(recording);
  const carried = carriedFeet(recording, facts, settings);
  const known = knownLie(facts, carried.axes, settings);
  const stood = standing(recording, facts, { carried, lie: known.lie, settings });
  const curves = feetCurves(carried, stood, { padM: facts.padM ?? 0, settings, rateHz: recording.rateHz });
  const moved = moving(recording, { stood, curves, lie: known.lie, settings });
  const plan = turfPlan(recording, facts, carried);
  const { stance, quiet, filtered, sigmas, weight } = stood;
  const slope = slopeCheck(quiet.forceN, known.lie, {
    horizontalSigmaN: Math.max(quiet.sigmaN.target, quiet.sigmaN.ahead),
    inclinometerSdDeg: known.lie.sdDeg,
  });
  const isOne = carried.feet.length === 1;
  const { findings: planFindings, ...ground } = plan;
  return {
    rateHz: recording.rateHz,
    sampleCount: recording.sampleCount,
    handed: facts.handed,
    lie: known.lie,
    isLieKnown: known.isLieKnown,
    settings,
    cutoffHz: filtered.cutoffHz,
    gravityMPerS2: stood.gravityMPerS2,
    weightN: weight.weightN,
    weightSigmaN: weight.weightSigmaN,
    massKg: weight.massKg,
    massSigmaKg: weight.massSigmaKg,
    padM: facts.padM ?? 0,
    address: addressOf(stance, quiet),
    events: moved.events,
    ...curves,
    turf: moved.motion.turf,
    level: moved.motion.level,
    closing: moved.motion.closing,
    sigmas: {
      lead: isOne ? undefined : sigmas[0],
      trail: isOne ? undefined : sigmas[1],
      both: isOne ? sigmas[0] : undefined,
    },
    ...ground,
    clockSigmaMs: carried.clockSigmaMs,
    isClockWithheld: isClockApart(carried, settings),
    isSaturated: anySaturated(carried, recording.sampleCount),
    slopeCheck: slope,
    findings: [
      ...carried.findings,
      ...filtered.findings,
      ...known.findings,
      ...lieFindings(slope, known),
      ...stood.findings,
      ...moved.findings,
      ...planFindings,
    ],
  };
}

/** What is known once the player stands still: filtered feet, impact, quiet stance, weight. */
interface Standing {
  readonly filtered: FilteredFeet;
  readonly given: ReturnType<typeof givenEvents>["given"];
  readonly impact: ShotEvent | undefined;
  readonly stance: AddressStance;
  readonly sigmas: readonly PlateSigmas[];
  readonly quiet: QuietForce;
  readonly gravityMPerS2: number;
  readonly weight: WeightAndMass;
  readonly findings: readonly Finding[];
}

function standing(
  recording: Recording,
  facts: ShotFacts,
  { carried, lie, settings }: { readonly carried: CarriedFeet; readonly lie: Lie; readonly settings: Settings },
): Standing {
  const { rateHz, sampleCount } = recording;
  const filtered = filteredFeet(carried.feet, rateHz, settings);
  const slowUpN = filtered.slow[2];
  const { given, findings: markFindings } = givenEvents(facts, { lengthS: (sampleCount - 1) / rateHz, settings });
  const { event: impact, findings: impactFindings } = foundImpact(recording, { given, slowUpN, settings });
  const weightN = roughWeightN(slowUpN);
  const stance = addressStance(filtered.slow, {
    rateHz,
    weightN,
    impactS: impact?.timeS,
    given,
    slowTurnNm: filtered.slowTurnNm,
  });
  const { cutoffHz } = filtered;
  const sigmas = carried.feet.map((foot, i) =>
    plateSigmas(foot, filtered.wrenches[i]!, { ...carried, window: stance, rateHz, cutoffHz, settings }),
  );
  const plates = carried.feet.map(({ unfiltered }, i) => ({ unfiltered, sigmas: sigmas[i]! }));
  const quiet = quietForce(filtered.unfilteredBoth, plates, { window: stance, rateHz, settings });
  const gravityMPerS2 =
    facts.latitudeDeg === undefined ? STANDARD_GRAVITY_M_PER_S2 : normalGravity(facts.latitudeDeg, facts.heightM ?? 0);
  const weight = weightAndMass(quiet, againstGravity(lie), { gravityMPerS2, mass: facts.mass });
  if (!(weight.weightN > NOBODY_N)) throw shotFaults.noLoad(weight.weightN);
  const findings = [
    ...(isClockApart(carried, settings) ? [shotFindings.clocksApart(carried.clockSigmaMs, settings.clockLimitMs)] : []),
    ...markFindings,
    ...impactFindings,
    ...stance.findings,
    ...weight.findings,
  ];
  return { filtered, given, impact, stance, sigmas, quiet, gravityMPerS2, weight, findings };
}

/** Motion of the centre of mass and, with it, the events. */
function moving(
  { rateHz }: Recording,
  {
    stood,
    curves,
    lie,
    settings,
  }: { readonly stood: Standing; readonly curves: FeetCurves; readonly lie: Lie; readonly settings: Settings },
): { readonly motion: ShotMotion; readonly events: readonly ShotEvent[]; readonly findings: readonly Finding[] } {
  const { filtered, stance, quiet, weight, impact } = stood;
  const level = levelFromTurf(lie);
  const motion = shotMotion(filtered.unfilteredBoth, {
    ...weight,
    rateHz,
    gravityMPerS2: stood.gravityMPerS2,
    window: stance,
    quietN: quiet.forceN,
    driftMPerS2: quiet.driftMPerS2,
    level,
    slow: filtered.slow,
    leadShare: curves.leadShare,
    impactS: impact?.timeS,
    settings,
  });
  const { events, findings } = shotEvents({
    rateHz,
    given: stood.given,
    impact,
    stance,
    both: curves.both,
    levelMotion: motion.level,
    level,
    slow: filtered.slow,
    quietN: [quiet.forceN.target, quiet.forceN.ahead, quiet.forceN.up],
    weightN: weight.weightN,
    settings,
  });
  return { motion, events, findings: [...motion.findings, ...findings] };
}

interface FeetCurves extends BothFeet {
  readonly lead: FootSeries | undefined;
  readonly trail: FootSeries | undefined;
}

/**
 * Curves of the feet. What needs both plates' places or one time (combined CoP, couple, turning torque) is missing where
 * a plate has no place or the clocks are too far apart.
 */
function feetCurves(
  carried: CarriedFeet,
  { filtered, sigmas, weight }: Standing,
  { padM, settings, rateHz }: { readonly padM: number; readonly settings: Settings; readonly rateHz: number },
): FeetCurves {
  const share = noiseShare(filtered.cutoffHz, rateHz);
  const options = { weightN: weight.weightN, padM, settings, noiseShare: share };
  const [first, second] = carried.feet.map(({ unfiltered }, i) =>
    footSeries(filtered.wrenches[i]!, unfiltered, sigmas[i]!, options),
  );
  if (second === undefined) {
    const missing = new Float64Array(filtered.both.upN.length).fill(Number.NaN);
    return { lead: undefined, trail: undefined, both: first!, leadShare: missing, coupleNm: missing.slice() };
  }
  const two = bothFeet(
    { lead: first!, trail: second },
    { wrench: filtered.both, unfiltered: filtered.unfilteredBoth },
    { lead: sigmas[0]!, trail: sigmas[1]! },
    options,
  );
  if (isClockApart(carried, settings) || carried.feet.some((foot) => !foot.isPlaced)) {
    const { both, coupleNm } = two;
    for (const column of [both.copTargetM, both.copAheadM, both.copSigmaM, both.freeMomentNm, coupleNm]) {
      column.fill(Number.NaN);
    }
    both.isTrusted.fill(0);
  }
  return { lead: first, trail: second, ...two };
}

function isClockApart({ clockSigmaMs }: CarriedFeet, settings: Settings): boolean {
  return clockSigmaMs > settings.clockLimitMs;
}

/** @throws UnderfootError `rate-too-low`, `recording-too-short` */
export function requireLength({ rateHz, sampleCount }: Recording): void {
  if (!(rateHz >= LOWEST_RATE_HZ)) throw shotFaults.rateTooLow(rateHz);
  const lengthS = sampleCount / rateHz;
  if (!(lengthS >= SHORTEST_S)) throw shotFaults.tooShort(lengthS);
}

/** Mean of the loads above half the largest: about the player's weight, before the quiet stance is known. */
export function roughWeightN(slowUpN: Samples): number {
  let peakN = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < slowUpN.length; i++) if (slowUpN[i]! > peakN) peakN = slowUpN[i]!;
  if (!(peakN > NOBODY_N)) throw shotFaults.noLoad(peakN);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < slowUpN.length; i++) {
    if (!(slowUpN[i]! > peakN / 2)) continue;
    sum += slowUpN[i]!;
    count++;
  }
  return sum / count;
}

function addressOf(stance: AddressStance, quiet: QuietForce): Shot["address"] {
  return {
    first: stance.first,
    end: stance.end,
    isStill: stance.isStill,
    forceN: quiet.forceN,
    forceSigmaN: quiet.sigmaN,
    driftSigmaMPerS2: quiet.driftMPerS2,
  };
}

function anySaturated({ feet }: CarriedFeet, sampleCount: number): Uint8Array {
  const any = new Uint8Array(sampleCount);
  for (const { plate } of feet) {
    for (let i = 0; i < sampleCount; i++) if (plate.isSaturated[i] === 1) any[i] = 1;
  }
  return any;
}
