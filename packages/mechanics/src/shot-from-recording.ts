import {
  type Finding,
  type Lie,
  type Recording,
  type Samples,
  type ShotFacts,
  STANDARD_GRAVITY_M_PER_S2,
} from "@underfoot/domain";
import { type AddressStance, addressStance } from "./address-stance.ts";
import { againstGravity, levelFromTurf, lieFromUp, type TurfAxes } from "./axes.ts";
import { type CarriedFeet, carriedFeet } from "./carried-feet.ts";
import { shotFaults, shotFindings } from "./faults.ts";
import { type FilteredFeet, filteredFeet, noiseShare } from "./filtered-feet.ts";
import { type BothFeet, bothFeet, footSeries } from "./foot-series.ts";
import { givenEvents } from "./marks.ts";
import { normalGravity } from "./normal-gravity.ts";
import { plateSigmas } from "./plate-sigmas.ts";
import { DEFAULT_SETTINGS, type Settings } from "./settings.ts";
import type { FootSeries, PlateSigmas, Shot } from "./shot.ts";
import { foundImpact, shotEvents } from "./shot-events.ts";
import { shotMotion } from "./shot-motion.ts";
import { slopeCheck } from "./slope.ts";
import { turfPlan } from "./turf-plan.ts";
import { quietForce, weightAndMass } from "./weight.ts";

const SHORTEST_S = 0.2;
const LOWEST_RATE_HZ = 50;
/** A total load under this is nobody, N (ours). */
const NOBODY_N = 50;
/** Beyond this the given lie and the level laboratory disagree, degrees (ours). */
const LIE_CONFLICT_DEG = 1;

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
  const { rateHz, sampleCount } = recording;
  const carried = carriedFeet(recording, facts, settings);
  const { lie, isLieKnown, findings: lieFindings } = knownLie(facts, carried.axes);
  const k = againstGravity(lie);
  const level = levelFromTurf(lie);
  const filtered = filteredFeet(carried.feet, rateHz, settings);
  const roughWeightN = roughWeight(filtered.slow[2]);
  const marks = givenEvents(facts, { lengthS: (sampleCount - 1) / rateHz, settings });
  const impact = foundImpact(recording, { given: marks.given, slowUpN: filtered.slow[2], settings });
  const stance = addressStance(filtered.slow, {
    rateHz,
    weightN: roughWeightN,
    impactS: impact.event?.timeS,
    given: marks.given,
  });
  const sigmas = carried.feet.map((foot, i) =>
    plateSigmas(foot, filtered.wrenches[i]!, {
      ...carried,
      window: stance,
      rateHz,
      cutoffHz: filtered.cutoffHz,
      settings,
    }),
  );
  const quiet = quietForce(
    filtered.unfilteredBoth,
    carried.feet.map(({ unfiltered }, i) => ({ unfiltered, sigmas: sigmas[i]! })),
    { window: stance, rateHz, settings },
  );
  const gravityMPerS2 =
    facts.latitudeDeg === undefined ? STANDARD_GRAVITY_M_PER_S2 : normalGravity(facts.latitudeDeg, facts.heightM ?? 0);
  const weight = weightAndMass(quiet, k, { gravityMPerS2, mass: facts.mass });
  if (!(weight.weightN > NOBODY_N)) throw shotFaults.noLoad(weight.weightN);
  const isClockWithheld = carried.clockSigmaMs > settings.clockLimitMs;
  const isApartUnknown = carried.feet.some((foot) => carried.feet.length > 1 && !foot.isPlaced);
  const curves = curvesOfFeet(carried, filtered, sigmas, {
    weightN: weight.weightN,
    padM: facts.padM ?? 0,
    settings,
    noiseShare: noiseShare(filtered.cutoffHz, rateHz),
  });
  if (isClockWithheld || isApartUnknown) withhold(curves);
  const motion = shotMotion(filtered.unfilteredBoth, {
    ...weight,
    rateHz,
    gravityMPerS2,
    window: stance,
    quietN: quiet.forceN,
    driftMPerS2: quiet.driftMPerS2,
    level,
    slow: filtered.slow,
    leadShare: curves.leadShare,
    impactS: impact.event?.timeS,
    settings,
  });
  const { events, findings: eventFindings } = shotEvents({
    rateHz,
    given: marks.given,
    impact: impact.event,
    stance,
    both: curves.both,
    levelMotion: motion.level,
    level,
    slow: filtered.slow,
    quietN: [quiet.forceN.target, quiet.forceN.ahead, quiet.forceN.up],
    weightN: weight.weightN,
    settings,
  });
  const check = slopeCheck(quiet.forceN, lie, {
    horizontalSigmaN: Math.max(quiet.sigmaN.target, quiet.sigmaN.ahead),
    inclinometerSdDeg: lie.sdDeg,
  });
  const plan = turfPlan(recording, facts, carried);
  const findings: Finding[] = [
    ...carried.findings,
    ...filtered.findings,
    ...lieFindings,
    ...lieSaid(check, lie, isLieKnown),
    ...(isClockWithheld ? [shotFindings.clocksApart(carried.clockSigmaMs, settings.clockLimitMs)] : []),
    ...stance.findings,
    ...weight.findings,
    ...motion.findings,
    ...marks.findings,
    ...impact.findings,
    ...eventFindings,
    ...plan.findings,
  ];
  const isOne = carried.feet.length === 1;
  return {
    rateHz,
    sampleCount,
    handed: facts.handed,
    lie,
    isLieKnown,
    settings,
    cutoffHz: filtered.cutoffHz,
    gravityMPerS2,
    weightN: weight.weightN,
    weightSigmaN: weight.weightSigmaN,
    massKg: weight.massKg,
    massSigmaKg: weight.massSigmaKg,
    padM: facts.padM ?? 0,
    address: addressOf(stance, quiet),
    events,
    lead: curves.lead,
    trail: curves.trail,
    both: curves.both,
    leadShare: curves.leadShare,
    coupleNm: curves.coupleNm,
    turf: motion.turf,
    level: motion.level,
    closing: motion.closing,
    sigmas: {
      lead: isOne ? undefined : sigmas[0],
      trail: isOne ? undefined : sigmas[1],
      both: isOne ? sigmas[0] : undefined,
    },
    soles: plan.soles,
    middle: plan.middle,
    plateOutlines: plan.plateOutlines,
    ball: plan.ball,
    clockSigmaMs: carried.clockSigmaMs,
    isClockWithheld,
    isSaturated: anySaturated(carried, sampleCount),
    slopeCheck: check,
    findings,
  };
}

function requireLength({ rateHz, sampleCount }: Recording): void {
  if (!(rateHz >= LOWEST_RATE_HZ)) throw shotFaults.rateTooLow(rateHz);
  const lengthS = sampleCount / rateHz;
  if (!(lengthS >= SHORTEST_S)) throw shotFaults.tooShort(lengthS);
}

/** The lie as given, from the level laboratory's up, or flat and unknown. */
function knownLie(
  facts: ShotFacts,
  axes: TurfAxes,
): { readonly lie: Lie; readonly isLieKnown: boolean; readonly findings: readonly Finding[] } {
  const fromLab = facts.up === undefined ? undefined : lieFromUp(axes, facts.up);
  if (facts.lie !== undefined) {
    const differenceDeg =
      fromLab === undefined
        ? 0
        : Math.hypot(fromLab.pitchDeg - facts.lie.pitchDeg, fromLab.rollDeg - facts.lie.rollDeg);
    const findings = differenceDeg > LIE_CONFLICT_DEG ? [shotFindings.lieConflict(differenceDeg)] : [];
    return { lie: facts.lie, isLieKnown: true, findings };
  }
  const sdDeg = DEFAULT_SETTINGS.inclinometerSigmaDeg;
  if (fromLab === undefined) {
    return { lie: { pitchDeg: 0, rollDeg: 0, source: "assumed", sdDeg }, isLieKnown: false, findings: [] };
  }
  return {
    lie: { ...fromLab, source: "assumed", sdDeg },
    isLieKnown: true,
    findings: [shotFindings.lieFromLab(fromLab.pitchDeg, fromLab.rollDeg)],
  };
}

function lieSaid(check: Shot["slopeCheck"], lie: Lie, isLieKnown: boolean): readonly Finding[] {
  if (!isLieKnown) return [shotFindings.lieUnknown(check.pitchDeg, check.rollDeg)];
  if (check.agrees) return [];
  const measured = [check.pitchDeg, check.rollDeg] as const;
  return [shotFindings.slopeDisagrees(measured, [lie.pitchDeg, lie.rollDeg], check.allowedDeg)];
}

/** Mean of the loads above half the largest: about the player's weight, before the quiet stance is known. */
function roughWeight(slowUpN: Samples): number {
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

interface FeetCurves extends BothFeet {
  readonly lead: FootSeries | undefined;
  readonly trail: FootSeries | undefined;
}

function curvesOfFeet(
  { feet }: CarriedFeet,
  filtered: FilteredFeet,
  sigmas: readonly PlateSigmas[],
  options: Parameters<typeof footSeries>[3],
): FeetCurves {
  const series = feet.map(({ unfiltered }, i) => footSeries(filtered.wrenches[i]!, unfiltered, sigmas[i]!, options));
  const [first, second] = series;
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
  return { lead: first, trail: second, ...two };
}

/** What needs both plates' places and one time is not given: combined CoP, couple, turning torque. */
function withhold({ both, coupleNm }: FeetCurves): void {
  for (const column of [both.copTargetM, both.copAheadM, both.copSigmaM, both.freeMomentNm, coupleNm]) {
    column.fill(Number.NaN);
  }
  both.isTrusted.fill(0);
}

function addressOf(stance: AddressStance, quiet: ReturnType<typeof quietForce>): Shot["address"] {
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
