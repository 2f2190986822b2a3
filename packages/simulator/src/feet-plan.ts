import type { Random } from "@underfoot/domain";
import type { Knot } from "./monotone-cubic.ts";
import type { ShotTiming } from "./planned-shot.ts";
import type { SimulatedPlayer } from "./player.ts";
import type { Scatter } from "./scatter.ts";
import { type IntentStyle, shareOnSlope } from "./shot-intent.ts";

export interface FeetPlanOptions {
  readonly timing: ShotTiming;
  readonly player: SimulatedPlayer;
  readonly style: IntentStyle;
  readonly scatter: Scatter;
  readonly draw: Random;
  readonly pitchDeg: number;
  readonly isMishit: boolean;
  /** The trail foot leaves the turf for a moment after impact. */
  readonly isTrailLifted: boolean;
}

type FootPaths = Record<"leadHeelToe" | "leadInnerOuter" | "trailHeelToe" | "trailInnerOuter", readonly Knot[]>;

/** CoP targets in %, at address, top, delivery, impact and finish. Invented, plausible (common practice, no source). */
const CLEAN_PATHS: Readonly<Record<keyof FootPaths, readonly number[]>> = {
  leadHeelToe: [50, 50, 46, 42, 38],
  leadInnerOuter: [50, 44, 54, 60, 70],
  trailHeelToe: [49, 46, 58, 64, 72],
  trailInnerOuter: [47, 52, 32, 26, 24],
};
const PATH_SD = 3.5;
/** A clean CoP stays this far inside, %. */
const PATH_FLOOR = 14;
const PATH_CEILING = 86;
/** How long after impact the finish is held from, s. */
const FINISH_AFTER_S = 0.5;

function eventTimesS({ startS, topS, deliveryS, impactS }: ShotTiming): number[] {
  return [startS, topS, deliveryS, impactS, impactS + FINISH_AFTER_S];
}

/** Where the CoP is under each foot. A mishit has the lead foot's at 85 to 105 % heel-toe at delivery: the weight falls onto the toes. */
export function footPaths({ timing, scatter, draw, isMishit }: FeetPlanOptions): FootPaths {
  const atS = eventTimesS(timing);
  const path = (name: keyof FootPaths): Knot[] =>
    CLEAN_PATHS[name].map((percent, k) => ({
      at: atS[k]!,
      value: Math.min(PATH_CEILING, Math.max(PATH_FLOOR, percent + scatter.around(PATH_SD))),
    }));
  const paths = {
    leadHeelToe: path("leadHeelToe"),
    leadInnerOuter: path("leadInnerOuter"),
    trailHeelToe: path("trailHeelToe"),
    trailInnerOuter: path("trailInnerOuter"),
  };
  const atDelivery = 85 + 20 * draw.unit();
  if (!isMishit) return paths;
  const mishit = [undefined, undefined, atDelivery, 0.9 * atDelivery, 0.75 * atDelivery];
  return {
    ...paths,
    leadHeelToe: paths.leadHeelToe.map((knot, k) => ({ at: knot.at, value: mishit[k] ?? knot.value })),
  };
}

/** Lead share through address, top, delivery and finish, %, on this slope, with the player's way and scatter. */
export function sharePath({ timing, player, style, scatter, pitchDeg, isTrailLifted }: FeetPlanOptions): Knot[] {
  const { startS, topS, deliveryS, impactS } = timing;
  const common = player.style.sharePoints + scatter.sharePoints();
  const at = (flat: number, own: number): number => shareOnSlope(flat + common + scatter.around(own), pitchDeg);
  const finish = at(style.finishShare, 1);
  const knots: Knot[] = [
    { at: startS, value: at(style.addressShare, 0) },
    { at: topS, value: at(style.topShare, 1.5) },
    { at: deliveryS, value: at(style.deliveryShare, 1.5) },
  ];
  if (!isTrailLifted) return [...knots, { at: impactS + FINISH_AFTER_S, value: finish }];
  return [
    ...knots,
    { at: impactS + 0.15, value: 100 },
    { at: impactS + 0.4, value: 100 },
    { at: impactS + 0.4 + FINISH_AFTER_S, value: finish },
  ];
}
