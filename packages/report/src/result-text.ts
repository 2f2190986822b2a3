import { inDegrees, inMetres } from "./numbers.ts";
import { isAngleBeyondFlat } from "./slope-words.ts";

/** What became of the ball, as a shot's list knows it. */
export interface ResultFacts {
  readonly contact?: string | undefined;
  /** + right of the target. */
  readonly startLineDeg?: number | undefined;
  readonly carryM?: number | undefined;
}

/** "clean, 1.1° left, 31.3 m"; undefined where nobody said anything. */
export function resultText({ contact, startLineDeg, carryM }: ResultFacts): string | undefined {
  const parts = [
    contact,
    startLineDeg === undefined ? undefined : startLineText(startLineDeg),
    carryM === undefined ? undefined : inMetres(carryM).text,
  ].filter((part) => part !== undefined);
  return parts.length === 0 ? undefined : parts.join(", ");
}

/** Where the ball started against the target line: "1.1° left", "on line" where the first decimal is nought. */
function startLineText(startLineDeg: number): string {
  const text = inDegrees(Math.abs(startLineDeg)).text;
  if (!/[1-9]/.test(text)) return "on line";
  return `${text} ${startLineDeg > 0 ? "right" : "left"}`;
}

/** An inclinometer read by hand, one sigma (common practice, no source): a list does not say which was used. */
const USUAL_SD_DEG = 0.2;

/**
 * A lie as a list writes it, its name and its angles: "upslope 4.9°", "ball above feet 2.8°", "flat". An angle that an
 * inclinometer could not tell from flat is left out.
 */
export function lieNameText(lie: {
  readonly lieName?: string | undefined;
  readonly pitchDeg?: number | undefined;
  readonly rollDeg?: number | undefined;
}): string | undefined {
  const { lieName, pitchDeg = 0, rollDeg = 0 } = lie;
  const [isPitched, isRolled] = [pitchDeg, rollDeg].map((angleDeg) => isAngleBeyondFlat(angleDeg, USUAL_SD_DEG));
  const [pitch, roll] = [pitchDeg, rollDeg].map((angleDeg) => inDegrees(Math.abs(angleDeg)).text);
  const name = lieName ?? nameOf(lie, isPitched === true, isRolled === true);
  if (name === undefined) return undefined;
  const angles = [isPitched ? pitch : undefined, isRolled ? roll : undefined].filter((part) => part !== undefined);
  return angles.length === 2 ? `${name}, pitch ${pitch}, roll ${roll}` : [name, ...angles].join(" ");
}

function nameOf(
  { pitchDeg, rollDeg = 0 }: { readonly pitchDeg?: number | undefined; readonly rollDeg?: number | undefined },
  isPitched: boolean,
  isRolled: boolean,
): string | undefined {
  if (pitchDeg === undefined) return undefined;
  if (isPitched) return pitchDeg > 0 ? "upslope" : "downslope";
  if (isRolled) return rollDeg > 0 ? "ball above feet" : "ball below feet";
  return "flat";
}
