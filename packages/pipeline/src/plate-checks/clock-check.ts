import type { PlateFact, Recording, Samples } from "@underfoot/domain";
import {
  type ClockCheck,
  plateCop,
  rockingCheck,
  type Settings,
  tapCheck,
  wrenchOnLeadClock,
} from "@underfoot/mechanics";
import { checkFaults } from "./check-faults.ts";
import { type PlateCheckFacts, type PlateCheckPart, type PlateCheckResult, part } from "./check-outcome.ts";
import { type CheckedPlate, checkedPlates, runsWhere, samplesPerTick, TICK_S, tickMeans } from "./check-plates.ts";

/** A board and a hand weigh less than this, N; whoever rocks weighs more (ours; the same limit as the shot detector's). */
const STANDING_N = 250;
/** A tap stands out from the usual change between two samples by this factor, and by this many N (ours). */
const TAP_TIMES_USUAL = 20;
const TAP_LEAST_N = 5;
/** Around a tap, s, and how long no other tap begins. */
const AROUND_TAP_S = 0.15;
const BETWEEN_TAPS_S = 0.5;
/** Left out of a rocking at both ends, s: stepping on and off. */
const BESIDE_ROCKING_S = 1;
const SHORTEST_ROCKING_S = 6;

/** Both loads on the lead plate's samples, as far as the clocks are said to differ. */
interface TwoLoads {
  readonly leadN: Samples;
  readonly trailN: Samples;
  readonly clockSigmaS: number;
  readonly rateHz: number;
}

/**
 * Two clocks: a board across both plates is struck (`tapCheck`), as often as one likes, or else somebody rocks from foot to
 * foot (`rockingCheck`). What is known of the trail plate's clock is allowed for first; what is left must be within the
 * settings' 5 ms. Rocking is good to 10 ms only, so it may fail clocks that agree.
 *
 * @throws UnderfootError `no-plates`, `one-plate`, `no-tap`
 */
export function clockCheck(recording: Recording, facts: PlateCheckFacts, settings: Settings): PlateCheckResult {
  const loads = twoLoads(recording, facts, settings);
  const taps = foundTaps(loads);
  const limitMs = settings.clockLimitMs;
  const checks = taps.length > 0 ? taps : foundRocking(loads);
  if (checks.length === 0) throw checkFaults.noTap();
  const isRocking = taps.length === 0;
  return {
    parts: checks.map((check) => clockPart(check, isRocking ? "Rocking" : "Tap", limitMs)),
    detail: { by: isRocking ? "rocking" : "tap", lags: checks.map(({ atS, lagS }) => ({ atS, lagMs: 1000 * lagS })) },
    remedy: isRocking
      ? "Rocking alone is good to 10 ms: lay a stiff board across both plates and strike it. If it stays, start both streams again."
      : "Strike the board again; if it stays, start both streams again, or record both plates with one trigger.",
    cautions: isRocking ? ["Rocking tells only errors above 10 ms for certain; a struck board tells 1 ms."] : [],
  };
}

interface LagAt {
  readonly atS: number;
  readonly lagS: number;
}

function clockPart({ atS, lagS }: LagAt, name: "Tap" | "Rocking", limitMs: number): PlateCheckPart {
  const found = Math.abs(1000 * lagS);
  const way = lagS > 0 ? "late" : "early";
  return part({
    name: `${name} at ${atS.toFixed(1)} s`,
    allowed: limitMs,
    found,
    unit: "ms",
    sentence: `In the ${name.toLowerCase()} at ${atS.toFixed(1)} s the trail plate's time is ${found.toFixed(1)} ms ${way}; ${limitMs} ms allowed.`,
  });
}

/** Lead and trail as said; else the first two plates in their order. */
function twoLoads(recording: Recording, facts: PlateCheckFacts, settings: Settings): TwoLoads {
  const plates = checkedPlates(recording, facts, settings);
  const of = (foot: PlateFact["foot"]): CheckedPlate | undefined => plates.find(({ fact }) => fact.foot === foot);
  const lead = of("lead") ?? plates[0];
  const trail = of("trail") ?? plates.find((plate) => plate !== lead);
  if (trail === undefined) throw checkFaults.onePlate();
  const { rateHz } = recording;
  const { clock } = trail.fact;
  const trailN =
    clock === undefined
      ? trail.cop.loadN
      : plateCop(wrenchOnLeadClock(trail.wrench, clock, rateHz), { leastLoadN: settings.loadOffN }).loadN;
  return { leadN: lead.cop.loadN, trailN, clockSigmaS: clock?.sdS ?? 0, rateHz };
}

function foundTaps({ leadN, trailN, clockSigmaS, rateHz }: TwoLoads): readonly LagAt[] {
  const around = Math.round(AROUND_TAP_S * rateHz);
  const steps = Float64Array.from({ length: Math.max(0, leadN.length - 1) }, (_, i) =>
    Math.abs(leadN[i + 1]! + trailN[i + 1]! - leadN[i]! - trailN[i]!),
  );
  const usual = steps.filter(Number.isFinite).sort()[steps.length >> 1] ?? 0;
  const least = Math.max(TAP_TIMES_USUAL * usual, TAP_LEAST_N);
  const taps: LagAt[] = [];
  for (let i = around; i < steps.length - around; i++) {
    if (!(steps[i]! > least)) continue;
    const window = [i - around, i + around] as const;
    // Who steps on or off is heavier on one side of it.
    const isStoodOn = window.some((at) => !(leadN[at]! + trailN[at]! < STANDING_N));
    const check = isStoodOn
      ? undefined
      : tapCheck(leadN.subarray(...window), trailN.subarray(...window), { rateHz, clockSigmaS });
    if (check?.lagS !== undefined) taps.push({ atS: i / rateHz, lagS: check.lagS });
    i += Math.round(BETWEEN_TAPS_S * rateHz);
  }
  return taps;
}

function foundRocking({ leadN, trailN, clockSigmaS, rateHz }: TwoLoads): readonly LagAt[] {
  const perTick = samplesPerTick(rateHz);
  const ticks = tickMeans(
    Float64Array.from(leadN, (value, i) => value + trailN[i]!),
    perTick,
  );
  const beside = Math.round(BESIDE_ROCKING_S / TICK_S);
  return runsWhere(ticks.length, (k) => ticks[k]! > STANDING_N).flatMap((run): LagAt[] => {
    const first = (run.first + beside) * perTick;
    const end = (run.end - beside) * perTick;
    if (end - first < SHORTEST_ROCKING_S * rateHz) return [];
    const check: ClockCheck = rockingCheck(leadN.subarray(first, end), trailN.subarray(first, end), {
      rateHz,
      clockSigmaS,
    });
    return check.lagS === undefined ? [] : [{ atS: first / rateHz, lagS: check.lagS }];
  });
}
