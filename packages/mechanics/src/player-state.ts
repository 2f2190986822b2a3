import type { Column, Samples } from "@underfoot/domain";
import { butterworthLowPass, zeroPhaseMany } from "@underfoot/signal";
import type { FootSeries, PlayerWrench, Shot } from "./shot.ts";
import { validMean } from "./valid-mean.ts";

/**
 * A player state: everything a measure at one instant is made of, as 16 numbers in a row of a Float64Array, so that an
 * error of any source is a row of the same shape that can be added.
 *
 *   0..5 lead wrench, 6..11 trail wrench: F_t F_a F_u (N), B_t B_a N (N m), turf player axes, about the reference point
 *   12, 13 pitch and roll (rad)      14, 15 whether lead and trail are loaded (0, 1)
 *
 * A plate that carries both feet stands in the place of lead, with nothing in the place of trail.
 */
export const STATE = {
  size: 16,
  lead: 0,
  trail: 6,
  target: 0,
  ahead: 1,
  up: 2,
  bTarget: 3,
  bAhead: 4,
  turn: 5,
  pitch: 12,
  roll: 13,
  leadLoaded: 14,
  trailLoaded: 15,
} as const;

/** States of consecutive samples, one row each. */
export interface StateRows {
  /** The recording's sample of row 0. */
  readonly first: number;
  readonly count: number;
  readonly rows: Column;
}

/** The two wrenches that a state is made of: of the feet, or of the one plate and nothing. */
function feetOf(shot: Shot): readonly [FootSeries | undefined, FootSeries | undefined] {
  return shot.lead === undefined && shot.trail === undefined ? [shot.both, undefined] : [shot.lead, shot.trail];
}

function columnsOf(wrench: PlayerWrench): readonly Samples[] {
  return [wrench.targetN, wrench.aheadN, wrench.upN, wrench.bTargetNm, wrench.bAheadNm, wrench.turnNm];
}

/** States of the filtered wrench for the samples [first, end), held within the recording. */
export function stateRows(shot: Shot, first: number, end: number): StateRows {
  const from = Math.max(0, first);
  const to = Math.min(shot.sampleCount, end);
  const columns = feetOf(shot).map((foot) => (foot === undefined ? undefined : columnsOf(foot.wrench)));
  return filledRows(shot, from, Math.max(from, to), columns, 0);
}

/** Longest edge that the wider filter needs to settle, s. */
const SETTLING_S = 0.2;

/**
 * The same states with twice the cut-off, from the unfiltered wrench: what the filter took away shows as the difference.
 * Undefined where the shot was not filtered or the rate has no room for it.
 */
export function stateRowsOfTwiceTheCutoff(shot: Shot, rows: StateRows): StateRows | undefined {
  if (shot.cutoffHz === undefined || 2 * shot.cutoffHz >= 0.4 * shot.rateHz) return undefined;
  const edge = Math.ceil(SETTLING_S * shot.rateHz);
  const from = Math.max(0, rows.first - edge);
  const to = Math.min(shot.sampleCount, rows.first + rows.count + edge);
  const filter = butterworthLowPass({ cutoffHz: 2 * shot.cutoffHz, rateHz: shot.rateHz });
  const columns = feetOf(shot).map((foot) =>
    foot === undefined
      ? undefined
      : zeroPhaseMany(
          columnsOf(foot.unfiltered).map((column) => column.subarray(from, to)),
          filter,
        ),
  );
  return filledRows(shot, rows.first, rows.first + rows.count, columns, from);
}

/** Rows [from, to) out of columns whose first sample is the recording's sample `columnsFrom`. */
function filledRows(
  shot: Shot,
  from: number,
  to: number,
  columns: readonly (readonly Samples[] | undefined)[],
  columnsFrom: number,
): StateRows {
  const { size } = STATE;
  const rows = new Float64Array((to - from) * size);
  columns.forEach((six, foot) => {
    if (six === undefined) return;
    const isLoaded = feetOf(shot)[foot]!.isLoaded;
    six.forEach((column, c) => {
      const at = 6 * foot + c;
      for (let i = from; i < to; i++) rows[(i - from) * size + at] = column[i - columnsFrom]!;
    });
    const at = STATE.leadLoaded + foot;
    for (let i = from; i < to; i++) rows[(i - from) * size + at] = isLoaded[i]!;
  });
  const { pitchRad, rollRad } = lieRad(shot);
  for (let row = 0; row < to - from; row++) {
    rows[row * size + STATE.pitch] = pitchRad;
    rows[row * size + STATE.roll] = rollRad;
  }
  return { first: from, count: to - from, rows };
}

function lieRad(shot: Shot): { readonly pitchRad: number; readonly rollRad: number } {
  return { pitchRad: (shot.lie.pitchDeg * Math.PI) / 180, rollRad: (shot.lie.rollDeg * Math.PI) / 180 };
}

/**
 * The state at a position in samples of the recording, on straight lines between samples; loaded as the nearer sample.
 * NaN outside the rows. Written into `out`.
 */
export function stateAt({ first, count, rows }: StateRows, position: number, out: Column): Column {
  const place = position - first;
  const before = Math.floor(place);
  if (!(place >= 0 && place <= count - 1)) return out.fill(Number.NaN);
  const share = place - before;
  const a = before * STATE.size;
  const b = share === 0 ? a : a + STATE.size;
  for (let j = 0; j < STATE.leadLoaded; j++) out[j] = rows[a + j]! + share * (rows[b + j]! - rows[a + j]!);
  const nearer = share < 0.5 ? a : b;
  out[STATE.leadLoaded] = rows[nearer + STATE.leadLoaded]!;
  out[STATE.trailLoaded] = rows[nearer + STATE.trailLoaded]!;
  return out;
}

/** The mean state of the address window, from the unfiltered wrench, missing samples skipped; loaded where most of its samples are. */
export function addressState(shot: Shot): Column {
  const out = new Float64Array(STATE.size);
  const { first, end } = shot.address;
  feetOf(shot).forEach((foot, f) => {
    if (foot === undefined) return;
    columnsOf(foot.unfiltered).forEach((column, c) => {
      out[6 * f + c] = validMean(column, first, end);
    });
    let loaded = 0;
    for (let i = first; i < end; i++) loaded += foot.isLoaded[i]!;
    out[STATE.leadLoaded + f] = 2 * loaded > end - first ? 1 : 0;
  });
  const { pitchRad, rollRad } = lieRad(shot);
  out[STATE.pitch] = pitchRad;
  out[STATE.roll] = rollRad;
  return out;
}
