import type { Column } from "@underfoot/domain";
import type { TimeGrid } from "./time-grid.ts";

/**
 * A smooth pulse with a true beginning and end: height (1 - u²)³, u = (t - centre) / halfWidth, exactly 0 outside |u| < 1.
 * Two continuous derivatives at its ends, and both integrals in closed form.
 */
export interface Pulse {
  readonly height: number;
  readonly centreS: number;
  readonly halfWidthS: number;
}

/** Area of a pulse over height x halfWidth: the integral of (1 - u²)³ from -1 to 1. */
export const PULSE_AREA: number = 32 / 35;

/** Acceleration, its integral and the integral of that, along one axis; equal lengths. */
export interface Trajectory {
  readonly accelerationMPerS2: Column;
  readonly speedMPerS: Column;
  readonly travelM: Column;
}

export function restingTrajectory(count: number): Trajectory {
  return {
    accelerationMPerS2: new Float64Array(count),
    speedMPerS: new Float64Array(count),
    travelM: new Float64Array(count),
  };
}

/** The integral of the pulse up to a time. */
export function pulseIntegral(pulse: Pulse, timeS: number): number {
  const u = Math.min(1, Math.max(-1, (timeS - pulse.centreS) / pulse.halfWidthS));
  const square = u * u;
  return pulse.height * pulse.halfWidthS * (u * (1 - square * (1 - square * (0.6 - square / 7))) + PULSE_AREA / 2);
}

/** The pulse whose whole integral is `area`. */
export function pulseOfArea(area: number, centreS: number, halfWidthS: number): Pulse {
  return { height: area / (halfWidthS * PULSE_AREA), centreS, halfWidthS };
}

function firstIndexAfter(timeS: number, grid: TimeGrid): number {
  return Math.min(grid.count, Math.max(0, Math.ceil((timeS - grid.firstS) / grid.stepS)));
}

/** Adds the pulse's values at the grid's times to `out`. */
export function addPulse(pulse: Pulse, grid: TimeGrid, out: Column): void {
  const first = firstIndexAfter(pulse.centreS - pulse.halfWidthS, grid);
  const end = firstIndexAfter(pulse.centreS + pulse.halfWidthS, grid);
  for (let i = first; i < end; i++) {
    const u = (grid.firstS + i * grid.stepS - pulse.centreS) / pulse.halfWidthS;
    const k = 1 - u * u;
    if (k > 0) out[i]! += pulse.height * k * k * k;
  }
}

/**
 * Adds the motion that an acceleration pulse makes: the pulse, its first and its second integral, all exact.
 * Before the pulse nothing; after it a constant speed height x halfWidth x 32/35.
 */
export function addPulseMotion(pulse: Pulse, grid: TimeGrid, out: Trajectory): void {
  const { height, centreS, halfWidthS } = pulse;
  const { accelerationMPerS2, speedMPerS, travelM } = out;
  const first = firstIndexAfter(centreS - halfWidthS, grid);
  const end = firstIndexAfter(centreS + halfWidthS, grid);
  const perSpeed = height * halfWidthS;
  const perTravel = perSpeed * halfWidthS;
  for (let i = first; i < end; i++) {
    const u = (grid.firstS + i * grid.stepS - centreS) / halfWidthS;
    const s = u * u;
    const k = 1 - s;
    accelerationMPerS2[i]! += height * k * k * k;
    speedMPerS[i]! += perSpeed * (u * (1 - s * (1 - s * (0.6 - s / 7))) + PULSE_AREA / 2);
    travelM[i]! += perTravel * (s * (0.5 - s * (0.25 - s * (0.1 - s / 56))) + (u * PULSE_AREA) / 2 + 0.125);
  }
  for (let i = end; i < grid.count; i++) {
    const u = (grid.firstS + i * grid.stepS - centreS) / halfWidthS;
    speedMPerS[i]! += perSpeed * PULSE_AREA;
    travelM[i]! += perTravel * PULSE_AREA * u;
  }
}
