import type { Foot, TurfPoint } from "@underfoot/domain";
import { type Knot, monotoneCubic } from "./monotone-cubic.ts";
import type { SimulatedPlayer } from "./player.ts";

/**
 * A sole on the turf, metres from the reference point along target and ahead. `stations` run from heel (0) to toe
 * (lengthM); at each the sole reaches from innerM to outerM across, + to the outer side of that foot.
 */
export interface SimulatedSole {
  readonly foot: Foot;
  readonly outline: readonly TurfPoint[];
  readonly heel: TurfPoint;
  readonly toe: TurfPoint;
  readonly lengthM: number;
  readonly along: TurfPoint;
  readonly across: TurfPoint;
  readonly stationsM: readonly number[];
  readonly innerM: readonly number[];
  readonly outerM: readonly number[];
}

/** Half widths of a shoe sole over the largest, heel to toe. Invented, plausible (common practice, no source). */
const OUTER_PROFILE: readonly Knot[] = [
  { at: 0, value: 0 },
  { at: 0.03, value: 0.45 },
  { at: 0.12, value: 0.72 },
  { at: 0.35, value: 0.74 },
  { at: 0.66, value: 1 },
  { at: 0.82, value: 0.9 },
  { at: 0.95, value: 0.5 },
  { at: 1, value: 0 },
];
const INNER_PROFILE: readonly Knot[] = [
  { at: 0, value: 0 },
  { at: 0.03, value: 0.45 },
  { at: 0.12, value: 0.7 },
  { at: 0.42, value: 0.56 },
  { at: 0.72, value: 0.96 },
  { at: 0.86, value: 0.82 },
  { at: 0.95, value: 0.52 },
  { at: 1, value: 0 },
];
const STATIONS = 18;

/** CoP targets are kept to this part of the sole's length when the chord across is taken, as the definition of inner-outer says. */
const CHORD_FROM = 0.1;
const CHORD_TO = 0.9;

function profileAt(profile: readonly Knot[], part: number): number {
  return monotoneCubic(profile, { firstS: part, stepS: 1, count: 1 })[0]!;
}

function soleAt(
  foot: Foot,
  middle: TurfPoint,
  flareDeg: number,
  size: { lengthM: number; widthM: number },
): SimulatedSole {
  const outward = foot === "lead" ? 1 : -1;
  const flare = (flareDeg * Math.PI) / 180;
  const along = { targetM: outward * Math.sin(flare), aheadM: Math.cos(flare) };
  const across = { targetM: outward * along.aheadM, aheadM: -outward * along.targetM };
  const { lengthM } = size;
  const heel = {
    targetM: middle.targetM - (along.targetM * lengthM) / 2,
    aheadM: middle.aheadM - (along.aheadM * lengthM) / 2,
  };
  const stationsM: number[] = [];
  const innerM: number[] = [];
  const outerM: number[] = [];
  for (let k = 0; k <= STATIONS; k++) {
    const part = (1 - Math.cos((Math.PI * k) / STATIONS)) / 2;
    stationsM.push(part * lengthM);
    innerM.push((-profileAt(INNER_PROFILE, part) * size.widthM) / 2);
    outerM.push((profileAt(OUTER_PROFILE, part) * size.widthM) / 2);
  }
  const at = (station: number, off: number): TurfPoint => ({
    targetM: heel.targetM + along.targetM * station + across.targetM * off,
    aheadM: heel.aheadM + along.aheadM * station + across.aheadM * off,
  });
  const outerSide = stationsM.map((station, k) => at(station, outerM[k]!));
  const innerSide = stationsM.map((station, k) => at(station, innerM[k]!)).slice(1, -1);
  return {
    foot,
    outline: [...outerSide, ...innerSide.reverse()],
    heel,
    toe: at(lengthM, 0),
    lengthM,
    along,
    across,
    stationsM,
    innerM,
    outerM,
  };
}

/** Where the player stands: both soles, the middle between them at the reference point. */
export function stance({ feet }: SimulatedPlayer): { readonly lead: SimulatedSole; readonly trail: SimulatedSole } {
  const half = { targetM: feet.stanceM / 2, aheadM: feet.openM / 2 };
  return {
    lead: soleAt("lead", half, feet.leadFlareDeg, feet),
    trail: soleAt("trail", { targetM: -half.targetM, aheadM: -half.aheadM }, feet.trailFlareDeg, feet),
  };
}

/** The sole's reach across at a station, m, the station held within 10 to 90 % of its length: [inner, outer]. */
function chordM(sole: SimulatedSole, stationM: number): [number, number] {
  const held = Math.min(CHORD_TO * sole.lengthM, Math.max(CHORD_FROM * sole.lengthM, stationM));
  const { stationsM, innerM, outerM } = sole;
  let k = 1;
  while (stationsM[k]! < held) k++;
  const part = (held - stationsM[k - 1]!) / (stationsM[k]! - stationsM[k - 1]!);
  return [innerM[k - 1]! + part * (innerM[k]! - innerM[k - 1]!), outerM[k - 1]! + part * (outerM[k]! - outerM[k - 1]!)];
}

/** The turf point at a heel-toe and an inner-outer percentage of a sole. */
export function solePoint(sole: SimulatedSole, heelToe: number, innerOuter: number): TurfPoint {
  const stationM = (heelToe / 100) * sole.lengthM;
  const [inner, outer] = chordM(sole, stationM);
  const off = inner + (innerOuter / 100) * (outer - inner);
  return {
    targetM: sole.heel.targetM + sole.along.targetM * stationM + sole.across.targetM * off,
    aheadM: sole.heel.aheadM + sole.along.aheadM * stationM + sole.across.aheadM * off,
  };
}

/** Heel-toe and inner-outer percentages of a turf point: the way back from `solePoint`. */
export function soleCoordinates(sole: SimulatedSole, point: TurfPoint): { heelToe: number; innerOuter: number } {
  const fromTarget = point.targetM - sole.heel.targetM;
  const fromAhead = point.aheadM - sole.heel.aheadM;
  const stationM = fromTarget * sole.along.targetM + fromAhead * sole.along.aheadM;
  const off = fromTarget * sole.across.targetM + fromAhead * sole.across.aheadM;
  const [inner, outer] = chordM(sole, stationM);
  return { heelToe: (100 * stationM) / sole.lengthM, innerOuter: (100 * (off - inner)) / (outer - inner) };
}

/** Signed distance of a turf point to the sole's outline, m, + inside: nearest point of every edge, sign by even-odd crossing. */
export function soleMarginM(sole: SimulatedSole, point: TurfPoint): number {
  const { outline } = sole;
  let nearest = Number.POSITIVE_INFINITY;
  let isInside = false;
  for (let k = 0; k < outline.length; k++) {
    const a = outline[k]!;
    const b = outline[(k + 1) % outline.length]!;
    const edgeT = b.targetM - a.targetM;
    const edgeA = b.aheadM - a.aheadM;
    const t = point.targetM - a.targetM;
    const h = point.aheadM - a.aheadM;
    const part = Math.min(1, Math.max(0, (t * edgeT + h * edgeA) / (edgeT * edgeT + edgeA * edgeA)));
    nearest = Math.min(nearest, Math.hypot(t - part * edgeT, h - part * edgeA));
    const isCrossed = a.aheadM > point.aheadM !== b.aheadM > point.aheadM;
    if (isCrossed && t < (h * edgeT) / edgeA) isInside = !isInside;
  }
  return isInside ? nearest : -nearest;
}
