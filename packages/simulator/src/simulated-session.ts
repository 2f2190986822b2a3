import { type Intent, random } from "@underfoot/domain";
import type { SimulatedLie } from "./lie-axes.ts";
import type { SimulatedPlayer } from "./player.ts";
import type { ShotOptions } from "./simulate-shot.ts";

/** One planned shot: give it to `simulateShot` as it is. */
export interface SimulatedShotPlan extends ShotOptions {
  /** "shot-001" and so on, in the order they are hit. */
  readonly name: string;
}

export interface SessionOptions
  extends Omit<ShotOptions, "seed" | "sessionSeed" | "player" | "intent" | "lie" | "isMishit"> {
  readonly seed: number;
  readonly player: SimulatedPlayer;
  readonly lies: readonly SimulatedLie[];
  readonly intents: readonly Intent[];
  readonly shotsPerCondition: number;
  /** Part of the shots that are mishits, 0..1, drawn shot by shot. */
  readonly mishitShare?: number;
  /** `shuffled`: the intents of a lie in random order; `blocked`: one after the other. Lies always follow each other. */
  readonly order?: "shuffled" | "blocked";
}

/**
 * The shots of one session, in the order they are hit: every intent on every lie, `shotsPerCondition` times.
 * They share the plates' errors and, by a correlation of 0.3, the player's scatter of the day.
 */
export function simulatedSession(options: SessionOptions): SimulatedShotPlan[] {
  const { seed, lies, intents, shotsPerCondition, mishitShare = 0, order = "shuffled", ...rest } = options;
  const draw = random(seed, "session");
  const plans: SimulatedShotPlan[] = [];
  for (const lie of lies) {
    const asked = intents.flatMap((intent) => Array.from({ length: shotsPerCondition }, () => intent));
    if (order === "shuffled") draw.shuffle(asked);
    for (const intent of asked) {
      plans.push({
        ...rest,
        name: `shot-${String(plans.length + 1).padStart(3, "0")}`,
        seed: draw.u32(),
        sessionSeed: seed,
        intent,
        lie,
        isMishit: draw.unit() < mishitShare,
      });
    }
  }
  return plans;
}
