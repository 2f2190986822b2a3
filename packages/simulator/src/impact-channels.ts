import type { Column, Random } from "@underfoot/domain";
import type { TimeGrid } from "./time-grid.ts";

const TRIGGER_V = 5;
const TRIGGER_LENGTH_S = 0.02;

/** A trigger channel, V: 5 V from the first sample at or after impact, for 20 ms. */
export function triggerChannel(impactS: number, grid: TimeGrid): Column {
  const out = new Float64Array(grid.count);
  for (let i = 0; i < grid.count; i++) {
    const afterS = grid.firstS + i * grid.stepS - impactS;
    if (afterS >= 0 && afterS < TRIGGER_LENGTH_S) out[i] = TRIGGER_V;
  }
  return out;
}

const HISS_V = 0.004;
const CLICK_V = 1.6;
const CLICK_DECAY_S = 0.004;

/** A sound channel, V: hiss, and from impact on a click of noise that dies away in some milliseconds. The microphone is at the ball. */
export function soundChannel(impactS: number, grid: TimeGrid, draw: Random): Column {
  const out = new Float64Array(grid.count);
  for (let i = 0; i < grid.count; i++) {
    const afterS = grid.firstS + i * grid.stepS - impactS;
    const click = afterS >= 0 ? CLICK_V * Math.exp(-afterS / CLICK_DECAY_S) : 0;
    out[i] = HISS_V * draw.normal() + click * (draw.sign() * (0.6 + 0.4 * draw.unit()));
  }
  return out;
}
