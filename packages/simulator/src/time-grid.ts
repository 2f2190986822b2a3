import type { Column } from "@underfoot/domain";

/** Equal steps of time: sample i lies at firstS + i stepS. */
export interface TimeGrid {
  readonly firstS: number;
  readonly stepS: number;
  readonly count: number;
}

/** The times of a grid, s, `count` samples. */
export function gridTimesS(grid: TimeGrid): Column {
  const out = new Float64Array(grid.count);
  for (let i = 0; i < grid.count; i++) out[i] = grid.firstS + i * grid.stepS;
  return out;
}
