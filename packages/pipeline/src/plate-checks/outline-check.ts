import { dot, type Foot, type FootOutlineFact, type Recording, scaled, sum, type Vector } from "@underfoot/domain";
import { centreOfPressure, checkedSole, marginM, type Settings, turfAxes, validMean } from "@underfoot/mechanics";
import type { Stretch } from "../recording-stretch.ts";
import { checkFaults } from "./check-faults.ts";
import { type PlateCheckFacts, type PlateCheckPart, type PlateCheckResult, part } from "./check-outcome.ts";
import { type CheckedPlate, checkedPlates, runsWhere, tickMeans } from "./check-plates.ts";
import { apart, OUTLINE_POINTS, type SurfacePoint, smoothed } from "./smooth-outline.ts";

export interface OutlinesAsked {
  /** The foot that was traced, where the plates do not tell: one plate under both feet. */
  readonly foot?: Foot;
}

/** From this load on somebody stands on the plate; a stick or a finger presses with less, N (ours). */
const STANDING_N = 250;
/** The path is looked at in means over this long, s, and smoothed over this many of them. */
const STEP_S = 0.02;
const SMOOTHED_STEPS = 2;
/** A shorter press is no stroke, s. */
const SHORTEST_STROKE_S = 0.5;
const SHORTEST_STANCE_S = 0.5;
/** Nothing that closes earlier is a foot: way round, m. */
const SHORTEST_ROUND_M = 0.4;
const SMOOTHED_M = 0.01;

/** What a foot measures, mm (common practice, no source), and how far the outline may stay open (ours). */
const LENGTH_MM: readonly [number, number] = [200, 340];
const BREADTH_MM: readonly [number, number] = [70, 130];
const GAP_MM = 10;
/** How far outside the outline a quiet stance's centre of pressure may lie: what it is uncertain by (ours). */
const OUTSIDE_MM = 5;

/** A traced foot in plate axes. */
interface Traced {
  readonly plate: CheckedPlate;
  readonly foot: Foot;
  readonly fact: FootOutlineFact;
  readonly gapMm: number;
  readonly lengthMm: number;
  readonly breadthMm: number;
  readonly stance: SurfacePoint | undefined;
}

/**
 * Outlines: on each plate a stick or a finger goes once round the foot's edge; its centre of pressure is the outline. The
 * unloaded stretch of the recording is taken as zero: at 50 N an error of 0.5 N m would be 10 mm. Where somebody also stands
 * on the plate in this recording, the pressure of the stance must lie inside.
 *
 * @throws UnderfootError `plates-missing` where facts are wanted; `no-trace`, `outline-invalid`, `no-plates`
 */
export function outlineCheck(
  recording: Recording,
  {
    facts,
    settings,
    asked,
  }: { readonly facts: PlateCheckFacts; readonly settings: Settings; readonly asked: OutlinesAsked },
): PlateCheckResult {
  const plates = checkedPlates(recording, facts, settings);
  const traced = plates.flatMap((plate): Traced[] => {
    const { strokes, stance } = pathOf(recording, plate, { settings, padM: facts.padM ?? 0 });
    if (strokes.length === 0) return [];
    const foot =
      asked.foot ?? (plate.fact.foot === "lead" || plate.fact.foot === "trail" ? plate.fact.foot : undefined);
    if (foot === undefined) throw checkFaults.feetMissing();
    return [tracedFoot({ plate, foot, strokes, stance }, facts)];
  });
  if (traced.length === 0) throw checkFaults.noTrace();
  const unzeroed = traced.filter(({ plate }) => plate.zero === undefined && plate.fact.zero === undefined);
  const unstood = traced.filter(({ stance }) => stance === undefined);
  return {
    parts: traced.flatMap(outlineParts),
    detail: {
      outlines: traced.map(({ fact }) => fact),
      feet: traced.map(({ plate, foot, gapMm, lengthMm, breadthMm, stance }) => ({
        plate: plate.index,
        foot,
        gapMm,
        lengthMm,
        breadthMm,
        ...(stance ? { stanceM: stance } : {}),
      })),
    },
    remedy:
      "Trace the foot again: once round its edge without a lift, pressing with 50 N or more, after a second with nothing on the plate; or drag the five points.",
    cautions: [
      ...(unzeroed.length > 0
        ? [
            "The recording shows no unloaded half second, so the outline may be shifted: leave the plate free before tracing.",
          ]
        : []),
      ...(unstood.length > 0
        ? [
            "Nobody stands on the plate in this recording, so whether the foot stands inside its outline was not checked.",
          ]
        : []),
    ],
  };
}

/** Strokes of a stick or finger, and the mean place of the pressure while somebody stands still; plate axes, m. */
function pathOf(
  { rateHz }: Recording,
  plate: CheckedPlate,
  { settings, padM }: { readonly settings: Settings; readonly padM: number },
): { readonly strokes: readonly (readonly SurfacePoint[])[]; readonly stance: SurfacePoint | undefined } {
  const { wrench, cop } = plate;
  if (!wrench.hasMoments) return { strokes: [], stance: undefined };
  const perStep = Math.max(1, Math.round(STEP_S * rateHz));
  const loadN = tickMeans(cop.loadN, perStep);
  const pressed = runsWhere(loadN.length, (k) => loadN[k]! > settings.loadOnN && loadN[k]! < STANDING_N);
  const stood = runsWhere(loadN.length, (k) => loadN[k]! >= STANDING_N);
  const isBesideStance = ({ first, end }: Stretch): boolean =>
    stood.some((run) => run.end === first || run.first === end);
  const inSamples = ({ first, end }: Stretch): Stretch => ({ first: first * perStep, end: end * perStep });
  const strokes = pressed
    .filter((run) => !isBesideStance(run) && (run.end - run.first) * STEP_S >= SHORTEST_STROKE_S)
    .map((run) => stroke(plate, run, { perStep, padM }));
  const longest = stood.reduce<Stretch>((a, b) => (b.end - b.first > a.end - a.first ? b : a), { first: 0, end: 0 });
  const beside = Math.round((longest.end - longest.first) / 4);
  const middle = { first: longest.first + beside, end: longest.end - beside };
  const isStance = (middle.end - middle.first) * STEP_S >= SHORTEST_STANCE_S;
  return { strokes, stance: isStance ? meanPlace(plate, inSamples(middle), padM) : undefined };
}

/** One press, smoothed over as many neighbours on either side, at its ends none: means over both sides keep the ends in place. */
function stroke(
  plate: CheckedPlate,
  { first, end }: Stretch,
  { perStep, padM }: { readonly perStep: number; readonly padM: number },
): readonly SurfacePoint[] {
  const points: SurfacePoint[] = [];
  for (let k = first; k < end; k++) {
    const half = Math.min(SMOOTHED_STEPS, k - first, end - 1 - k);
    points.push(meanPlace(plate, { first: (k - half) * perStep, end: (k + half + 1) * perStep }, padM));
  }
  return points.filter(([x, y]) => Number.isFinite(x + y));
}

function meanPlace({ wrench }: CheckedPlate, { first, end }: Stretch, padM: number): SurfacePoint {
  const { frame, forceN, momentNm } = wrench;
  const meanOf = ({ x, y, z }: typeof forceN): Vector => ({
    x: validMean(x, first, end),
    y: validMean(y, first, end),
    z: validMean(z, first, end),
  });
  const means = { forceN: meanOf(forceN), momentNm: meanOf(momentNm), centreM: frame.centreM };
  const from = sum(centreOfPressure(means, frame.normal, padM), scaled(frame.centreM, -1));
  return [dot(from, frame.x), dot(from, frame.y)];
}

function tracedFoot(
  {
    plate,
    foot,
    strokes,
    stance,
  }: {
    readonly plate: CheckedPlate;
    readonly foot: Foot;
    readonly strokes: readonly (readonly SurfacePoint[])[];
    readonly stance: SurfacePoint | undefined;
  },
  facts: PlateCheckFacts,
): Traced {
  const lifts = strokes.slice(1).map((next, k) => apart(strokes[k]!.at(-1)!, next[0]!));
  const { line, gapM } = onceRound(strokes.flat());
  const outline = smoothed(line, OUTLINE_POINTS, SMOOTHED_M);
  const [heel, toe] = ends(outline, plate, facts);
  const across: SurfacePoint = [-(toe[1] - heel[1]), toe[0] - heel[0]];
  const size = Math.hypot(...across);
  const sides = outline.map(([x, y]) => (x * across[0] + y * across[1]) / size);
  const turf = ([x, y]: SurfacePoint) => ({ targetM: x, aheadM: y });
  checkedSole({ outline: outline.map(turf), heel: turf(heel), toe: turf(toe) }, foot);
  const place = ([x, y]: SurfacePoint): Vector => ({ x, y, z: 0 });
  const isDirected = facts.target !== undefined && facts.handed !== undefined;
  return {
    plate,
    foot,
    fact: {
      foot,
      frame: "plate",
      outline: outline.map(place),
      ...(isDirected ? { heel: place(heel), toe: place(toe) } : {}),
    },
    gapMm: 1000 * Math.max(gapM, ...lifts),
    lengthMm: 1000 * apart(heel, toe),
    breadthMm: 1000 * (Math.max(...sides) - Math.min(...sides)),
    stance,
  };
}

/** The path up to where it first comes back to its beginning: who goes on past it traces a part twice. */
function onceRound(path: readonly SurfacePoint[]): { readonly line: readonly SurfacePoint[]; readonly gapM: number } {
  const start = path[0]!;
  let way = 0;
  let at = path.length - 1;
  let gapM = Number.POSITIVE_INFINITY;
  for (let k = 1; k < path.length; k++) {
    way += apart(path[k - 1]!, path[k]!);
    if (way < SHORTEST_ROUND_M) continue;
    const here = apart(path[k]!, start);
    if (here < gapM) {
      gapM = here;
      at = k;
    } else if (1000 * gapM <= GAP_MM && 1000 * here > 2 * GAP_MM) break;
  }
  if (gapM === Number.POSITIVE_INFINITY) gapM = apart(path.at(-1)!, start);
  return { line: path.slice(0, at + 1), gapM };
}

/** The two points farthest apart, the toe the one farther ahead where the direction is known. */
function ends(
  outline: readonly SurfacePoint[],
  { wrench }: CheckedPlate,
  { target, handed }: PlateCheckFacts,
): readonly [SurfacePoint, SurfacePoint] {
  let pair: readonly [SurfacePoint, SurfacePoint] = [outline[0]!, outline[0]!];
  for (const a of outline) for (const b of outline) if (apart(a, b) > apart(...pair)) pair = [a, b];
  if (target === undefined || handed === undefined) return pair;
  const { frame } = wrench;
  const { ahead } = turfAxes(frame.normal, target, handed);
  const aheadOf = ([x, y]: SurfacePoint): number => x * dot(frame.x, ahead) + y * dot(frame.y, ahead);
  return aheadOf(pair[0]) <= aheadOf(pair[1]) ? pair : [pair[1], pair[0]];
}

function outlineParts({ plate, foot, fact, gapMm, lengthMm, breadthMm, stance }: Traced): PlateCheckPart[] {
  const own = { plate: plate.index, unit: "mm" } as const;
  const sized = (
    name: "length" | "breadth",
    foundMm: number,
    [least, most]: readonly [number, number],
  ): PlateCheckPart =>
    part({
      ...own,
      name: `${name === "length" ? "Length" : "Breadth"}, ${foot} foot`,
      allowed: (most - least) / 2,
      found: Math.abs(foundMm - (most + least) / 2),
      sentence: `The ${foot} foot's ${name} is ${foundMm.toFixed(0)} mm; ${least} to ${most} mm are a foot's.`,
    });
  const closed = part({
    ...own,
    name: `Closed, ${foot} foot`,
    allowed: GAP_MM,
    found: gapMm,
    sentence: `The ${foot} foot's outline stays open by ${gapMm.toFixed(1)} mm; ${GAP_MM} mm allowed.`,
  });
  const parts = [closed, sized("length", lengthMm, LENGTH_MM), sized("breadth", breadthMm, BREADTH_MM)];
  if (stance === undefined) return parts;
  const turf = fact.outline.map(({ x, y }) => ({ targetM: x, aheadM: y }));
  const outsideMm = Math.max(0, -1000 * marginM(turf, { targetM: stance[0], aheadM: stance[1] }));
  const inside = part({
    ...own,
    name: `Stance inside, ${foot} foot`,
    allowed: OUTSIDE_MM,
    found: outsideMm,
    sentence:
      outsideMm > 0
        ? `Standing, the ${foot} foot's centre of pressure lies ${outsideMm.toFixed(1)} mm outside its outline; ${OUTSIDE_MM} mm allowed.`
        : `Standing, the ${foot} foot's centre of pressure lies inside its outline.`,
  });
  return [...parts, inside];
}
