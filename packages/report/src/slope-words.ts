import type { PlayerAxes } from "@underfoot/domain";
import type { Shot } from "@underfoot/mechanics";

/** An angle within this many sigmas of zero counts as flat, so that no slope is put into words that nobody measured. */
const FLAT_SIGMAS = 2;
/** Nor one within half a degree: the limit of the slope check, about 1 % of weight. */
const FLAT_DEG = 0.5;

/** True where an angle is a slope: beyond the inclinometer's uncertainty and half a degree. */
export function isAngleBeyondFlat(angleDeg: number, sdDeg: number): boolean {
  return Math.abs(angleDeg) > Math.max(FLAT_DEG, FLAT_SIGMAS * sdDeg);
}

/** Tilted along the target line, or toward the ball; false where no lie is known. */
function isTilted(shot: Shot, direction: "target" | "ahead"): boolean {
  const angleDeg = direction === "target" ? shot.lie.pitchDeg : shot.lie.rollDeg;
  return shot.isLieKnown && isAngleBeyondFlat(angleDeg, shot.lie.sdDeg);
}

/** Neither angle is beyond its uncertainty, or no lie is known. */
export function isFlat(shot: Shot): boolean {
  return !isTilted(shot, "target") && !isTilted(shot, "ahead");
}

/** True where the slope has a share of the force along this axis: turf axes on a lie that is tilted that way. */
export function hasSlopeShare(shot: Shot, axes: PlayerAxes, direction: "target" | "ahead"): boolean {
  return axes === "turf" && isTilted(shot, direction);
}
