import type { PlayerAxes } from "@underfoot/domain";
import type { CatalogueEntry } from "./catalogue.ts";
import { STATE } from "./player-state.ts";
import type { Shot } from "./shot.ts";
import { staticSlopeShare } from "./slope.ts";

/**
 * What gravity alone explains of a measure on this lie, in its unit: the value for the same player standing motionless
 * here, less the same on the flat (mechanics 8). One foot's force: times the load share it has at that moment.
 *
 * @param state  the moment the value belongs to
 * @returns      undefined where gravity is balanced before the measure is formed, in level axes (there it is always 0),
 *               and where nobody gave a lie
 */
export function slopeShareOf(
  { quantity, statistic }: Pick<CatalogueEntry, "quantity" | "statistic">,
  axes: PlayerAxes | undefined,
  shot: Shot,
  state: Readonly<Float64Array>,
): number | undefined {
  if (axes === "level" || !shot.isLieKnown) return undefined;
  if (statistic !== "at" && statistic !== "peak" && statistic !== "min") return undefined;
  const still = staticSlopeShare(shot.lie, shot.weightN);
  const [place, what] = quantity.split(".") as ["lead" | "trail" | "both", string];
  switch (what) {
    case "target":
    case "ahead":
    case "up":
      return still.forceN[what] * loadShareOf(place, state);
    case "load":
      return still.forceN.up * loadShareOf(place, state);
    case "leanTarget":
      return still.leanTargetDeg;
    case "leanAhead":
      return still.leanAheadDeg;
    case "friction":
      return still.friction;
    default:
      return undefined;
  }
}

/** Part of the load on one foot, 0..1; of both it is 1. */
function loadShareOf(place: "lead" | "trail" | "both", state: Readonly<Float64Array>): number {
  if (place === "both") return 1;
  const leadN = state[STATE.lead + STATE.up]!;
  const trailN = state[STATE.trail + STATE.up]!;
  return (place === "lead" ? leadN : trailN) / (leadN + trailN);
}
