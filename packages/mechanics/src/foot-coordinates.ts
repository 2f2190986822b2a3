import type { Foot, TurfPoint } from "@underfoot/domain";
import { shotFaults } from "./faults.ts";
import type { Sole } from "./shot.ts";

/** Smallest sole that is accepted, m². */
const SMALLEST_AREA_M2 = 0.005;

/** Where a point lies on a sole. */
export interface FootCoordinates {
  /** Percent from heel 0 to toe 100; can leave 0..100. */
  readonly heelToe: number;
  /** Percent from the inner 0 to the outer edge 100 at that station. */
  readonly innerOuter: number;
  /** Distance to the outline, mm, + inside. */
  readonly marginMm: number;
}

/**
 * Place of a point (a CoP) on a sole, the same for both hands.
 *
 *   a = unit(E - H),  b = q (a_ahead, -a_target), q = +1 lead, -1 trail (to the outer side)
 *   heelToe = 100 (r - H)·a / |E - H|,   innerOuter = 100 (y - y_in) / (y_out - y_in),  y = (r - H)·b
 *
 * The chord is taken at the point's station, held within 10..90 % of |E - H| (the chord shrinks to nothing at the ends).
 * Margin: nearest point of every edge, sign by even-odd crossing. NaN coordinates give NaN.
 *
 * @throws RangeError for a sole that `checkedSole` would refuse for having under three points or no length
 */
export function footCoordinates(sole: Sole, foot: Foot, point: TurfPoint): FootCoordinates {
  const { heel, toe, outline } = sole;
  const lengthM = Math.hypot(toe.targetM - heel.targetM, toe.aheadM - heel.aheadM);
  if (!(lengthM > 0) || outline.length < 3) throw new RangeError("a sole needs a length and three points");
  const aT = (toe.targetM - heel.targetM) / lengthM;
  const aA = (toe.aheadM - heel.aheadM) / lengthM;
  const q = foot === "lead" ? 1 : -1;
  const dT = point.targetM - heel.targetM;
  const dA = point.aheadM - heel.aheadM;
  const along = dT * aT + dA * aA;
  const across = q * (dT * aA - dA * aT);
  const station = Math.min(0.9 * lengthM, Math.max(0.1 * lengthM, along));
  const chord = chordAt(sole, { aT, aA, q }, station);
  return {
    heelToe: (100 * along) / lengthM,
    innerOuter: (100 * (across - chord.inner)) / (chord.outer - chord.inner),
    marginMm: 1000 * marginM(outline, point),
  };
}

/** Inner and outer end of the outline's chord across the foot at a station from the heel, m. */
function chordAt(
  { heel, outline }: Sole,
  { aT, aA, q }: { readonly aT: number; readonly aA: number; readonly q: number },
  station: number,
): { readonly inner: number; readonly outer: number } {
  let inner = Number.POSITIVE_INFINITY;
  let outer = Number.NEGATIVE_INFINITY;
  const size = outline.length;
  for (let i = 0; i < size; i++) {
    const p = outline[i]!;
    const next = outline[(i + 1) % size]!;
    const pT = p.targetM - heel.targetM;
    const pA = p.aheadM - heel.aheadM;
    const nT = next.targetM - heel.targetM;
    const nA = next.aheadM - heel.aheadM;
    const s0 = pT * aT + pA * aA - station;
    const s1 = nT * aT + nA * aA - station;
    if (s0 > 0 === s1 > 0) continue;
    const y0 = q * (pT * aA - pA * aT);
    const y1 = q * (nT * aA - nA * aT);
    const y = y0 + ((y1 - y0) * s0) / (s0 - s1);
    inner = Math.min(inner, y);
    outer = Math.max(outer, y);
  }
  return { inner, outer };
}

/** Signed distance of a point to a closed outline, m, + inside (even-odd rule). */
export function marginM(outline: readonly TurfPoint[], point: TurfPoint): number {
  let nearest2 = Number.POSITIVE_INFINITY;
  let isInside = false;
  const size = outline.length;
  for (let i = 0; i < size; i++) {
    const p = outline[i]!;
    const next = outline[(i + 1) % size]!;
    const eT = next.targetM - p.targetM;
    const eA = next.aheadM - p.aheadM;
    const dT = point.targetM - p.targetM;
    const dA = point.aheadM - p.aheadM;
    const length2 = eT * eT + eA * eA;
    const share = length2 > 0 ? Math.min(1, Math.max(0, (dT * eT + dA * eA) / length2)) : 0;
    const rT = dT - share * eT;
    const rA = dA - share * eA;
    nearest2 = Math.min(nearest2, rT * rT + rA * rA);
    if (p.aheadM > point.aheadM !== next.aheadM > point.aheadM && dT < (eT * dA) / eA) isInside = !isInside;
  }
  return (isInside ? 1 : -1) * Math.sqrt(nearest2);
}

/** Area of a closed outline, m², without sign. */
function areaM2(outline: readonly TurfPoint[]): number {
  let twice = 0;
  for (let i = 0; i < outline.length; i++) {
    const p = outline[i]!;
    const next = outline[(i + 1) % outline.length]!;
    twice += p.targetM * next.aheadM - next.targetM * p.aheadM;
  }
  return Math.abs(twice) / 2;
}

/** Which side of the line p-q the point r lies on: sign of the doubled area. */
function side(p: TurfPoint, q: TurfPoint, r: TurfPoint): number {
  return (q.targetM - p.targetM) * (r.aheadM - p.aheadM) - (q.aheadM - p.aheadM) * (r.targetM - p.targetM);
}

function crosses(outline: readonly TurfPoint[]): boolean {
  const size = outline.length;
  for (let i = 0; i < size; i++) {
    const p = outline[i]!;
    const p2 = outline[(i + 1) % size]!;
    for (let j = i + 2; j < size; j++) {
      if (i === 0 && j === size - 1) continue;
      const q = outline[j]!;
      const q2 = outline[(j + 1) % size]!;
      if (side(p, p2, q) * side(p, p2, q2) < 0 && side(q, q2, p) * side(q, q2, p2) < 0) return true;
    }
  }
  return false;
}

/** Why a sole cannot be used, as the end of a sentence ("The outline of the lead foot ..."); undefined: it can. */
export function soleFault(sole: Sole): string | undefined {
  const points = [...sole.outline, sole.heel, sole.toe];
  if (sole.outline.length < 3) return `has ${sole.outline.length} points, three are needed`;
  if (!points.every((p) => Number.isFinite(p.targetM) && Number.isFinite(p.aheadM))) return "has a missing number";
  const area = areaM2(sole.outline);
  if (area < SMALLEST_AREA_M2) return `covers ${(1e4 * area).toFixed(1)} cm², less than 50 cm²`;
  if (crosses(sole.outline)) return "crosses itself";
  const length = Math.hypot(sole.toe.targetM - sole.heel.targetM, sole.toe.aheadM - sole.heel.aheadM);
  if (length < 0.05) return `has its heel and toe ${(1000 * length).toFixed(0)} mm apart`;
  return undefined;
}

/**
 * A sole that can be measured on.
 * @throws UnderfootError `outline-invalid`: under three points, under 50 cm², crossing itself, heel on toe
 */
export function checkedSole(sole: Sole, foot: Foot): Sole {
  const why = soleFault(sole);
  if (why !== undefined) throw shotFaults.outlineInvalid(foot, why);
  return sole;
}
