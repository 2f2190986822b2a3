import type { Lie } from "@underfoot/domain";
import { inDegrees } from "./numbers.ts";

/** An angle under this is said to be level, degrees: half the last digit written. */
const LEVEL_DEG = 0.05;

/** The lie in words with its angles: "upslope 5.0°, ball level", "flat", "downslope 3.0°, ball above feet 2.0°". */
export function lieText(lie: Lie, isLieKnown = true): string {
  if (!isLieKnown) return "lie not known, flat assumed";
  const isPitched = Math.abs(lie.pitchDeg) >= LEVEL_DEG;
  const isRolled = Math.abs(lie.rollDeg) >= LEVEL_DEG;
  if (!isPitched && !isRolled) return "flat";
  const pitch = `${lie.pitchDeg > 0 ? "upslope" : "downslope"} ${inDegrees(Math.abs(lie.pitchDeg)).text}`;
  const roll = `ball ${lie.rollDeg > 0 ? "above" : "below"} feet ${inDegrees(Math.abs(lie.rollDeg)).text}`;
  if (!isRolled) return `${pitch}, ball level`;
  return isPitched ? `${pitch}, ${roll}` : roll;
}
