import type { Knot } from "./monotone-cubic.ts";
import type { Pulse } from "./pulse.ts";
import type { Sine } from "./sway.ts";

/** Events known by construction, s from the first sample. */
export interface ShotTiming {
  readonly startS: number;
  readonly topS: number;
  readonly deliveryS: number;
  readonly impactS: number;
}

/** A stretch of time, s from the first sample. */
export interface Span {
  readonly fromS: number;
  readonly toS: number;
}

/** What the body does along one level axis: acceleration pulses, m/s², on top of quiet sway, m. */
export interface AxisMotion {
  readonly pulses: readonly Pulse[];
  readonly sway: readonly Sine[];
}

/** Everything the player does in one shot, as formulas of time: nothing is sampled yet, no slope, no plate. */
export interface PlannedShot {
  readonly timing: ShotTiming;
  readonly waggle: Span | undefined;
  /** The quiet stance before the shot: after a waggle, up to `start`. */
  readonly quiet: Span;
  /** Level axes. */
  readonly body: { readonly target: AxisMotion; readonly ahead: AxisMotion; readonly up: AxisMotion };
  /** Torque about the vertical through the centre of mass, + toward the target, N m. */
  readonly spin: readonly Pulse[];
  readonly leadFree: readonly Pulse[];
  readonly trailFree: readonly Pulse[];
  /** Free moments of a quiet stance, + on the lead foot, - on the trail foot, N m. */
  readonly twist: readonly Sine[];
  /** The feet pushing against each other along target: force on the lead foot, N; the trail foot gets the opposite. */
  readonly squeezeN: number;
  readonly squeeze: readonly Pulse[];
  /** Lead foot's part of the load along the turf's normal, %. */
  readonly share: readonly Knot[];
  /** CoP targets in each sole, %. */
  readonly leadHeelToe: readonly Knot[];
  readonly leadInnerOuter: readonly Knot[];
  readonly trailHeelToe: readonly Knot[];
  readonly trailInnerOuter: readonly Knot[];
}
