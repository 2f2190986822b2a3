import type { Column, EventName, PlayerAxes } from "@underfoot/domain";
import { curveMean, curvePeak, type Peak, valueAt, type Window } from "./curve-value.ts";
import type { SimulatedSole } from "./sole.ts";
import type { ForceCurves, TruthCurves } from "./truth-curves.ts";

/** What the true measures are made from. */
export interface TruthScene {
  readonly curves: TruthCurves;
  readonly rateHz: number;
  readonly events: Readonly<Record<EventName, number>>;
  readonly quiet: Window;
  readonly weightN: number;
  readonly soles: { readonly lead: SimulatedSole; readonly trail: SimulatedSole };
  /** The truth's reference point from the middle of the stance, along target and ahead, m. */
  readonly reference: readonly [number, number];
}

export const AXES: readonly PlayerAxes[] = ["turf", "level"];
export const DIRECTIONS = ["target", "ahead", "up"] as const;
export type Direction = (typeof DIRECTIONS)[number];

export function along(curves: ForceCurves, direction: Direction): Column {
  return { target: curves.targetN, ahead: curves.aheadN, up: curves.upN }[direction];
}

/** Start to finish: the window of peaks. */
export function wholeShot({ events }: TruthScene): Window {
  return { fromS: events.start, toS: events.finish };
}

export function downswing({ events }: TruthScene): Window {
  return { fromS: events.top, toS: events.impact };
}

export function startToImpact({ events }: TruthScene): Window {
  return { fromS: events.start, toS: events.impact };
}

/** A curve at an event: at address its mean over the quiet window, elsewhere straight between samples. */
export function atEvent(scene: TruthScene, curve: Column, event: EventName): number {
  return event === "address"
    ? curveMean(curve, scene.rateHz, scene.quiet)
    : valueAt(curve, scene.rateHz, scene.events[event]);
}

export function peakIn(scene: TruthScene, curve: Column, window: Window): Peak {
  return curvePeak(curve, scene.rateHz, window);
}

/** ms from impact. */
export function fromImpactMs(scene: TruthScene, timeS: number): number {
  return 1000 * (timeS - scene.events.impact);
}
