import type { PlayerAxes, PlayerVector } from "@underfoot/domain";
import {
  type FootSeries,
  levelFromTurf,
  type PlateSigmas,
  playerDot,
  type Shot,
  staticSlopeShare,
} from "@underfoot/mechanics";
import { noiseGain } from "@underfoot/signal";
import { columnOf, columnParts, type ShotSeries } from "./compared-shot.ts";
import { compareFaults } from "./faults.ts";

const RAD = Math.PI / 180;
const MM_PER_M = 1000;
/** What is kept of a curve: the window about impact and the events, with a little around for the cubic. */
const BEFORE_IMPACT_S = 0.72;
const AFTER_IMPACT_S = 0.32;
const AROUND_S = 0.05;

type Direction = "target" | "ahead" | "up";
type Place = "lead" | "trail" | "both";

/** One curve that can be compared. */
export interface CurveKind {
  /** A quantity of the catalogue of measures: "both.target". */
  readonly id: string;
  readonly title: string;
  readonly unit: string;
  /** Turf and level, or only one of them, or neither. */
  readonly axes: readonly (PlayerAxes | undefined)[];
}

const BOTH_AXES = ["turf", "level"] as const;
const NO_AXES = [undefined] as const;

const forceKinds = (place: Place, titles: readonly [string, string, string]): readonly CurveKind[] =>
  (["target", "ahead", "up"] as const).map((direction, k) => ({
    id: `${place}.${direction}`,
    title: titles[k] ?? direction,
    unit: "N",
    axes: BOTH_AXES,
  }));

/** Every curve that can be compared, in the order in which it is shown. */
export const CURVES: readonly CurveKind[] = [
  { id: "lead.share", title: "Lead foot load share", unit: "%", axes: NO_AXES },
  { id: "both.speedTarget", title: "Speed to target", unit: "m/s", axes: BOTH_AXES },
  { id: "both.travelTarget", title: "Travel to target", unit: "mm", axes: BOTH_AXES },
  ...forceKinds("both", ["Push to target", "Push ahead", "Up force"]),
  { id: "both.speedAhead", title: "Speed ahead", unit: "m/s", axes: BOTH_AXES },
  { id: "both.travelAhead", title: "Travel ahead", unit: "mm", axes: BOTH_AXES },
  { id: "both.speedUp", title: "Speed up", unit: "m/s", axes: ["level"] },
  { id: "both.travelUp", title: "Travel up", unit: "mm", axes: ["level"] },
  { id: "both.turn", title: "Turning torque", unit: "N m", axes: NO_AXES },
  { id: "both.couple", title: "Couple of the feet", unit: "N m", axes: NO_AXES },
  { id: "both.copTarget", title: "Pressure of both feet to target", unit: "mm", axes: NO_AXES },
  { id: "both.copAhead", title: "Pressure of both feet ahead", unit: "mm", axes: NO_AXES },
  ...forceKinds("lead", ["Lead push to target", "Lead push ahead", "Lead up force"]),
  ...forceKinds("trail", ["Trail push to target", "Trail push ahead", "Trail up force"]),
];

/** Name and unit of a curve column. @throws UnderfootError for one that is not in `CURVES` */
export function curveKind(
  column: string,
): CurveKind & { readonly column: string; readonly in: PlayerAxes | undefined } {
  const { id, axes } = columnParts(column);
  const kind = CURVES.find((one) => one.id === id);
  if (kind === undefined || !kind.axes.includes(axes)) throw compareFaults.unknownCurve(column);
  return { ...kind, column, in: axes };
}

/** The column of a curve in these axes, or in the only ones it has. @throws UnderfootError for a name that is not in `CURVES` */
export function curveColumn(name: string, axes: PlayerAxes): string {
  const { id, axes: named } = columnParts(name);
  const kind = CURVES.find((one) => one.id === id);
  if (kind === undefined) throw compareFaults.unknownCurve(name);
  const wanted = named ?? axes;
  return columnOf(id, kind.axes.includes(wanted) ? wanted : kind.axes[0]);
}

/** What a series is made of before it is put on the time of impact. */
interface Raw {
  readonly values: Float64Array<ArrayBuffer>;
  readonly slopeShare?: Float64Array<ArrayBuffer>;
  readonly sigma: number;
  readonly sigmaOfLie?: number;
  readonly sigmaOfSetUp?: number;
}

function mapped(column: ArrayLike<number>, of: (value: number, i: number) => number): Float64Array<ArrayBuffer> {
  return Float64Array.from(column, of);
}

function plateSigmas(shot: Shot, place: Place): readonly PlateSigmas[] {
  const { lead, trail, both } = shot.sigmas;
  if (place !== "both") return [shot.sigmas[place]].filter((one) => one !== undefined);
  const feet = [lead, trail].filter((one) => one !== undefined);
  return feet.length > 0 ? feet : [both].filter((one) => one !== undefined);
}

/** Root of the summed squares over plates. */
function overPlates(plates: readonly PlateSigmas[], of: (plate: PlateSigmas) => number): number {
  return Math.hypot(...plates.map(of));
}

function noiseLeft(shot: Shot): number {
  return shot.cutoffHz === undefined ? 1 : noiseGain({ cutoffHz: shot.cutoffHz, rateHz: shot.rateHz });
}

const TURF: Readonly<Record<Direction, PlayerVector>> = {
  target: { target: 1, ahead: 0, up: 0 },
  ahead: { target: 0, ahead: 1, up: 0 },
  up: { target: 0, ahead: 0, up: 1 },
};

/** What the inclinometer's error does to a force: W cos p (target), W cos r (ahead), W sin p (up, turf), 0 (up, level). */
function angleSigmaN(shot: Shot, direction: Direction, axes: PlayerAxes): number {
  const { pitchDeg, rollDeg, sdDeg } = shot.lie;
  const perRad = {
    target: Math.cos(pitchDeg * RAD),
    ahead: Math.cos(rollDeg * RAD),
    up: axes === "level" ? 0 : Math.hypot(Math.sin(pitchDeg * RAD), Math.sin(rollDeg * RAD)),
  };
  return shot.weightN * perRad[direction] * sdDeg * RAD;
}

function forceSeries(shot: Shot, place: Place, direction: Direction, axes: PlayerAxes): Raw | undefined {
  const foot: FootSeries | undefined = shot[place];
  if (foot === undefined) return undefined;
  const axis = axes === "turf" ? TURF[direction] : levelFromTurf(shot.lie)[direction];
  const { targetN, aheadN, upN } = foot.wrench;
  const plates = plateSigmas(shot, place);
  const left = noiseLeft(shot);
  const values = mapped(targetN, (target, i) =>
    playerDot(axis, { target, ahead: aheadN[i] ?? NaN, up: upN[i] ?? NaN }),
  );
  const hasShare = axes === "turf" && shot.isLieKnown;
  const whole = hasShare ? staticSlopeShare(shot.lie, shot.weightN).forceN[direction] : 0;
  const loadShare = (i: number): number =>
    place === "both" ? 1 : place === "lead" ? (shot.leadShare[i] ?? NaN) : 1 - (shot.leadShare[i] ?? NaN);
  return {
    values,
    ...(hasShare ? { slopeShare: mapped(values, (_, i) => whole * loadShare(i)) } : {}),
    sigma: left * overPlates(plates, ({ noiseN }) => noiseN[direction]),
    sigmaOfLie: angleSigmaN(shot, direction, axes),
    sigmaOfSetUp: overPlates(plates, ({ zeroN }) => zeroN),
  };
}

/** Sigma of a column of sigmas in the middle of what counts: its mean from the first to the last event. */
function meanSigma(shot: Shot, sigmas: ArrayLike<number>): number {
  const times = shot.events.map(({ timeS }) => timeS * shot.rateHz);
  const [first, last] = [Math.max(0, Math.floor(Math.min(...times))), Math.ceil(Math.max(...times))];
  let [sum, count] = [0, 0];
  for (let i = first; i <= last && i < sigmas.length; i++) {
    if (!Number.isFinite(sigmas[i])) continue;
    sum += sigmas[i] ?? 0;
    count++;
  }
  return count === 0 ? 0 : sum / count;
}

function motionSeries(shot: Shot, what: string, axes: PlayerAxes): Raw {
  const motion = shot[axes];
  const [values, sigmas, perM] = {
    speedTarget: [motion.speedTargetMPerS, motion.speedTargetSigmaMPerS, 1] as const,
    speedAhead: [motion.speedAheadMPerS, motion.speedAheadSigmaMPerS, 1] as const,
    speedUp: [motion.speedUpMPerS, motion.speedUpSigmaMPerS, 1] as const,
    travelTarget: [motion.travelTargetM, motion.travelTargetSigmaM, MM_PER_M] as const,
    travelAhead: [motion.travelAheadM, motion.travelAheadSigmaM, MM_PER_M] as const,
    travelUp: [motion.travelUpM, motion.travelUpSigmaM, MM_PER_M] as const,
  }[what as "speedTarget"];
  return { values: mapped(values, (value) => value * perM), sigma: perM * meanSigma(shot, sigmas) };
}

/** Share, torques and pressure: the axes make no difference. */
function plainSeries(shot: Shot, id: string): Raw | undefined {
  const plates = plateSigmas(shot, "both");
  const left = noiseLeft(shot);
  const hasFeet = shot.lead !== undefined && shot.trail !== undefined;
  const perLoad = 100 / shot.weightN;
  const momentNoise = left * overPlates(plates, ({ noiseNm }) => noiseNm.up);
  const momentZero = overPlates(plates, ({ zeroNm }) => zeroNm);
  const { both, middle } = shot;
  switch (id) {
    case "lead.share":
      if (!hasFeet) return undefined;
      return {
        values: mapped(shot.leadShare, (share) => 100 * share),
        sigma: perLoad * left * overPlates(plates, ({ noiseN }) => noiseN.up) * Math.SQRT1_2,
        sigmaOfSetUp: perLoad * overPlates(plates, ({ zeroN }) => zeroN) * Math.SQRT1_2,
      };
    case "both.turn":
      return { values: mapped(both.freeMomentNm, (nm) => nm), sigma: momentNoise, sigmaOfSetUp: momentZero };
    case "both.couple":
      if (!hasFeet) return undefined;
      return { values: mapped(shot.coupleNm, (nm) => nm), sigma: momentNoise, sigmaOfSetUp: momentZero };
    case "both.copTarget":
    case "both.copAhead": {
      const column = id === "both.copTarget" ? both.copTargetM : both.copAheadM;
      const from = id === "both.copTarget" ? middle.targetM : middle.aheadM;
      const values = mapped(column, (m, i) => (both.isTrusted[i] === 1 ? (m - from) * MM_PER_M : Number.NaN));
      const sigma = MM_PER_M * meanSigma(shot, both.copSigmaM);
      return { values, sigma, sigmaOfSetUp: sigma };
    }
    default:
      return undefined;
  }
}

function rawSeries(shot: Shot, id: string, axes: PlayerAxes | undefined): Raw | undefined {
  const [place = "", what = ""] = id.split(".");
  if (axes === undefined) return plainSeries(shot, id);
  if (what === "target" || what === "ahead" || what === "up") return forceSeries(shot, place as Place, what, axes);
  return motionSeries(shot, what, axes);
}

/**
 * Curves of one shot on the time of its impact.
 *
 * @param columns  of `CURVES`: "both.target turf"
 * @returns        by column; empty for a shot without impact, and without the curves it cannot have (one foot's without a plate of its own)
 */
export function shotCurves(shot: Shot, columns: readonly string[]): ReadonlyMap<string, ShotSeries> {
  const impact = shot.events.find(({ event }) => event === "impact");
  if (impact === undefined) return new Map();
  const times = shot.events.filter(({ event }) => event !== "address").map(({ timeS }) => timeS);
  const [fromS, toS] = [
    Math.min(impact.timeS - BEFORE_IMPACT_S, ...times.map((timeS) => timeS - AROUND_S)),
    Math.max(impact.timeS + AFTER_IMPACT_S, ...times.map((timeS) => timeS + AROUND_S)),
  ];
  const first = Math.max(0, Math.floor(fromS * shot.rateHz));
  const end = Math.min(shot.sampleCount, Math.ceil(toS * shot.rateHz) + 1);
  return new Map(
    columns.flatMap((column) => {
      const kind = curveKind(column);
      const raw = rawSeries(shot, kind.id, kind.in);
      if (raw === undefined) return [];
      const { sigmaOfLie = 0, sigmaOfSetUp = 0, values, slopeShare } = raw;
      const firstMs = 1000 * (first / shot.rateHz - impact.timeS);
      return [
        [
          column,
          {
            values: values.slice(first, end),
            ...(slopeShare === undefined ? {} : { slopeShare: slopeShare.slice(first, end) }),
            ...{ sigma: raw.sigma, sigmaOfLie, sigmaOfSetUp, firstMs, rateHz: shot.rateHz },
          },
        ] as const,
      ];
    }),
  );
}
