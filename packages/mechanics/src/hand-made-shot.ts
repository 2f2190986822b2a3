import type { Column, PlayerAxes } from "@underfoot/domain";
import { DEFAULT_SETTINGS } from "./settings.ts";
import type { FootSeries, MotionSeries, PlateSigmas, PlayerWrench, Shot, ShotEvent, Sole } from "./shot.ts";

// A shot made by hand for tests: curves given as functions of time, answers known on paper. Nobody's data.

/** Wrench of one foot as functions of time: F_t F_a F_u in N; CoP along target and ahead in m; free moment in N m. */
interface HandMadeFoot {
  readonly targetN?: (timeS: number) => number;
  readonly aheadN?: (timeS: number) => number;
  readonly upN?: (timeS: number) => number;
  readonly copTargetM?: (timeS: number) => number;
  readonly copAheadM?: (timeS: number) => number;
  readonly freeMomentNm?: (timeS: number) => number;
}

export interface HandMadeOptions {
  readonly lead?: HandMadeFoot;
  readonly trail?: HandMadeFoot;
  readonly speedTargetMPerS?: (timeS: number) => number;
  readonly change?: (shot: Shot) => Shot;
}

const RATE_HZ = 1000;
const COUNT = 4000;
const EVENT_TIMES_S = { start: 2, top: 2.6, delivery: 2.85, impact: 2.95, finish: 3.4 } as const;

function column(f: (timeS: number) => number): Column {
  return Float64Array.from({ length: COUNT }, (_, i) => f(i / RATE_HZ));
}

function wrenchOf(foot: Required<HandMadeFoot>): PlayerWrench {
  const { targetN, aheadN, upN, copTargetM, copAheadM, freeMomentNm } = foot;
  return {
    targetN: column(targetN),
    aheadN: column(aheadN),
    upN: column(upN),
    bTargetNm: column((t) => copTargetM(t) * upN(t)),
    bAheadNm: column((t) => copAheadM(t) * upN(t)),
    turnNm: column((t) => freeMomentNm(t) + copAheadM(t) * targetN(t) - copTargetM(t) * aheadN(t)),
  };
}

function sumOf(a: PlayerWrench, b: PlayerWrench): PlayerWrench {
  const add = (name: keyof PlayerWrench): Column => a[name].map((value, i) => value + b[name][i]!);
  return {
    targetN: add("targetN"),
    aheadN: add("aheadN"),
    upN: add("upN"),
    bTargetNm: add("bTargetNm"),
    bAheadNm: add("bAheadNm"),
    turnNm: add("turnNm"),
  };
}

function seriesOf(wrench: PlayerWrench): FootSeries {
  const copTargetM = wrench.bTargetNm.map((b, i) => b / wrench.upN[i]!);
  const copAheadM = wrench.bAheadNm.map((b, i) => b / wrench.upN[i]!);
  return {
    wrench,
    unfiltered: wrench,
    isLoaded: Uint8Array.from(wrench.upN, (n) => (n > 30 ? 1 : 0)),
    copTargetM,
    copAheadM,
    copSigmaM: column(() => 0.002),
    isTrusted: Uint8Array.from(wrench.upN, (n) => (n > 80 ? 1 : 0)),
    freeMomentNm: wrench.turnNm.map(
      (n, i) => n - copAheadM[i]! * wrench.targetN[i]! + copTargetM[i]! * wrench.aheadN[i]!,
    ),
  };
}

/** A rectangle of 0.28 m x 0.1 m about a place, heel behind. */
export function rectangularSole(targetM: number): Sole {
  const corner = (t: number, a: number) => ({ targetM: targetM + t, aheadM: a });
  return {
    outline: [corner(-0.05, -0.14), corner(0.05, -0.14), corner(0.05, 0.14), corner(-0.05, 0.14)],
    heel: corner(0, -0.14),
    toe: corner(0, 0.14),
  };
}

function motionOf(axes: PlayerAxes, speedTarget: (timeS: number) => number): MotionSeries {
  const zero = column(() => 0);
  const sigma = column(() => 0.005);
  return {
    axes,
    speedTargetMPerS: column(speedTarget),
    speedAheadMPerS: zero,
    speedUpMPerS: zero,
    travelTargetM: zero,
    travelAheadM: zero,
    travelUpM: zero,
    speedTargetSigmaMPerS: sigma,
    speedAheadSigmaMPerS: sigma,
    speedUpSigmaMPerS: sigma,
    travelTargetSigmaM: sigma,
    travelAheadSigmaM: sigma,
    travelUpSigmaM: sigma,
  };
}

function handMadePlate(targetM: number): PlateSigmas {
  return {
    centre: { target: targetM, ahead: 0, up: 0 },
    noiseN: { target: 0.5, ahead: 0.5, up: 0.5 },
    noiseNm: { target: 0.15, ahead: 0.15, up: 0.15 },
    zeroN: 2,
    zeroNm: 0.5,
    gain: 0.005,
    crosstalk: 0.002,
    placeM: 0.002,
  };
}

const still = (value: number) => (): number => value;
const QUIET = { targetN: still(0), aheadN: still(0), upN: still(400), copAheadM: still(0), freeMomentNm: still(0) };

/** 800 N on two feet 0.3 m apart, lead at +0.15 m, standing still but for what is asked for; five marked events; flat. */
export function handMadeShot({
  lead = {},
  trail = {},
  speedTargetMPerS = still(0),
  change,
}: HandMadeOptions = {}): Shot {
  const leadWrench = wrenchOf({ ...QUIET, copTargetM: still(0.15), ...lead });
  const trailWrench = wrenchOf({ ...QUIET, copTargetM: still(-0.15), ...trail });
  const leadSeries = seriesOf(leadWrench);
  const trailSeries = seriesOf(trailWrench);
  const events: ShotEvent[] = [
    { event: "address", timeS: 1, source: "estimated", sigmaMs: 0 },
    ...(["start", "top", "delivery", "impact", "finish"] as const).map(
      (event): ShotEvent => ({ event, timeS: EVENT_TIMES_S[event], source: "marked", sigmaMs: 5 }),
    ),
  ];
  const shot: Shot = {
    rateHz: RATE_HZ,
    sampleCount: COUNT,
    handed: "right",
    lie: { pitchDeg: 0, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 },
    isLieKnown: true,
    settings: DEFAULT_SETTINGS,
    cutoffHz: 25,
    gravityMPerS2: 10,
    weightN: 800,
    weightSigmaN: 4,
    massKg: 80,
    massSigmaKg: 0.4,
    padM: 0,
    address: {
      first: 500,
      end: 1500,
      isStill: true,
      forceN: { target: 0, ahead: 0, up: 800 },
      forceSigmaN: { target: 3, ahead: 3, up: 4 },
      driftSigmaMPerS2: { target: 0.005, ahead: 0.005, up: 0.003 },
    },
    events,
    lead: leadSeries,
    trail: trailSeries,
    both: seriesOf(sumOf(leadWrench, trailWrench)),
    leadShare: leadWrench.upN.map((n, i) => n / (n + trailWrench.upN[i]!)),
    coupleNm: column(() => 0),
    turf: motionOf("turf", speedTargetMPerS),
    level: motionOf("level", speedTargetMPerS),
    closing: "open",
    sigmas: { lead: handMadePlate(0.2), trail: handMadePlate(-0.2), both: undefined },
    soles: { lead: rectangularSole(0.15), trail: rectangularSole(-0.15) },
    middle: { targetM: 0, aheadM: 0 },
    plateOutlines: [],
    ball: undefined,
    clockSigmaMs: 0,
    isClockWithheld: false,
    isSaturated: new Uint8Array(COUNT),
    slopeCheck: { pitchDeg: 0, rollDeg: 0, sigmaDeg: 0.3, allowedDeg: 0.8, agrees: true },
    findings: [],
  };
  return change === undefined ? shot : change(shot);
}

/** (1 - u²)³ of a half width around a middle: smooth, 1 at the middle, 0 outside. */
export function bump(middleS: number, halfWidthS: number): (timeS: number) => number {
  return (timeS) => {
    const u = (timeS - middleS) / halfWidthS;
    return Math.abs(u) < 1 ? (1 - u * u) ** 3 : 0;
  };
}
