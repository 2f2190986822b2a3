import type { EventName, PlayerAxes } from "@underfoot/domain";
import type { Measure, Shot } from "@underfoot/mechanics";
import { EVENT_LABELS } from "./event-text.ts";
import { measureOf } from "./measure-of.ts";
import type { Stretch } from "./motion-words.ts";
import { inPercent, type NumberText } from "./numbers.ts";
import type { SheetEvent, SheetTime } from "./sheet-events.ts";
import { type FootPoint, soleAxes } from "./sheet-plan.ts";
import { sampleAt, sFromMs } from "./shot-time.ts";

/** Where the pressure was at an event. */
export interface SolePoint extends FootPoint {
  readonly event: EventName;
  readonly label: string;
  /** 0 heel, 100 toe. */
  readonly heelToePercent: number;
}

/** The lead foot laid heel to toe, with the path of its pressure. */
export type SoleView =
  | {
      readonly kind: "traced";
      readonly title: string;
      /** Heel's end to toe's end, m: 0 and 100 % of the scale. */
      readonly lengthM: number;
      readonly outline: readonly FootPoint[];
      /** Same length as the sheet's `timesMs`; NaN where the foot is too light. */
      readonly alongM: Readonly<Float64Array>;
      readonly acrossM: Readonly<Float64Array>;
      readonly points: readonly SolePoint[];
      /** Heel to toe at delivery, with its uncertainty; `why` where it is not known. */
      readonly delivery: { readonly heelToe: NumberText; readonly innerOuter: NumberText; readonly why?: string };
    }
  | { readonly kind: "missing"; readonly title: string; readonly why: string; readonly remedy: string };

export interface SoleInput {
  readonly shot: Shot;
  readonly measures: readonly Measure[];
  readonly axes: PlayerAxes;
  readonly time: SheetTime;
  readonly window: Stretch;
  readonly events: readonly SheetEvent[];
}

const TITLE = "Lead foot: pressure";

export function soleView({ shot, measures, axes, time, window, events }: SoleInput): SoleView {
  const { lead } = shot;
  const sole = shot.soles.lead;
  if (lead === undefined) {
    const remedy = "Give the lead foot a plate of its own.";
    return { kind: "missing", title: TITLE, why: "No plate carries the lead foot alone.", remedy };
  }
  if (sole === undefined) {
    return { kind: "missing", title: TITLE, why: "The lead foot is not traced.", remedy: "Trace it on its plate." };
  }
  const { lengthM, place } = soleAxes(sole, "lead");
  const at = (i: number): FootPoint =>
    lead.isTrusted[i] === 1
      ? place({ targetM: lead.copTargetM[i]!, aheadM: lead.copAheadM[i]! })
      : { alongM: Number.NaN, acrossM: Number.NaN };
  const alongM = new Float64Array(window.end - window.first);
  const acrossM = new Float64Array(alongM.length);
  for (let k = 0; k < alongM.length; k++) {
    const point = at(window.first + k);
    alongM[k] = point.alongM;
    acrossM[k] = point.acrossM;
  }
  const points = events.flatMap(({ event, timeMs }) => {
    const point = at(sampleAt(shot, sFromMs(time.zero, timeMs)));
    if (Number.isNaN(point.alongM)) return [];
    return [{ event, label: EVENT_LABELS[event].label, ...point, heelToePercent: (100 * point.alongM) / lengthM }];
  });
  const heelToe = measureOf(measures, "lead.heelToe.at.delivery", axes);
  const innerOuter = measureOf(measures, "lead.innerOuter.at.delivery", axes);
  const atDelivery = points.find((point) => point.event === "delivery")?.heelToePercent ?? Number.NaN;
  return {
    kind: "traced",
    title: TITLE,
    lengthM,
    outline: sole.outline.map(place),
    alongM,
    acrossM,
    points,
    delivery: {
      heelToe: heelToe?.isValid ? inPercent(heelToe.value, heelToe.sigma) : inPercent(atDelivery),
      innerOuter: innerOuter?.isValid ? inPercent(innerOuter.value, innerOuter.sigma) : inPercent(Number.NaN),
      ...(heelToe?.why === undefined || heelToe.isValid ? {} : { why: heelToe.why }),
    },
  };
}
