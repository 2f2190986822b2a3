import type { PlayerAxes } from "@underfoot/domain";
import { curveIntegral, curveMean, curveTrough, steepestRise } from "./curve-value.ts";
import type { TruthMeasure } from "./shot-truth.ts";
import {
  AXES,
  along,
  atEvent,
  DIRECTIONS,
  downswing,
  fromImpactMs,
  peakIn,
  startToImpact,
  type TruthScene,
  wholeShot,
} from "./truth-scene.ts";

/** Line of the rate of force development, s. */
const RISE_LINE_S = 0.05;
/** Peaks are ordered from this long before top until as long after impact, s. */
const ORDER_MARGIN_S = 0.15;

function totalForce(scene: TruthScene, axes: PlayerAxes): TruthMeasure[] {
  const { curves, rateHz } = scene;
  return DIRECTIONS.flatMap((direction) => {
    const curve = along(curves.both[axes], direction);
    const peak = peakIn(scene, curve, wholeShot(scene));
    const trough = curveTrough(curve, rateHz, wholeShot(scene));
    const quietN = curveMean(curve, rateHz, scene.quiet);
    const id = `both.${direction}`;
    return [
      { id: `${id}.peak`, value: peak.value, unit: "N", axes },
      { id: `${id}.peakTime`, value: fromImpactMs(scene, peak.timeS), unit: "ms", axes },
      { id: `${id}.min`, value: trough.value, unit: "N", axes },
      { id: `${id}.minTime`, value: fromImpactMs(scene, trough.timeS), unit: "ms", axes },
      { id: `${id}.at.top`, value: atEvent(scene, curve, "top"), unit: "N", axes },
      { id: `${id}.at.delivery`, value: atEvent(scene, curve, "delivery"), unit: "N", axes },
      { id: `${id}.at.impact`, value: atEvent(scene, curve, "impact"), unit: "N", axes },
      { id: `${id}.impulse`, value: curveIntegral(curve, rateHz, downswing(scene), quietN), unit: "N s", axes },
    ];
  });
}

function footForce(scene: TruthScene, axes: PlayerAxes): TruthMeasure[] {
  return (["lead", "trail"] as const).flatMap((foot) =>
    DIRECTIONS.flatMap((direction) => {
      const peak = peakIn(scene, along(scene.curves[foot][axes], direction), wholeShot(scene));
      return [
        { id: `${foot}.${direction}.peak`, value: peak.value, unit: "N", axes },
        { id: `${foot}.${direction}.peakTime`, value: fromImpactMs(scene, peak.timeS), unit: "ms", axes },
      ];
    }),
  );
}

function riseAndLean(scene: TruthScene, axes: PlayerAxes): TruthMeasure[] {
  const { curves, rateHz } = scene;
  const rows: TruthMeasure[] = (["both", "lead"] as const).map((foot) => ({
    id: `${foot}.up.rise`,
    value: steepestRise(curves[foot][axes].upN, rateHz, downswing(scene), RISE_LINE_S),
    unit: "N/s",
    axes,
  }));
  for (const event of ["address", "top", "delivery", "impact"] as const) {
    const [target, ahead, up] = DIRECTIONS.map((d) => atEvent(scene, along(curves.both[axes], d), event));
    const degrees = (horizontal: number): number => (Math.atan2(horizontal, up!) * 180) / Math.PI;
    rows.push({ id: `both.leanTarget.at.${event}`, value: degrees(target!), unit: "deg", axes });
    rows.push({ id: `both.leanAhead.at.${event}`, value: degrees(ahead!), unit: "deg", axes });
  }
  return rows;
}

/** Gaps between the three peaks and their order; order without asking how sure, for the truth is sure. */
function peakOrder(scene: TruthScene, axes: PlayerAxes): TruthMeasure[] {
  const { events, curves } = scene;
  const window = { fromS: events.top - ORDER_MARGIN_S, toS: events.impact + ORDER_MARGIN_S };
  const peaks = DIRECTIONS.map((direction) => ({
    direction,
    timeS: peakIn(scene, along(curves.both[axes], direction), window).timeS,
  }));
  const [target, ahead, up] = peaks.map(({ timeS }) => 1000 * timeS) as [number, number, number];
  const text = [...peaks]
    .sort((a, b) => a.timeS - b.timeS)
    .map(({ direction }) => direction)
    .join(", ");
  return [
    { id: "both.peakGap.targetToAhead", value: ahead - target, unit: "ms", axes },
    { id: "both.peakGap.aheadToUp", value: up - ahead, unit: "ms", axes },
    { id: "both.peakGap.targetToUp", value: up - target, unit: "ms", axes },
    { id: "both.peakOrder.text", value: Number.NaN, text, unit: "", axes },
  ];
}

/** True measures of force: totals, feet, rate of force development, lean, unweighting, order of the peaks, weight. */
export function forceMeasures(scene: TruthScene): TruthMeasure[] {
  const up = scene.curves.both.turf.upN;
  const lowest = curveTrough(up, scene.rateHz, startToImpact(scene)).value;
  const dip = 100 * (1 - lowest / curveMean(up, scene.rateHz, scene.quiet));
  return [
    ...AXES.flatMap((axes) => [
      ...totalForce(scene, axes),
      ...footForce(scene, axes),
      ...riseAndLean(scene, axes),
      ...peakOrder(scene, axes),
    ]),
    { id: "both.up.dip", value: dip, unit: "%", axes: "turf" },
    { id: "both.weight.mean", value: scene.weightN, unit: "N" },
  ];
}
