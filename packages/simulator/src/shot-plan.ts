import { type Intent, random } from "@underfoot/domain";
import { bodyPlan } from "./body-plan.ts";
import { footPaths, sharePath } from "./feet-plan.ts";
import type { PlannedShot } from "./planned-shot.ts";
import type { SimulatedPlayer } from "./player.ts";
import { scatter } from "./scatter.ts";
import { INTENT_STYLES } from "./shot-intent.ts";
import { quietSpan, shotTiming, waggleSpan } from "./shot-timing.ts";
import { swaySines } from "./sway.ts";
import { turnPlan } from "./turn-plan.ts";

export interface ShotPlanOptions {
  readonly seed: number;
  readonly sessionSeed: number;
  readonly player: SimulatedPlayer;
  readonly intent: Intent;
  readonly pitchDeg: number;
  readonly durationS: number;
  readonly isMishit: boolean;
  readonly isTrailLifted: boolean;
  readonly scatterScale: number;
  readonly turnScale: number;
}

/** Feet push apart along target with this part of body weight each. */
const SQUEEZE_BW = 0.03;

/** What the player will do, as formulas of time, from the player's way, the intent, the lie and the player's scatter. */
export function shotPlan(options: ShotPlanOptions): PlannedShot {
  const { seed, sessionSeed, player, intent, durationS, scatterScale, turnScale } = options;
  const style = INTENT_STYLES[intent];
  const ofPlayer = scatter({ seed, sessionSeed, player, scale: scatterScale });
  const draw = random(seed, "moment of the shot");
  const timing = shotTiming({ durationS, player, style, scatter: ofPlayer, draw });
  const waggle = waggleSpan(timing, draw);
  const shared = { timing, waggle, player, style, scatter: ofPlayer, draw };
  const body = bodyPlan(shared);
  const turn = turnPlan({ ...shared, scale: turnScale });
  const feet = { ...shared, ...options };
  const weightN = player.massKg * 9.8;
  return {
    timing,
    waggle,
    quiet: quietSpan(timing, waggle),
    body,
    ...turn,
    twist: swaySines(1, draw).map((sine) => ({ ...sine, amplitude: 0.15 })),
    squeezeN: -SQUEEZE_BW * weightN * ofPlayer.amplitude(),
    squeeze: [
      {
        height: 0.02 * weightN * ofPlayer.amplitude(),
        centreS: timing.impactS - 0.1 + ofPlayer.timeS(),
        halfWidthS: 0.25,
      },
    ],
    share: sharePath(feet),
    ...footPaths(feet),
  };
}
