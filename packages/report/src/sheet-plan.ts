import type { Foot, Handed, TurfPoint } from "@underfoot/domain";
import type { Shot, Sole } from "@underfoot/mechanics";
import { lieText } from "./lie-text.ts";
import type { Stretch } from "./motion-words.ts";
import { contours, type SheetContours } from "./plan-contours.ts";

/** A foot that nobody traced is drawn as a stadium of this size, m (a common shoe; ours). */
const STADIUM_LENGTH_M = 0.29;
const STADIUM_WIDTH_M = 0.1;
const STADIUM_ARC_POINTS = 12;
/** Room around plates, feet and ball, m. */
const ROOM_M = 0.03;
/** The longest arrow of a shot is about this long on the plan, m. */
const ARROW_M = 0.2;

/** Ends of the plan in metres from its middle. */
export interface PlanExtent {
  readonly minTargetM: number;
  readonly maxTargetM: number;
  readonly minAheadM: number;
  readonly maxAheadM: number;
}

/** A foot on the plan. */
export interface PlanSole {
  readonly foot: Foot;
  readonly outline: readonly TurfPoint[];
  /** False: a plain stadium, drawn dashed with "not traced". */
  readonly isTraced: boolean;
}

/** Where the pressure went, metres from the plan's middle; NaN where it is not to be trusted. */
export interface CopTrail {
  readonly foot: Foot | "both";
  readonly targetM: Readonly<Float64Array>;
  readonly aheadM: Readonly<Float64Array>;
}

/** The ground seen from above. All points in metres from the middle between the feet, along target and ahead. */
export interface SheetPlan {
  readonly handed: Handed;
  /** With the flag on the right, toes point down the screen for right-handed and up for left-handed players. */
  readonly isAheadDown: boolean;
  /** "seen from above, from the ball side". */
  readonly caption: string;
  readonly lieText: string;
  readonly extent: PlanExtent;
  readonly plates: readonly {
    readonly plate: number;
    readonly foot: "lead" | "trail" | "both" | "none";
    readonly outline: readonly TurfPoint[];
  }[];
  readonly soles: readonly PlanSole[];
  readonly ball: TurfPoint | undefined;
  readonly contours: SheetContours;
  readonly trails: readonly CopTrail[];
  /** Samples of the window at which a tick stands, each 100 ms. */
  readonly tickSamples: readonly number[];
  /** Newtons of an arrow per metre of the plan: one scale per session. */
  readonly arrowNPerM: number;
}

export interface PlanInput {
  readonly shot: Shot;
  readonly window: Stretch;
  /** Times of the window's samples, ms from the zero. */
  readonly timesMs: Readonly<Float64Array>;
  readonly trails: readonly CopTrail[];
  /** Largest push of one foot in the window, N. */
  readonly largestPushN: number;
  readonly arrowNPerM: number | undefined;
}

/** The plan of a shot. A rotation of the real ground, never a mirror image. */
export function sheetPlan({ shot, timesMs, trails, largestPushN, arrowNPerM }: PlanInput): SheetPlan {
  const fromMiddle = (point: TurfPoint): TurfPoint => ({
    targetM: point.targetM - shot.middle.targetM,
    aheadM: point.aheadM - shot.middle.aheadM,
  });
  const plates = shot.plateOutlines.map((plate) => ({ ...plate, outline: plate.outline.map(fromMiddle) }));
  const soles = (["trail", "lead"] as const).flatMap((foot) => {
    const sole = shot.soles[foot];
    if (sole !== undefined) return [{ foot, outline: sole.outline.map(fromMiddle), isTraced: true }];
    const plate = plates.find((candidate) => candidate.foot === foot);
    return plate === undefined ? [] : [{ foot, outline: untracedSole(plate.outline), isTraced: false }];
  });
  const ball = shot.ball === undefined ? undefined : fromMiddle(shot.ball);
  const outlines = [...plates.map((plate) => plate.outline), ...soles.map((sole) => sole.outline)];
  const extent = planExtent([...outlines.flat(), ...(ball === undefined ? [] : [ball])]);
  const isRight = shot.handed === "right";
  return {
    handed: shot.handed,
    isAheadDown: isRight,
    caption: isRight ? "seen from above, from the ball side" : "seen from above, from behind the heels",
    lieText: lieText(shot.lie, shot.isLieKnown),
    extent,
    plates,
    soles,
    ball,
    contours: contours(shot, extent),
    trails,
    tickSamples: ticks(timesMs),
    arrowNPerM: arrowNPerM ?? roundUp(Math.max(largestPushN, 1) / ARROW_M),
  };
}

/** A foot that nobody traced: a stadium from heels to toes about the middle of its plate. */
export function untracedSole(plate: readonly TurfPoint[]): readonly TurfPoint[] {
  const middle = {
    targetM: plate.reduce((total, point) => total + point.targetM, 0) / plate.length,
    aheadM: plate.reduce((total, point) => total + point.aheadM, 0) / plate.length,
  };
  const radiusM = STADIUM_WIDTH_M / 2;
  const straightM = STADIUM_LENGTH_M / 2 - radiusM;
  const end = (side: 1 | -1): TurfPoint[] =>
    Array.from({ length: STADIUM_ARC_POINTS + 1 }, (_, k) => {
      const angleRad = (Math.PI * k) / STADIUM_ARC_POINTS;
      return {
        targetM: middle.targetM + side * radiusM * Math.cos(angleRad),
        aheadM: middle.aheadM + side * (straightM + radiusM * Math.sin(angleRad)),
      };
    });
  return [...end(1), ...end(-1)];
}

function planExtent(points: readonly TurfPoint[]): PlanExtent {
  if (points.length === 0) return { minTargetM: -0.5, maxTargetM: 0.5, minAheadM: -0.4, maxAheadM: 0.4 };
  const targets = points.map((point) => point.targetM);
  const aheads = points.map((point) => point.aheadM);
  return {
    minTargetM: Math.min(...targets) - ROOM_M,
    maxTargetM: Math.max(...targets) + ROOM_M,
    minAheadM: Math.min(...aheads) - ROOM_M,
    maxAheadM: Math.max(...aheads) + ROOM_M,
  };
}

/** Samples nearest to each whole 100 ms. */
function ticks(timesMs: Readonly<Float64Array>): readonly number[] {
  const firstMs = timesMs[0] ?? 0;
  const lastMs = timesMs[timesMs.length - 1] ?? 0;
  const stepMs = timesMs.length > 1 ? (lastMs - firstMs) / (timesMs.length - 1) : 1;
  const samples: number[] = [];
  for (let ms = Math.ceil(firstMs / 100) * 100; ms <= lastMs; ms += 100)
    samples.push(Math.round((ms - firstMs) / stepMs));
  return samples;
}

/** Up to 1, 2 or 5 times a power of ten. */
function roundUp(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  return power * ([1, 2, 5].find((factor) => factor * power >= value) ?? 10);
}

/** A traced sole in its own axes: along from heel to toe, across to the outer side, m (mechanics 4). */
export function soleAxes(
  sole: Sole,
  foot: Foot,
): { readonly lengthM: number; readonly place: (point: TurfPoint) => FootPoint } {
  const lengthM = Math.hypot(sole.toe.targetM - sole.heel.targetM, sole.toe.aheadM - sole.heel.aheadM);
  const alongTarget = (sole.toe.targetM - sole.heel.targetM) / lengthM;
  const alongAhead = (sole.toe.aheadM - sole.heel.aheadM) / lengthM;
  const outer = foot === "lead" ? 1 : -1;
  const place = (point: TurfPoint): FootPoint => {
    const target = point.targetM - sole.heel.targetM;
    const ahead = point.aheadM - sole.heel.aheadM;
    return {
      alongM: target * alongTarget + ahead * alongAhead,
      acrossM: outer * (target * alongAhead - ahead * alongTarget),
    };
  };
  return { lengthM, place };
}

/** A point in a sole's own axes, m. */
export interface FootPoint {
  /** From the heel's end toward the toe's. */
  readonly alongM: number;
  /** From the heel-toe line, + to the outer side of that foot. */
  readonly acrossM: number;
}
