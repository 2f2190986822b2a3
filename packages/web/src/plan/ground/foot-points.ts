import { type Foot, type FootOutlineFact, type TurfPoint, UnderfootError } from "@underfoot/domain";
import { outlineFromPoints } from "@underfoot/pipeline";
import { type GroundPlan, type GroundPlate, type GroundSole, plateFromTurf } from "./ground-plan.ts";

/** The five points that are moved to a foot's edge, in the order of the Tab key. */
export const FOOT_POINTS = ["heel", "innerBall", "bigToe", "littleToe", "outerBall"] as const;
export type FootPointName = (typeof FOOT_POINTS)[number];
export type FootPoints = Readonly<Record<FootPointName, TurfPoint>>;

export const FOOT_POINT_WORDS: Readonly<Record<FootPointName, string>> = {
  heel: "back of the heel",
  innerBall: "ball, inner edge",
  bigToe: "big toe",
  littleToe: "little toe",
  outerBall: "ball, outer edge",
};

/** A common shoe, m (common practice, no source): how far from the heel, and to the outer side, each point stands. */
const USUAL: Readonly<Record<FootPointName, readonly [alongM: number, outwardM: number]>> = {
  heel: [0, 0],
  innerBall: [0.205, -0.052],
  bigToe: [0.288, -0.022],
  littleToe: [0.262, 0.03],
  outerBall: [0.185, 0.053],
};
const USUAL_LENGTH_M = 0.29;
/** Parts of the length at which the points of a traced foot are taken. */
const STATIONS: Readonly<Record<Exclude<FootPointName, "heel">, readonly [from: number, to: number]>> = {
  innerBall: [0.64, 0.78],
  bigToe: [0.93, 1],
  littleToe: [0.86, 0.95],
  outerBall: [0.58, 0.72],
};

/** The outer side of a foot along the target: the lead foot's is nearer the target. */
const outward = (foot: Foot): 1 | -1 => (foot === "lead" ? 1 : -1);

/** Five points of a common shoe, straight ahead on the middle of its plate; on a plate for both, on its own half. */
export function usualFootPoints(foot: Foot, plate: GroundPlate): FootPoints {
  const targets = plate.outline.map(({ targetM }) => targetM);
  const aheads = plate.outline.map(({ aheadM }) => aheadM);
  const [least, most] = [Math.min(...targets), Math.max(...targets)];
  const quarter = plate.foot === "both" ? (outward(foot) * (most - least)) / 4 : 0;
  const middleM = (least + most) / 2 + quarter;
  const heelM = (Math.min(...aheads) + Math.max(...aheads)) / 2 - USUAL_LENGTH_M / 2;
  return pointsBy((name) => {
    const [alongM, outwardM] = USUAL[name];
    return { targetM: middleM + outward(foot) * outwardM, aheadM: heelM + alongM };
  });
}

function pointsBy(pointOf: (name: FootPointName) => TurfPoint): FootPoints {
  return Object.fromEntries(FOOT_POINTS.map((name) => [name, pointOf(name)])) as FootPoints;
}

/** Five points on the edge of a foot that was traced before; undefined where its ends are not marked. */
export function footPointsFromSole({ foot, outline, heel, toe }: GroundSole): FootPoints | undefined {
  if (heel === undefined || toe === undefined) return undefined;
  const lengthM = Math.hypot(toe.targetM - heel.targetM, toe.aheadM - heel.aheadM);
  if (!(lengthM > 0)) return undefined;
  const along = { targetM: (toe.targetM - heel.targetM) / lengthM, aheadM: (toe.aheadM - heel.aheadM) / lengthM };
  const side = outward(foot);
  const placed = outline.map((point) => {
    const [t, a] = [point.targetM - heel.targetM, point.aheadM - heel.aheadM];
    return {
      point,
      part: (t * along.targetM + a * along.aheadM) / lengthM,
      outwardM: side * (t * along.aheadM - a * along.targetM),
    };
  });
  const edge = (name: Exclude<FootPointName, "heel">, inOrOut: 1 | -1): TurfPoint => {
    const [from, to] = STATIONS[name];
    const here = placed.filter(({ part }) => part >= from && part <= to);
    const best = here.toSorted((a, b) => inOrOut * (b.outwardM - a.outwardM))[0];
    return best?.point ?? toe;
  };
  return pointsBy((name) =>
    name === "heel" ? heel : name === "bigToe" ? toe : edge(name, name === "innerBall" ? -1 : 1),
  );
}

/** One point moved by so much along target and ahead, m. */
export function movedPoint(points: FootPoints, name: FootPointName, by: TurfPoint): FootPoints {
  const { targetM, aheadM } = points[name];
  return { ...points, [name]: { targetM: targetM + by.targetM, aheadM: aheadM + by.aheadM } };
}

/**
 * The outline through five points, in the axes of the plate it stands on.
 *
 * @returns a sentence instead where the points make no foot
 */
export function outlineThrough(
  points: FootPoints,
  foot: Foot,
  { plate, ground }: { readonly plate: GroundPlate; readonly ground: GroundPlan },
): FootOutlineFact | string {
  const [heel, innerBall, bigToe, littleToe, outerBall] = FOOT_POINTS.map((name) =>
    plateFromTurf(points[name], plate, ground),
  ) as [Point, Point, Point, Point, Point];
  try {
    return outlineFromPoints({ foot, frame: "plate", heel, innerBall, outerBall, bigToe, littleToe });
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return `${fault.message} ${fault.remedy}`;
  }
}

type Point = ReturnType<typeof plateFromTurf>;
