import { type Random, UnderfootError } from "@underfoot/domain";
import type { ShotTiming, Span } from "./planned-shot.ts";
import type { SimulatedPlayer } from "./player.ts";
import type { Scatter } from "./scatter.ts";
import type { IntentStyle } from "./shot-intent.ts";

/** Impact lies this long before the recording's end, plus up to a quarter of a second. */
const AFTER_IMPACT_S = 1.75;
/** Quiet stance before the start that every recording must hold. */
const QUIET_BEFORE_S = 0.75;
/** Shaft parallel on the way down this long before impact, at a downswing of 0.33 s (common practice, no source). */
const DELIVERY_BEFORE_S = 0.08;
const USUAL_DOWNSWING_S = 0.33;

export interface TimingOptions {
  readonly durationS: number;
  readonly player: SimulatedPlayer;
  readonly style: IntentStyle;
  readonly scatter: Scatter;
  readonly draw: Random;
}

/** When the shot happens in the recording. Throws `simulator/too-short` where it does not fit with a quiet stance before it. */
export function shotTiming({ durationS, player, style, scatter, draw }: TimingOptions): ShotTiming {
  const downswingS = style.downswingS * player.style.downswing + scatter.timeS();
  const backswingS = player.style.tempoRatio * style.downswingS + 1.5 * scatter.timeS();
  const deliveryBeforeS = DELIVERY_BEFORE_S * (downswingS / USUAL_DOWNSWING_S) + 0.4 * scatter.timeS();
  const impactS = durationS - AFTER_IMPACT_S - 0.25 * draw.unit();
  const topS = impactS - downswingS;
  const startS = topS - backswingS;
  if (!(startS >= QUIET_BEFORE_S)) {
    throw new UnderfootError({
      code: "simulator/too-short",
      sentence: `A recording of ${durationS} s is too short for a shot with a quiet stance before and after it.`,
      remedy: "Ask for at least 4.5 s.",
    });
  }
  return { startS, topS, deliveryS: impactS - deliveryBeforeS, impactS };
}

const WAGGLE_LENGTH_S = 0.8;

/** Half of the shots have a waggle, ending 0.6 to 1.0 s before the start; none where the recording has no room for it. */
export function waggleSpan(timing: ShotTiming, draw: Random): Span | undefined {
  const isWanted = draw.unit() < 0.5;
  const toS = timing.startS - 0.6 - 0.4 * draw.unit();
  const fromS = toS - WAGGLE_LENGTH_S;
  return isWanted && fromS > 0.2 ? { fromS, toS } : undefined;
}

/** The stretch in which the player only stands: after the waggle or from the beginning, up to the start. */
export function quietSpan(timing: ShotTiming, waggle: Span | undefined): Span {
  return { fromS: waggle === undefined ? Math.max(0, timing.startS - 2) : waggle.toS, toS: timing.startS };
}
