// An invented shot whose curves are simple enough to know every answer by hand. Only tests use it.
import type { EventName, EventSource, Handed, Lie, TurfPoint } from "@underfoot/domain";
import {
  DEFAULT_SETTINGS,
  type FootSeries,
  type MotionSeries,
  type PlateSigmas,
  type PlayerWrench,
  type Shot,
  type ShotEvent,
  type Sole,
} from "@underfoot/mechanics";

const RATE_HZ = 500;
const SECONDS = 5;
const COUNT = RATE_HZ * SECONDS + 1;
const WEIGHT_N = 800;
const GRAVITY_M_PER_S2 = 9.80665;
const MASS_KG = WEIGHT_N / GRAVITY_M_PER_S2;
const IMPACT_S = 3.5;

/** Net push to the target: away in the backswing, 100 N toward it in the downswing, away again after impact. */
const PULSES = [
  { fromS: 2.5, toS: 2.9, peakN: -30 },
  { fromS: 3.1, toS: 3.5, peakN: 100 },
  { fromS: 3.5, toS: 3.9, peakN: -50 },
] as const;

/** Integral over time of sin² from 0 to x of its own length, times the length. */
function pulse(
  timeS: number,
  { fromS, toS, peakN }: (typeof PULSES)[number],
): { forceN: number; impulseNs: number; doubleNs2: number } {
  const length = toS - fromS;
  const x = Math.min(1, Math.max(0, (timeS - fromS) / length));
  const after = Math.max(0, timeS - toS);
  const turn = 2 * Math.PI;
  const once = x / 2 - Math.sin(turn * x) / (2 * turn);
  const twice = (x * x) / 4 + (Math.cos(turn * x) - 1) / (2 * turn * turn);
  return {
    forceN: peakN * Math.sin(Math.PI * x) ** 2,
    impulseNs: peakN * length * once,
    doubleNs2: peakN * length * length * twice + peakN * length * 0.5 * after,
  };
}

export interface HandMade {
  readonly handed?: Handed;
  readonly pitchDeg?: number;
  readonly rollDeg?: number;
  readonly isLieKnown?: boolean;
  readonly isTraced?: boolean;
  readonly without?: readonly EventName[];
  readonly sources?: Partial<Record<EventName, EventSource>>;
  /** Seconds without data, both plates. */
  readonly gapS?: readonly [number, number];
  /** Seconds in which the trail foot is too light. */
  readonly lightS?: readonly [number, number];
  readonly saturatedS?: readonly [number, number];
  readonly closing?: "closed" | "open";
  /** Multiplies the push after impact: 1 ends at rest near the target, 3 goes back. */
  readonly braking?: number;
  readonly isOnePlate?: boolean;
}

const TIMES: Readonly<Record<Exclude<EventName, "address">, readonly [number, number, EventSource]>> = {
  start: [2.5, 50, "estimated"],
  top: [3.0, 40, "estimated"],
  delivery: [3.42, 4, "marked"],
  impact: [IMPACT_S, 1, "signal"],
  finish: [4.0, 60, "estimated"],
};

const column = (fill: (timeS: number) => number): Float64Array<ArrayBuffer> =>
  Float64Array.from({ length: COUNT }, (_, i) => fill(i / RATE_HZ));

const inside = (timeS: number, span: readonly [number, number] | undefined): boolean =>
  span !== undefined && timeS >= span[0] - 1e-9 && timeS < span[1] - 1e-9;

/** Lead share of the load: 60 % at address, 83 % at delivery, 89 % at the end. */
function shareAt(timeS: number): number {
  const points: readonly (readonly [number, number])[] = [
    [0, 0.6],
    [2.5, 0.6],
    [3.0, 0.59],
    [3.42, 0.83],
    [4.0, 0.89],
    [SECONDS, 0.89],
  ];
  const next = Math.max(
    1,
    points.findIndex(([at]) => at >= timeS),
  );
  const [t0, s0] = points[next - 1]!;
  const [t1, s1] = points[next]!;
  return s0 + ((s1 - s0) * (timeS - t0)) / (t1 - t0);
}

/** Curves of one shot as functions of time, and columns made from them. */
interface Curves {
  readonly data: (fill: (timeS: number) => number) => Float64Array<ArrayBuffer>;
  readonly sumOf: (timeS: number, what: "forceN" | "impulseNs" | "doubleNs2") => number;
  readonly still: { readonly target: number; readonly ahead: number; readonly up: number };
  readonly gapS: readonly [number, number] | undefined;
}

function curves({ pitchDeg = 5, rollDeg = 0, braking = 1, gapS }: HandMade): Curves {
  const target = Math.sin((pitchDeg * Math.PI) / 180);
  const ahead = Math.sin((rollDeg * Math.PI) / 180);
  const up = Math.sqrt(1 - target ** 2 - ahead ** 2);
  return {
    data: (fill) => column((timeS) => (inside(timeS, gapS) ? Number.NaN : fill(timeS))),
    sumOf: (timeS, what) => PULSES.reduce((total, p, k) => total + (k === 2 ? braking : 1) * pulse(timeS, p)[what], 0),
    still: { target: WEIGHT_N * target, ahead: WEIGHT_N * ahead, up: WEIGHT_N * up },
    gapS,
  };
}

interface FootPlan {
  readonly share: (timeS: number) => number;
  readonly copM: TurfPoint;
  readonly lightS?: readonly [number, number] | undefined;
}

function footSeries({ data, sumOf, still, gapS }: Curves, { share, copM, lightS }: FootPlan): FootSeries {
  const bump = (timeS: number, atS: number, peakN: number): number => peakN * Math.exp(-(((timeS - atS) / 0.08) ** 2));
  const wrench: PlayerWrench = {
    targetN: data((t) => share(t) * (still.target + sumOf(t, "forceN"))),
    aheadN: data((t) => share(t) * (still.ahead + bump(t, 3.4, 37))),
    upN: data((t) => share(t) * (still.up + bump(t, 3.45, 160))),
    bTargetNm: data(() => 0),
    bAheadNm: data(() => 0),
    turnNm: data(() => 0),
  };
  const isPlaced = (t: number): boolean => !inside(t, gapS) && !inside(t, lightS);
  const flags = (): Uint8Array => Uint8Array.from({ length: COUNT }, (_, i) => (isPlaced(i / RATE_HZ) ? 1 : 0));
  return {
    wrench,
    unfiltered: wrench,
    isLoaded: flags(),
    copTargetM: column((t) => (isPlaced(t) ? copM.targetM : Number.NaN)),
    copAheadM: column((t) => (isPlaced(t) ? copM.aheadM + 0.02 * (share(t) - 0.6) : Number.NaN)),
    copSigmaM: column(() => 0.002),
    isTrusted: flags(),
    freeMomentNm: data((t) => 10 * Math.sin(t)),
  };
}

function motion({ data, sumOf }: Curves, axes: "turf" | "level"): MotionSeries {
  const zero = column(() => 0);
  const sigma = column(() => 0.008);
  return {
    axes,
    speedTargetMPerS: data((t) => sumOf(t, "impulseNs") / MASS_KG),
    speedAheadMPerS: zero,
    speedUpMPerS: zero,
    travelTargetM: data((t) => sumOf(t, "doubleNs2") / MASS_KG),
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

type FootPart = Pick<Shot, "lead" | "trail" | "both" | "leadShare" | "coupleNm" | "sigmas" | "plateOutlines">;

function feetOf(made: Curves, { isOnePlate, lightS }: HandMade): FootPart {
  const nothing = column(() => Number.NaN);
  const both = footSeries(made, { share: () => 1, copM: { targetM: 0.04, aheadM: 0 } });
  if (isOnePlate) {
    return {
      lead: undefined,
      trail: undefined,
      both,
      leadShare: nothing,
      coupleNm: nothing,
      sigmas: { lead: undefined, trail: undefined, both: plateSigmas(0) },
      plateOutlines: [plate(1, "both", 0)],
    };
  }
  return {
    lead: footSeries(made, { share: shareAt, copM: { targetM: 0.2, aheadM: 0 } }),
    trail: footSeries(made, { share: (t) => 1 - shareAt(t), copM: { targetM: -0.2, aheadM: 0 }, lightS }),
    both,
    leadShare: made.data(shareAt),
    coupleNm: made.data((t) => 5 * Math.sin(t)),
    sigmas: { lead: plateSigmas(0.2), trail: plateSigmas(-0.2), both: undefined },
    plateOutlines: [plate(1, "lead", 0.2), plate(2, "trail", -0.2)],
  };
}

/** A shot of a player of 800 N, five seconds at 500 Hz, impact at 3.5 s. */
export function handMadeShot(options: HandMade = {}): Shot {
  const { pitchDeg = 5, rollDeg = 0, isLieKnown = true } = options;
  const made = curves(options);
  const lie: Lie = { pitchDeg, rollDeg, source: isLieKnown ? "inclinometer" : "assumed", sdDeg: 0.2 };
  return {
    rateHz: RATE_HZ,
    sampleCount: COUNT,
    handed: options.handed ?? "right",
    lie,
    isLieKnown,
    settings: DEFAULT_SETTINGS,
    cutoffHz: 25,
    gravityMPerS2: GRAVITY_M_PER_S2,
    weightN: WEIGHT_N,
    weightSigmaN: 3,
    massKg: MASS_KG,
    massSigmaKg: 0.3,
    padM: 0,
    address: {
      first: RATE_HZ,
      end: 2 * RATE_HZ,
      isStill: true,
      forceN: made.still,
      forceSigmaN: { target: 2, ahead: 2, up: 3 },
      driftSigmaMPerS2: { target: 0.008, ahead: 0.008, up: 0.005 },
    },
    events: handMadeEvents(options),
    ...feetOf(made, options),
    turf: motion(made, "turf"),
    level: motion(made, "level"),
    closing: options.closing ?? "closed",
    soles: options.isTraced === false ? { lead: undefined, trail: undefined } : { lead: sole(0.2), trail: sole(-0.2) },
    middle: { targetM: 0, aheadM: 0 },
    ball: { targetM: 0, aheadM: 0.45 },
    clockSigmaMs: 0,
    isClockWithheld: false,
    isSaturated: Uint8Array.from({ length: COUNT }, (_, i) => (inside(i / RATE_HZ, options.saturatedS) ? 1 : 0)),
    slopeCheck: { pitchDeg, rollDeg, sigmaDeg: 0.25, allowedDeg: 0.6, agrees: true },
    findings: [],
  };
}

function handMadeEvents({ without = [], sources = {} }: HandMade): readonly ShotEvent[] {
  const address: ShotEvent = { event: "address", timeS: 1.5, source: "estimated", sigmaMs: 0 };
  const others = (["start", "top", "delivery", "impact", "finish"] as const).map((event) => {
    const [timeS, sigmaMs, source] = TIMES[event];
    return { event, timeS, sigmaMs, source: sources[event] ?? source };
  });
  return [address, ...others].filter(({ event }) => !without.includes(event));
}

/** A rectangle of 30 by 10 cm, heel at -15 cm, toe at +15 cm. */
function sole(targetM: number): Sole {
  const corner = (side: number, end: number): TurfPoint => ({ targetM: targetM + side * 0.05, aheadM: end * 0.15 });
  return {
    outline: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)],
    heel: { targetM, aheadM: -0.15 },
    toe: { targetM, aheadM: 0.15 },
  };
}

function plate(number: number, foot: "lead" | "trail" | "both", targetM: number): Shot["plateOutlines"][number] {
  const corner = (side: number, end: number): TurfPoint => ({ targetM: targetM + side * 0.2, aheadM: end * 0.3 });
  return { plate: number, foot, outline: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)] };
}

function plateSigmas(targetM: number): PlateSigmas {
  const half = { target: 0.5, ahead: 0.5, up: 1 };
  return {
    centre: { target: targetM, ahead: 0, up: 0 },
    noiseN: half,
    noiseNm: half,
    zeroN: 2,
    zeroNm: 0.5,
    gain: 0.005,
    crosstalk: 0.002,
    placeM: 0.002,
  };
}
