import type { Lie } from "@underfoot/domain";
import { inDegrees } from "./numbers.ts";
import { isAngleBeyondFlat } from "./slope-words.ts";

/**
 * The lie in words with its angles: "upslope 5.0°, ball level", "flat", "downslope 3.0°, ball above feet 2.0°". An angle
 * that does not exceed the inclinometer's uncertainty is no slope: its direction is not named.
 */
export function lieText(lie: Lie, isLieKnown = true): string {
  if (!isLieKnown) return "lie not known, flat assumed";
  const isPitched = isAngleBeyondFlat(lie.pitchDeg, lie.sdDeg);
  const isRolled = isAngleBeyondFlat(lie.rollDeg, lie.sdDeg);
  if (!isPitched && !isRolled) return "flat";
  const pitch = `${lie.pitchDeg > 0 ? "upslope" : "downslope"} ${inDegrees(Math.abs(lie.pitchDeg)).text}`;
  const roll = `ball ${lie.rollDeg > 0 ? "above" : "below"} feet ${inDegrees(Math.abs(lie.rollDeg)).text}`;
  if (!isRolled) return `${pitch}, ball level`;
  return isPitched ? `${pitch}, ${roll}` : roll;
}
