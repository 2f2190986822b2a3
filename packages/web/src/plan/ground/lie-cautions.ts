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

type Plates = Pick<LayoutShape, "plates"> | undefined;

/**
 * One sentence for each lie that tilts a plate beyond what it is built for; where there is none, but nobody wrote down
 * what the plates are rated to, one for the steepest lie.
 */
export function tiltWarnings(lies: readonly PlanLie[], layout: Plates): readonly string[] {
  if (layout === undefined) return [];
  const used = layout.plates.filter(({ foot }) => foot !== "none");
  const sloped = lies.filter(isSloped).toSorted((a, b) => steepestDeg(b) - steepestDeg(a));
  const beyond = sloped.flatMap((lie) => beyondRating(lie, used) ?? []);
  if (beyond.length > 0) return beyond;
  const [steepest] = sloped;
  const unrated = used.filter(({ ratedTiltDeg }) => ratedTiltDeg === undefined).map(({ plate }) => plate);
  if (steepest === undefined || unrated.length === 0) return [];
  const which = `plate ${unrated.join(" and ")} ${unrated.length === 1 ? "is" : "are"} rated to`;
  return [
    `${steepest.name} tilts the plates by ${tiltText(steepest)}; the tilt that ${which} is not written down. Look it up before anybody stands on it.`,
  ];
}

const tiltText = (lie: PlanLie): string => `${steepestDeg(lie).toFixed(1)}°`;

function beyondRating(lie: PlanLie, used: LayoutShape["plates"]): string | undefined {
  const tiltDeg = steepestDeg(lie);
  const [worst] = used
    .filter(({ ratedTiltDeg }) => ratedTiltDeg !== undefined && tiltDeg > ratedTiltDeg)
    .toSorted((a, b) => (a.ratedTiltDeg ?? 0) - (b.ratedTiltDeg ?? 0));
  if (worst === undefined) return undefined;
  return `${lie.name} tilts the plates by ${tiltText(lie)}, and plate ${worst.plate} is rated to ${worst.ratedTiltDeg}°: its numbers are not warranted there, and it may tip or slide. Use a flatter lie or another plate.`;
}

/** The usual cautions of hitting from tilted plates (common practice, no source). */
export const SLOPE_CAUTIONS =
  "Secure the plates and the stance before anybody steps on. Keep within the plates’ rated load, and follow the rules of the place. Stop at pain: a measure is no diagnosis, and injury or pain belongs with a licensed clinician.";
