import type { Column, EventName, TurfPoint } from "@underfoot/domain";
import { curveIntegral, curveTrough, windowIndices } from "./curve-value.ts";
import type { TruthMeasure } from "./shot-truth.ts";
import { soleCoordinates, soleMarginM } from "./sole.ts";
import { atEvent, downswing, fromImpactMs, peakIn, startToImpact, type TruthScene, wholeShot } from "./truth-scene.ts";

/** The share at an event is the mean over this on both sides, s. */
const SHARE_HALF_S = 0.005;
const SHARE_STEPS = 5;
/** Required friction is taken while the foot carries this part of body weight. */
const FRICTION_LOAD_SHARE = 0.1;

function shareMeasures(scene: TruthScene): TruthMeasure[] {
  const { curves, events } = scene;
  const percent = curves.leadShare.map((share) => 100 * share);
  const around = (event: EventName): number => {
    if (event === "address") return atEvent(scene, percent, event);
    let total = 0;
    for (let k = -SHARE_STEPS; k <= SHARE_STEPS; k++) {
      const shifted = { ...scene, events: { ...events, [event]: events[event] + (k * SHARE_HALF_S) / SHARE_STEPS } };
      total += atEvent(shifted, percent, event);
    }
    return total / (2 * SHARE_STEPS + 1);
  };
  const peak = peakIn(scene, percent, wholeShot(scene));
  return [
    ...(["address", "start", "top", "delivery", "impact", "finish"] as const).map((event) => ({
      id: `lead.share.at.${event}`,
      value: around(event),
      unit: "%",
    })),
    { id: "lead.share.peak", value: peak.value, unit: "%" },
    { id: "lead.share.peakTime", value: fromImpactMs(scene, peak.timeS), unit: "ms" },
    ...(["lead", "trail"] as const).flatMap((foot) =>
      (["address", "impact"] as const).map((event) => ({
        id: `${foot}.load.at.${event}`,
        value: atEvent(scene, curves[foot].turf.upN, event),
        unit: "N",
      })),
    ),
  ];
}

function soleMeasures(scene: TruthScene): TruthMeasure[] {
  const rows: TruthMeasure[] = [];
  const where = (foot: "lead" | "trail", event: EventName): TurfPoint => ({
    targetM: atEvent(scene, scene.curves[foot].copTargetM, event) + scene.reference[0],
    aheadM: atEvent(scene, scene.curves[foot].copAheadM, event) + scene.reference[1],
  });
  for (const event of ["address", "top", "delivery", "impact"] as const) {
    const { heelToe, innerOuter } = soleCoordinates(scene.soles.lead, where("lead", event));
    rows.push({ id: `lead.heelToe.at.${event}`, value: heelToe, unit: "%" });
    rows.push({ id: `lead.innerOuter.at.${event}`, value: innerOuter, unit: "%" });
  }
  for (const event of ["address", "top"] as const) {
    const { heelToe } = soleCoordinates(scene.soles.trail, where("trail", event));
    rows.push({ id: `trail.heelToe.at.${event}`, value: heelToe, unit: "%" });
  }
  for (const event of ["delivery", "impact"] as const) {
    const marginM = soleMarginM(scene.soles.lead, where("lead", event));
    rows.push({ id: `lead.margin.at.${event}`, value: 1000 * marginM, unit: "mm" });
  }
  return rows;
}

/** Length of the way of the combined CoP, m. */
function pathM(scene: TruthScene): number {
  const { copTargetM, copAheadM } = scene.curves.both;
  const [first, end] = windowIndices(scene.rateHz, startToImpact(scene), copTargetM.length);
  let total = 0;
  for (let i = first + 1; i < end; i++) {
    total += Math.hypot(copTargetM[i]! - copTargetM[i - 1]!, copAheadM[i]! - copAheadM[i - 1]!);
  }
  return total;
}

function copMeasures(scene: TruthScene): TruthMeasure[] {
  const { both } = scene.curves;
  const rangeMm = (curve: Column): number =>
    1000 *
    (peakIn(scene, curve, startToImpact(scene)).value - curveTrough(curve, scene.rateHz, startToImpact(scene)).value);
  const events = ["address", "top", "delivery", "impact"] as const;
  return [
    { id: "both.copTarget.range", value: rangeMm(both.copTargetM), unit: "mm" },
    { id: "both.copAhead.range", value: rangeMm(both.copAheadM), unit: "mm" },
    { id: "both.cop.path", value: 1000 * pathM(scene), unit: "mm" },
    ...events.map((event) => ({
      id: `both.copTarget.at.${event}`,
      value: 1000 * (atEvent(scene, both.copTargetM, event) + scene.reference[0]),
      unit: "mm",
    })),
    ...events.map((event) => ({
      id: `both.copAhead.at.${event}`,
      value: 1000 * (atEvent(scene, both.copAheadM, event) + scene.reference[1]),
      unit: "mm",
    })),
  ];
}

/** Required friction of a foot over the shot; not a number while it carries too little. */
function frictionPeak(scene: TruthScene, foot: "lead" | "trail"): number {
  const { targetN, aheadN, upN } = scene.curves[foot].turf;
  const [first, end] = windowIndices(scene.rateHz, wholeShot(scene), upN.length);
  let best = Number.NaN;
  for (let i = first; i < end; i++) {
    if (upN[i]! <= FRICTION_LOAD_SHARE * scene.weightN) continue;
    const friction = Math.hypot(targetN[i]!, aheadN[i]!) / upN[i]!;
    if (!(friction <= best)) best = friction;
  }
  return best;
}

function torqueMeasures(scene: TruthScene): TruthMeasure[] {
  const { lead, trail, both, coupleNm } = scene.curves;
  const turn = peakIn(scene, both.freeMomentNm, wholeShot(scene));
  const impulse = curveIntegral(both.freeMomentNm, scene.rateHz, downswing(scene));
  const row = (id: string, value: number, unit: string): TruthMeasure => ({ id, value, unit });
  const peak = (curve: Column): number => peakIn(scene, curve, wholeShot(scene)).value;
  return [
    row("both.turn.at.delivery", atEvent(scene, both.freeMomentNm, "delivery"), "N m"),
    row("both.turn.at.impact", atEvent(scene, both.freeMomentNm, "impact"), "N m"),
    row("both.couple.at.delivery", atEvent(scene, coupleNm, "delivery"), "N m"),
    row("both.couple.at.impact", atEvent(scene, coupleNm, "impact"), "N m"),
    row("both.turn.peak", turn.value, "N m"),
    row("both.turn.peakTime", fromImpactMs(scene, turn.timeS), "ms"),
    row("both.turn.min", curveTrough(both.freeMomentNm, scene.rateHz, wholeShot(scene)).value, "N m"),
    row("both.turn.impulse", impulse, "N m s"),
    row("lead.freeMoment.peak", peak(lead.freeMomentNm), "N m"),
    row("trail.freeMoment.peak", peak(trail.freeMomentNm), "N m"),
    row("both.couple.peak", peak(coupleNm), "N m"),
    row("lead.friction.peak", frictionPeak(scene, "lead"), "1"),
    row("trail.friction.peak", frictionPeak(scene, "trail"), "1"),
  ];
}

/** True measures of the feet: shares and loads, CoP in each sole, combined CoP, torques, required friction. */
export function footMeasures(scene: TruthScene): TruthMeasure[] {
  return [...shareMeasures(scene), ...soleMeasures(scene), ...copMeasures(scene), ...torqueMeasures(scene)];
}
