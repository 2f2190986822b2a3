import type { PlateCheckFacts, PlateCheckKind } from "./check-outcome.ts";

/** A lie beyond this is a slope to people and things on it, degrees (ours). */
const SLOPE_DEG = 0.5;

/** The usual cautions of a check: somebody steps on plates, on a slope perhaps, or lays a weight on them. */
export function cautionsOf(kind: PlateCheckKind, { lie }: PlateCheckFacts): readonly string[] {
  const isSlope = Math.max(Math.abs(lie?.pitchDeg ?? 0), Math.abs(lie?.rollDeg ?? 0)) > SLOPE_DEG;
  const isStoodOn = kind === "quiet-lean" || kind === "clocks" || kind === "outlines";
  return [
    ...(kind === "zero" ? [] : ["Keep within the plates' rated load, and follow the rules of the place."]),
    ...(kind === "known-mass" ? ["Lift the mass in parts that are safe to lift, feet clear of it."] : []),
    ...(kind === "known-mass" && isSlope ? ["On a slope, secure the mass so that it cannot slide off."] : []),
    ...(isSlope
      ? ["Secure the plates and the stance on the slope before anybody steps on; a tilted plate can slip."]
      : []),
    ...(isStoodOn
      ? [
          "Step on and off one foot at a time, with something to hold near by, and stop at pain.",
          "A measure is no diagnosis: injury or pain belongs with a licensed clinician.",
        ]
      : []),
  ];
}
