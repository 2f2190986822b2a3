import type { LayoutShape } from "@underfoot/protocol";
import { lieText } from "@underfoot/report";
import type { PlanLie } from "../order/plan-grid.ts";

const RAD = Math.PI / 180;

/** The steepest angle of a surface with these two inclinometer angles, degrees: asin sqrt(sin² p + sin² r). */
export function steepestDeg({ pitchDeg, rollDeg }: Pick<PlanLie, "pitchDeg" | "rollDeg">): number {
  return Math.asin(Math.min(1, Math.hypot(Math.sin(pitchDeg * RAD), Math.sin(rollDeg * RAD)))) / RAD;
}

/** True where the lie is a slope beyond its own uncertainty. */
export function isSloped(lie: PlanLie): boolean {
  return lieText(lie) !== "flat";
}

/** Plates that are tilted beyond what they are built for, and plates whose rated tilt nobody wrote down. */
export function tiltWarning(lie: PlanLie, layout: Pick<LayoutShape, "plates"> | undefined): string | undefined {
  if (!isSloped(lie) || layout === undefined) return undefined;
  const tiltDeg = steepestDeg(lie);
  const used = layout.plates.filter(({ foot }) => foot !== "none");
  const beyond = used.filter(({ ratedTiltDeg }) => ratedTiltDeg !== undefined && tiltDeg > ratedTiltDeg);
  const [worst] = beyond.toSorted((a, b) => (a.ratedTiltDeg ?? 0) - (b.ratedTiltDeg ?? 0));
  const tilt = `${tiltDeg.toFixed(1)}°`;
  if (worst?.ratedTiltDeg !== undefined)
    return `${lie.name} tilts the plates by ${tilt}, and plate ${worst.plate} is rated to ${worst.ratedTiltDeg}°: its numbers are not warranted there, and it may tip or slide. Use a flatter lie or another plate.`;
  const unrated = used.filter(({ ratedTiltDeg }) => ratedTiltDeg === undefined);
  if (unrated.length === 0) return undefined;
  const which = unrated.map(({ plate }) => plate).join(" and ");
  return `${lie.name} tilts the plates by ${tilt}; the tilt that plate ${which} ${unrated.length === 1 ? "is" : "are"} rated to is not written down. Look it up before anybody stands on it.`;
}

/** The usual cautions of hitting from tilted plates (common practice, no source). */
export const SLOPE_CAUTIONS =
  "Secure the plates and the stance before anybody steps on. Keep within the plates’ rated load, and follow the rules of the place. Stop at pain: a measure is no diagnosis, and injury or pain belongs with a licensed clinician.";
