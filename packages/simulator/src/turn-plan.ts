import type { Random } from "@underfoot/domain";
import { TABLE_MASS_KG } from "./body-plan.ts";
import type { ShotTiming, Span } from "./planned-shot.ts";
import type { SimulatedPlayer } from "./player.ts";
import { PULSE_AREA, type Pulse, pulseIntegral, pulseOfArea } from "./pulse.ts";
import type { Scatter } from "./scatter.ts";
import type { IntentStyle } from "./shot-intent.ts";

export interface TurnPlanOptions {
  readonly timing: ShotTiming;
  readonly waggle: Span | undefined;
  readonly player: SimulatedPlayer;
  readonly style: IntentStyle;
  readonly scatter: Scatter;
  readonly draw: Random;
  /** 1: the table's turn; 0.3: a chip that hardly turns the body. */
  readonly scale: number;
}

function scaledPulses(pulses: readonly Pulse[], factor: number): Pulse[] {
  return pulses.map((pulse) => ({ ...pulse, height: pulse.height * factor }));
}

/** A turn away and back that leaves no angular momentum; its largest is `momentumNms`, N m s. */
export function waggleTurn(span: Span, momentumNms: number): Pulse[] {
  const halfS = (span.toS - span.fromS) / 4;
  return [pulseOfArea(-momentumNms, span.fromS + halfS, halfS), pulseOfArea(momentumNms, span.toS - halfS, halfS)];
}

/**
 * The torque about the vertical through the centre of mass as three pulses: away in the backswing, toward through the
 * downswing, away again after impact. Their integral H from the start is negative until `top`, exactly 0 there with the
 * torque toward the target, positive until the body rests. Free moments are parts of the same pulses.
 */
export function turnPlan(options: TurnPlanOptions): Record<"spin" | "leadFree" | "trailFree", Pulse[]> {
  const { timing, waggle, player, style, scatter, draw, scale } = options;
  const { startS, topS, impactS } = timing;
  const backswingS = topS - startS;
  const peakNm = style.turnNm * (player.massKg / TABLE_MASS_KG) * player.style.turn * scale * scatter.amplitude();
  const fromS = topS - 0.34 * backswingS;
  const toS = impactS + 0.04;
  const toward: Pulse = { height: peakNm, centreS: (fromS + toS) / 2, halfWidthS: (toS - fromS) / 2 };
  const away = pulseOfArea(-pulseIntegral(toward, topS), startS + 0.3 * backswingS, 0.3 * backswingS);
  const left = (away.height * away.halfWidthS + toward.height * toward.halfWidthS) * PULSE_AREA;
  const swing = [away, toward, pulseOfArea(-left, impactS + 0.28, 0.3)];
  const before = waggle === undefined ? [] : waggleTurn(waggle, 0.2 + 0.4 * draw.unit());
  const spin = [...before, ...swing];
  return {
    spin,
    leadFree: scaledPulses(spin, player.style.leadFreePart * scatter.amplitude()),
    trailFree: scaledPulses(spin, player.style.trailFreePart * scatter.amplitude()),
  };
}
