import type { PlayerAxes } from "@underfoot/domain";
import type { Shot } from "@underfoot/mechanics";
import { inMetresPerSecond } from "./numbers.ts";
import { axisInTurf, forceAt, quietForceN } from "./player-force.ts";
import { eventOf, msFromS, sampleAt, type TimeZero } from "./shot-time.ts";

/** One area between the push and its base: speed toward the target that it gave or took. */
export interface SpeedChange {
  readonly kind: "gain" | "loss";
  readonly fromMs: number;
  readonly toMs: number;
  /** Where the label goes: half of the change is before it. */
  readonly middleMs: number;
  /** Change of speed toward the target, m/s; negative for a loss. */
  readonly speedMPerS: number;
  readonly sigmaMPerS: number;
  /** False where the change does not exceed its own uncertainty: fill it, write nothing. */
  readonly isShown: boolean;
  /** "gains 0.29 m/s", "loses 0.23 m/s". */
  readonly text: string;
}

/**
 * Areas between the push and what gravity alone gives, start to finish, as speed gained and lost:
 * between two crossings of the net force (push less the quiet stance) the change is that of the speed column.
 * Sigma of a change: the larger of sqrt|sigma_2² - sigma_1²| of the two speeds and drift times duration.
 */
export function gainsAndLosses(shot: Shot, axes: PlayerAxes, zero: TimeZero): readonly SpeedChange[] {
  const start = eventOf(shot, "start");
  const finish = eventOf(shot, "finish");
  if (start === undefined || finish === undefined) return [];
  const axis = axisInTurf(shot, axes, "target");
  const quietN = quietForceN(shot, axis);
  const net = (i: number): number => forceAt(shot.both, axis, i) - quietN;
  const changes: SpeedChange[] = [];
  const end = sampleAt(shot, finish.timeS);
  let from = sampleAt(shot, start.timeS);
  for (let i = from + 1; i <= end; i++) {
    const isSameSide = net(i) * net(from) > 0 && i < end;
    if (isSameSide) continue;
    const change = speedChange(shot, axes, zero, { from, to: i });
    if (change !== undefined) changes.push(change);
    from = i;
  }
  return changes;
}

function speedChange(
  shot: Shot,
  axes: PlayerAxes,
  zero: TimeZero,
  { from, to }: { readonly from: number; readonly to: number },
): SpeedChange | undefined {
  const { speedTargetMPerS: speed, speedTargetSigmaMPerS: sigma } = shot[axes];
  const speedMPerS = speed[to]! - speed[from]!;
  if (!(Math.abs(speedMPerS) > 0)) return undefined;
  const driftMPerS = (shot.address.driftSigmaMPerS2.target * (to - from)) / shot.rateHz;
  const sigmaMPerS = Math.max(driftMPerS, Math.sqrt(Math.abs(sigma[to]! ** 2 - sigma[from]! ** 2)));
  const half = speed[from]! + speedMPerS / 2;
  let middle = from;
  while (middle < to && Math.abs(speed[middle]! - speed[from]!) < Math.abs(half - speed[from]!)) middle++;
  const kind = speedMPerS > 0 ? "gain" : "loss";
  return {
    kind,
    fromMs: msFromS(zero, from / shot.rateHz),
    toMs: msFromS(zero, to / shot.rateHz),
    middleMs: msFromS(zero, middle / shot.rateHz),
    speedMPerS,
    sigmaMPerS,
    isShown: Math.abs(speedMPerS) > sigmaMPerS,
    text: `${kind === "gain" ? "gains" : "loses"} ${inMetresPerSecond(Math.abs(speedMPerS), sigmaMPerS).text}`,
  };
}
