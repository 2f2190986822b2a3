import { type Random, STANDARD_GRAVITY_M_PER_S2 } from "@underfoot/domain";
import type { AxisMotion, ShotTiming, Span } from "./planned-shot.ts";
import type { SimulatedPlayer } from "./player.ts";
import { PULSE_AREA, type Pulse, pulseOfArea } from "./pulse.ts";
import type { Scatter } from "./scatter.ts";
import type { IntentStyle } from "./shot-intent.ts";
import { swaySines } from "./sway.ts";

/** The table's forces belong to a player of this mass; accelerations are the same for every mass. */
export const TABLE_MASS_KG = 80;
/** Speed left after the shot, m/s (sd). */
const REST_SPEED_SD_M_PER_S = 0.01;
/** Up accelerates away from the ground after impact until the body sinks with this part of the speed it rose with. */
const SINK_PART = 0.2;

export interface BodyPlanOptions {
  readonly timing: ShotTiming;
  readonly waggle: Span | undefined;
  readonly player: SimulatedPlayer;
  readonly style: IntentStyle;
  readonly scatter: Scatter;
  readonly draw: Random;
}

function speedAfter(pulses: readonly Pulse[]): number {
  return pulses.reduce((speed, pulse) => speed + pulse.height * pulse.halfWidthS * PULSE_AREA, 0);
}

/** Three pulses of +1, -2, +1 that leave no speed and no travel behind. */
function nudge(span: Span, height: number): Pulse[] {
  const quarterS = (span.toS - span.fromS) / 4;
  const middleS = (span.fromS + span.toS) / 2;
  return [
    { height, centreS: middleS - quarterS, halfWidthS: quarterS },
    { height: -2 * height, centreS: middleS, halfWidthS: quarterS },
    { height, centreS: middleS + quarterS, halfWidthS: quarterS },
  ];
}

function targetPulses({ timing, player, style, scatter, draw }: BodyPlanOptions): Pulse[] {
  const { startS, topS, impactS } = timing;
  const widthS = 0.24 * (topS - startS);
  const takeaway = -0.3 * scatter.amplitude();
  const push = (style.targetPushN / TABLE_MASS_KG) * player.style.target * scatter.amplitude();
  const pulses: Pulse[] = [
    { height: takeaway, centreS: startS + widthS, halfWidthS: widthS },
    { height: -0.8 * takeaway, centreS: startS + 2.1 * widthS, halfWidthS: 1.05 * widthS },
    { height: push, centreS: impactS - style.targetPeakBeforeS + 0.6 * scatter.timeS(), halfWidthS: 0.2 },
  ];
  const rest = REST_SPEED_SD_M_PER_S * draw.normal();
  return [...pulses, pulseOfArea(rest - speedAfter(pulses), impactS + 0.26 + scatter.timeS(), 0.32)];
}

function aheadPulses({ timing, player, style, scatter, draw }: BodyPlanOptions): Pulse[] {
  const { startS, topS, impactS } = timing;
  const widthS = 0.24 * (topS - startS);
  const takeaway = 0.14 * scatter.amplitude();
  const push = (style.aheadPushN / TABLE_MASS_KG) * player.style.ahead * scatter.amplitude();
  const pulses: Pulse[] = [
    { height: takeaway, centreS: startS + widthS, halfWidthS: widthS },
    { height: -takeaway, centreS: startS + 3 * widthS, halfWidthS: widthS },
    { height: push, centreS: impactS - style.aheadPeakBeforeS + 0.6 * scatter.timeS(), halfWidthS: 0.13 },
    { height: -0.9 * push, centreS: impactS + 0.07, halfWidthS: 0.16 },
  ];
  const rest = REST_SPEED_SD_M_PER_S * draw.normal();
  return [...pulses, pulseOfArea(rest - speedAfter(pulses), impactS + 0.4, 0.24)];
}

function upPulses({ timing, player, style, scatter, draw }: BodyPlanOptions): Pulse[] {
  const { startS, topS, impactS } = timing;
  const backswingS = topS - startS;
  const takeaway = -0.2 * scatter.amplitude();
  const push = (style.upPeakBw - 1) * STANDARD_GRAVITY_M_PER_S2 * player.style.up * scatter.amplitude();
  const rise: Pulse[] = [
    { height: takeaway, centreS: startS + 0.26 * backswingS, halfWidthS: 0.26 * backswingS },
    { height: -takeaway, centreS: startS + 0.62 * backswingS, halfWidthS: 0.26 * backswingS },
    { height: -0.5 * scatter.amplitude(), centreS: topS + 0.01, halfWidthS: 0.13 },
    { height: push, centreS: impactS - style.upPeakBeforeS + 0.6 * scatter.timeS(), halfWidthS: 0.13 },
  ];
  const drop = pulseOfArea(-(1 + SINK_PART) * speedAfter(rise), impactS + 0.12, 0.15);
  const rest = 0.5 * REST_SPEED_SD_M_PER_S * draw.normal();
  const before = [...rise, drop];
  return [...before, pulseOfArea(rest - speedAfter(before), impactS + 0.4, 0.24)];
}

/**
 * What the centre of mass does along the level axes: quiet sway of 3 to 5 mm/s, a nudge where there is a waggle, and
 * for the shot a few acceleration pulses whose last one brings the speed to a rest of sd 10 mm/s (up 5 mm/s).
 * For the table's stock shot the pushes peak in the order target, ahead, up (common practice, no source).
 */
export function bodyPlan(options: BodyPlanOptions): Record<"target" | "ahead" | "up", AxisMotion> {
  const { draw, waggle } = options;
  const horizontalRms = (): number => 0.003 + 0.002 * draw.unit();
  const target = targetPulses(options);
  const ahead = aheadPulses(options);
  const up = upPulses(options);
  if (waggle !== undefined) {
    target.push(...nudge(waggle, 0.06 + 0.06 * draw.unit()));
    ahead.push(...nudge(waggle, 0.04 + 0.04 * draw.unit()));
  }
  return {
    target: { pulses: target, sway: swaySines(horizontalRms(), draw) },
    ahead: { pulses: ahead, sway: swaySines(horizontalRms(), draw) },
    up: { pulses: up, sway: swaySines(0.6 * horizontalRms(), draw) },
  };
}
