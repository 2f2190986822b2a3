import type { Column, Random } from "@underfoot/domain";
import type { Trajectory } from "./pulse.ts";
import type { TimeGrid } from "./time-grid.ts";

/** One sine of a quiet stance: amplitude sin(2 pi f t + phase). */
export interface Sine {
  readonly amplitude: number;
  readonly frequencyHz: number;
  readonly phaseRad: number;
}

/** Nominal frequencies, Hz, with no common measure; the slow ones reach farther. Shares of speed variance are equal. */
const SWAY_HZ = [0.127, 0.311, 0.613] as const;

/**
 * Quiet-standing sway of the centre of mass along one axis, m: three sines between 0.1 and 0.7 Hz with the given
 * root mean square speed (quiet standing: 3 to 5 mm/s, typed from memory).
 */
export function swaySines(speedRmsMPerS: number, stream: Random): Sine[] {
  return SWAY_HZ.map((nominalHz) => {
    const frequencyHz = nominalHz * (0.85 + 0.25 * stream.unit());
    const speedM = speedRmsMPerS * Math.sqrt(2 / SWAY_HZ.length);
    return { amplitude: speedM / (2 * Math.PI * frequencyHz), frequencyHz, phaseRad: 2 * Math.PI * stream.unit() };
  });
}

/** Adds the sines' values at the grid's times to `out`. */
export function addSines(sines: readonly Sine[], grid: TimeGrid, out: Column): void {
  for (const { amplitude, frequencyHz, phaseRad } of sines) {
    const omega = 2 * Math.PI * frequencyHz;
    for (let i = 0; i < grid.count; i++) {
      out[i]! += amplitude * Math.sin(omega * (grid.firstS + i * grid.stepS) + phaseRad);
    }
  }
}

/** Adds the sines as travel, with their exact speed and acceleration. */
export function addSwayMotion(sines: readonly Sine[], grid: TimeGrid, out: Trajectory): void {
  const { accelerationMPerS2, speedMPerS, travelM } = out;
  for (const { amplitude, frequencyHz, phaseRad } of sines) {
    const omega = 2 * Math.PI * frequencyHz;
    for (let i = 0; i < grid.count; i++) {
      const phase = omega * (grid.firstS + i * grid.stepS) + phaseRad;
      const place = amplitude * Math.sin(phase);
      travelM[i]! += place;
      speedMPerS[i]! += amplitude * omega * Math.cos(phase);
      accelerationMPerS2[i]! -= omega * omega * place;
    }
  }
}
