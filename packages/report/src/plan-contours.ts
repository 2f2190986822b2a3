import type { Lie, TurfPoint } from "@underfoot/domain";
import type { Shot } from "@underfoot/mechanics";
import { inCentimetres } from "./numbers.ts";
import type { PlanExtent } from "./sheet-plan.ts";
import { isAngleBeyondFlat, isFlat } from "./slope-words.ts";

const RAD = Math.PI / 180;
/** One line per centimetre of rise. */
const RISE_M = 0.01;

/** A straight line of equal height on the plan. */
export interface Contour {
  readonly riseM: number;
  readonly from: TurfPoint;
  readonly to: TurfPoint;
  /** "−2 cm" on the lowest and the highest line, "" on the others. */
  readonly label: string;
}

export interface SheetContours {
  readonly lines: readonly Contour[];
  /** Unit vector down the fall line, for the downhill ticks; undefined on the flat. */
  readonly downhill: { readonly target: number; readonly ahead: number } | undefined;
  /** Steepest angle of the surface, degrees. */
  readonly fallDeg: number;
}

/**
 * Contour lines each 1 cm of rise over the plan, turned to the true fall direction by both angles.
 * Along the surface the height is h = sin(pitch) target + sin(roll) ahead, so the steepest angle is asin |grad h|.
 * None where the lie is flat within its uncertainty or not known.
 */
export function contours(shot: Shot, extent: PlanExtent): SheetContours {
  return isFlat(shot) ? NONE : lieContours(shot.lie, extent);
}

const NONE: SheetContours = { lines: [], downhill: undefined, fallDeg: 0 };

/** The same of a lie that is known by its angles alone; none where neither is beyond its uncertainty. */
export function lieContours({ pitchDeg, rollDeg, sdDeg }: Omit<Lie, "source">, extent: PlanExtent): SheetContours {
  if (!isAngleBeyondFlat(pitchDeg, sdDeg) && !isAngleBeyondFlat(rollDeg, sdDeg)) return NONE;
  const riseTarget = Math.sin(pitchDeg * RAD);
  const riseAhead = Math.sin(rollDeg * RAD);
  const steepness = Math.hypot(riseTarget, riseAhead);
  const corners = [extent.minTargetM, extent.maxTargetM].flatMap((targetM) =>
    [extent.minAheadM, extent.maxAheadM].map((aheadM) => riseTarget * targetM + riseAhead * aheadM),
  );
  const lines: Contour[] = [];
  const last = Math.floor(Math.max(...corners) / RISE_M + 1e-9);
  for (let k = Math.ceil(Math.min(...corners) / RISE_M - 1e-9); k <= last; k++) {
    const ends = clipped(riseTarget, riseAhead, k * RISE_M, extent);
    if (ends !== undefined) lines.push({ riseM: k * RISE_M, ...ends, label: "" });
  }
  const labelled = lines.map((line, i) =>
    (i === 0 || i === lines.length - 1) && line.riseM !== 0 ? { ...line, label: riseText(line.riseM) } : line,
  );
  return {
    lines: labelled,
    downhill: { target: -riseTarget / steepness, ahead: -riseAhead / steepness },
    fallDeg: Math.asin(steepness) / RAD,
  };
}

function riseText(riseM: number): string {
  const { text } = inCentimetres(riseM, RISE_M);
  return riseM > 0 ? `+${text}` : text;
}

/** The part of the line  a · target + b · ahead = height  inside the plan. */
function clipped(
  a: number,
  b: number,
  height: number,
  extent: PlanExtent,
): { readonly from: TurfPoint; readonly to: TurfPoint } | undefined {
  const points: TurfPoint[] = [];
  const inside = (value: number, min: number, max: number): boolean => value >= min - 1e-12 && value <= max + 1e-12;
  if (Math.abs(b) > 1e-12) {
    for (const targetM of [extent.minTargetM, extent.maxTargetM]) {
      const aheadM = (height - a * targetM) / b;
      if (inside(aheadM, extent.minAheadM, extent.maxAheadM)) points.push({ targetM, aheadM });
    }
  }
  if (Math.abs(a) > 1e-12) {
    for (const aheadM of [extent.minAheadM, extent.maxAheadM]) {
      const targetM = (height - b * aheadM) / a;
      if (inside(targetM, extent.minTargetM, extent.maxTargetM)) points.push({ targetM, aheadM });
    }
  }
  const [from] = points;
  const to = points.find(
    (point) => from !== undefined && Math.hypot(point.targetM - from.targetM, point.aheadM - from.aheadM) > 1e-9,
  );
  return from === undefined || to === undefined ? undefined : { from, to };
}
