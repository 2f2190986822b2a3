import type { PlayerAxes } from "@underfoot/domain";
import type { TruthMeasure } from "./shot-truth.ts";
import { AXES, atEvent, fromImpactMs, peakIn, type TruthScene, wholeShot } from "./truth-scene.ts";

function alongTurfAndLevel(scene: TruthScene, axes: PlayerAxes): TruthMeasure[] {
  const motion = scene.curves[axes];
  const peak = peakIn(scene, motion.speedTargetMPerS, wholeShot(scene));
  const speed = (id: string, value: number): TruthMeasure => ({ id, value, unit: "m/s", axes });
  const travel = (id: string, metres: number): TruthMeasure => ({ id, value: 1000 * metres, unit: "mm", axes });
  return [
    ...(["top", "delivery", "impact"] as const).map((event) =>
      speed(`both.speedTarget.at.${event}`, atEvent(scene, motion.speedTargetMPerS, event)),
    ),
    speed("both.speedTarget.peak", peak.value),
    { id: "both.speedTarget.peakTime", value: fromImpactMs(scene, peak.timeS), unit: "ms", axes },
    ...(["top", "impact"] as const).map((event) =>
      speed(`both.speedAhead.at.${event}`, atEvent(scene, motion.speedAheadMPerS, event)),
    ),
    ...(["top", "delivery", "impact", "finish"] as const).map((event) =>
      travel(`both.travelTarget.at.${event}`, atEvent(scene, motion.travelTargetM, event)),
    ),
    ...(["top", "impact"] as const).map((event) =>
      travel(`both.travelAhead.at.${event}`, atEvent(scene, motion.travelAheadM, event)),
    ),
  ];
}

/** True measures of the centre of mass and of time. */
export function motionMeasures(scene: TruthScene): TruthMeasure[] {
  const { events, curves } = scene;
  const backswingMs = 1000 * (events.top - events.start);
  const downswingMs = 1000 * (events.impact - events.top);
  return [
    ...AXES.flatMap((axes) => alongTurfAndLevel(scene, axes)),
    ...(["top", "impact"] as const).flatMap((event): TruthMeasure[] => [
      {
        id: `both.speedUp.at.${event}`,
        value: atEvent(scene, curves.level.speedUpMPerS, event),
        unit: "m/s",
        axes: "level",
      },
      {
        id: `both.travelUp.at.${event}`,
        value: 1000 * atEvent(scene, curves.level.travelUpM, event),
        unit: "mm",
        axes: "level",
      },
    ]),
    { id: "both.backswing.duration", value: backswingMs, unit: "ms" },
    { id: "both.downswing.duration", value: downswingMs, unit: "ms" },
    { id: "both.tempo.ratio", value: backswingMs / downswingMs, unit: "1" },
  ];
}
