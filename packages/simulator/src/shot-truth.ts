import type { EventName, Handed, Intent, PlayerAxes, Vector } from "@underfoot/domain";
import type { FaultName } from "./injected-faults.ts";
import type { SimulatedLie } from "./lie-axes.ts";
import type { Span } from "./planned-shot.ts";
import type { PlateErrors } from "./sensor-errors.ts";
import type { TruthCurves } from "./truth-curves.ts";

/** One measure as it truly is; ids, units and axes as measures have them. */
export interface TruthMeasure {
  readonly id: string;
  /** NaN for `both.peakOrder.text`, which stands in `text`. */
  readonly value: number;
  readonly text?: string;
  readonly unit: string;
  readonly axes?: PlayerAxes;
}

/** A fault put into the recording on purpose. */
export interface InjectedFault {
  readonly fault: FaultName;
  /** What was done, with its numbers. */
  readonly sentence: string;
  /** Number in the recording, from 1. */
  readonly plate?: number;
  readonly span?: Span;
}

/** What truly happened in a simulated shot: no sensor error anywhere. */
export interface ShotTruth {
  readonly seed: number;
  readonly player: string;
  readonly handed: Handed;
  readonly intent: Intent;
  readonly lie: SimulatedLie;
  readonly isMishit: boolean;
  readonly massKg: number;
  readonly gravityMPerS2: number;
  readonly weightN: number;
  readonly padM: number;
  /** Laboratory point that CoPs count from: mean of the plates' centres as the recording states them, m. */
  readonly referenceM: Vector;
  /** s from the first sample; `address` is the middle of the quiet window. */
  readonly events: Readonly<Record<EventName, number>>;
  readonly quietWindow: Span;
  readonly curves: TruthCurves;
  readonly measures: readonly TruthMeasure[];
  /** What the sensors are wrong by. */
  readonly sensors: {
    readonly lead: PlateErrors;
    readonly trail: PlateErrors;
    readonly pitchDeg: number;
    readonly rollDeg: number;
    /** Trail plate's clock as it is: lead-plate time = offset + (1 + drift) x its own. */
    readonly clockOffsetS: number;
    readonly clockDrift: number;
  };
  readonly faults: readonly InjectedFault[];
}
