import type { Foot, FootOutlineFact, Vector } from "@underfoot/domain";
import { checkedSole } from "@underfoot/mechanics";
import { apart, closedCurve, type SurfacePoint } from "./plate-checks/smooth-outline.ts";

/** Five points that are dragged to a foot's edge. In plate axes from the centre of the surface, or in the laboratory, m. */
export interface FivePoints {
  readonly foot: Foot;
  readonly frame: FootOutlineFact["frame"];
  /** Middle of the heel's back end. */
  readonly heel: Vector;
  /** The edge beside the ball of the foot, on the side of the other foot and on the outer side. */
  readonly innerBall: Vector;
  readonly outerBall: Vector;
  /** Tips of the big and of the little toe. */
  readonly bigToe: Vector;
  readonly littleToe: Vector;
}

/** The heel is this much narrower than the ball, and widest at this share of the length (common practice, no source). */
const HEEL_BREADTH_SHARE = 0.66;
const HEEL_STATION = 0.14;

/**
 * A foot's outline from five points: a smooth closed curve (centripetal Catmull-Rom) through them and through the heel's two
 * sides, which are put in between, with heel and toe end marked. The third coordinate is the heel's.
 *
 * @throws UnderfootError `outline-invalid` where points coincide or stand in a wrong order, or the outline is no foot's size
 */
export function outlineFromPoints(points: FivePoints): FootOutlineFact {
  const { foot, frame } = points;
  const flat = ({ x, y }: Vector): SurfacePoint => [x, y];
  const heel = flat(points.heel);
  const [inner, outer, big, little] = [points.innerBall, points.outerBall, points.bigToe, points.littleToe].map(
    flat,
  ) as [SurfacePoint, SurfacePoint, SurfacePoint, SurfacePoint];
  const round = [heel, heelSide(heel, outer, inner), outer, little, big, inner, heelSide(heel, inner, outer)];
  checkedRound(round, foot);
  const outline = closedCurve(round);
  const toe = outline.reduce((best, next) => (apart(next, heel) > apart(best, heel) ? next : best));
  const place = ([x, y]: SurfacePoint): Vector => ({ x, y, z: points.heel.z });
  const turf = ([x, y]: SurfacePoint) => ({ targetM: x, aheadM: y });
  checkedSole({ outline: outline.map(turf), heel: turf(heel), toe: turf(toe) }, foot);
  return { foot, frame, outline: outline.map(place), heel: points.heel, toe: place(toe) };
}

/** The heel's side toward `near`, at its widest. */
function heelSide(heel: SurfacePoint, near: SurfacePoint, far: SurfacePoint): SurfacePoint {
  const ball: SurfacePoint = [(near[0] + far[0]) / 2, (near[1] + far[1]) / 2];
  // The ball of the foot lies at about 0.7 of its length.
  const along = HEEL_STATION / 0.7;
  const half = HEEL_BREADTH_SHARE / 2;
  return [
    heel[0] + along * (ball[0] - heel[0]) + half * (near[0] - far[0]),
    heel[1] + along * (ball[1] - heel[1]) + half * (near[1] - far[1]),
  ];
}

/** Points that coincide or cross are refused before a curve is laid through them. */
function checkedRound(round: readonly SurfacePoint[], foot: Foot): void {
  const outline = round.map(([x, y]) => ({ targetM: x, aheadM: y }));
  checkedSole({ outline, heel: outline[0]!, toe: outline[3]! }, foot);
}
