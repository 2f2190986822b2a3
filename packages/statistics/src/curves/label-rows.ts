import {
  countConditionLabellings,
  drawnConditionLabellings,
  eachConditionLabelling,
} from "../difference/condition-labellings.ts";
import {
  countLabellings,
  drawnLabellings,
  eachLabelling,
  type Labelled,
  MOST_EXACT,
} from "../difference/labellings.ts";
import type { DrawOptions } from "../difference/permutation.ts";

/** Labellings drawn where there are too many to take all, the observed one counted as the first. */
const COUNT_DRAWN = 10_000;
/** A row is padded to so many bytes, the shots that one step of the kernels adds together. */
export const BYTES_TOGETHER = 3;

/** Many labellings of the same shots (or signs of the same pairs), one bit a shot. */
export interface LabelRows {
  readonly countShots: number;
  readonly countRows: number;
  /** A multiple of 3. */
  readonly bytesPerRow: number;
  /** Bit k % 8 of byte k >> 3 of a row: 1 where shot k is in A, or keeps its sign. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly method: "exact" | "drawn";
  readonly seed?: number;
}

export interface DrawnRows extends DrawOptions {
  /** Rows where they are drawn, the observed one included; 10,000. */
  readonly countDrawn?: number;
  /** Up to so many labellings all are taken; 100,000. */
  readonly mostExact?: number;
}

/** Rows of zeros for so many shots. */
function emptyRows(countShots: number, countRows: number): Pick<LabelRows, "bytesPerRow" | "bytes"> {
  const bytesPerRow = BYTES_TOGETHER * Math.ceil(countShots / (8 * BYTES_TOGETHER));
  return { bytesPerRow, bytes: new Uint8Array(bytesPerRow * countRows) };
}

/** Sets the bits of one row where an entry equals `wanted`. */
function setRow(
  rows: Pick<LabelRows, "bytesPerRow" | "bytes">,
  row: number,
  { entries, wanted }: { readonly entries: ArrayLike<number>; readonly wanted: number },
): void {
  const at = row * rows.bytesPerRow;
  for (let k = 0; k < entries.length; k++) if (entries[k] === wanted) rows.bytes[at + (k >> 3)]! |= 1 << (k & 7);
}

/** The labellings that the order allows: all up to 100,000, else the observed one and drawn ones. */
export function labelRows(labelled: Labelled, options: DrawnRows): LabelRows {
  const countShots = labelled.groups.length;
  const total = countLabellings(labelled);
  const isExact = total <= (options.mostExact ?? MOST_EXACT);
  const countRows = isExact ? total : (options.countDrawn ?? COUNT_DRAWN);
  const rows = emptyRows(countShots, countRows);
  let row = 0;
  const put = (entries: ArrayLike<number>): void => setRow(rows, row++, { entries, wanted: 0 });
  if (isExact) {
    eachLabelling(labelled, put);
    return { countShots, countRows, ...rows, method: "exact" };
  }
  put(labelled.groups);
  const random = options.streams(options.seed, options.label);
  drawnLabellings(labelled, { count: countRows - 1, random }, put);
  return { countShots, countRows, ...rows, method: "drawn", seed: options.seed };
}

/** The signs of paired differences: all 2^n up to 16 pairs, else the observed ones and drawn ones. */
export function signRows(countPairs: number, options: DrawnRows): LabelRows {
  const total = 2 ** countPairs;
  const isExact = total <= (options.mostExact ?? MOST_EXACT);
  const countRows = isExact ? total : (options.countDrawn ?? COUNT_DRAWN);
  const rows = emptyRows(countPairs, countRows);
  const signs = new Int8Array(countPairs).fill(1);
  const put = (row: number): void => setRow(rows, row, { entries: signs, wanted: 1 });
  if (isExact) {
    for (let row = 0; row < total; row++) {
      for (let k = 0; k < countPairs; k++) signs[k] = (row >> k) & 1 ? -1 : 1;
      put(row);
    }
    return { countShots: countPairs, countRows, ...rows, method: "exact" };
  }
  put(0);
  const random = options.streams(options.seed, options.label);
  for (let row = 1; row < countRows; row++) {
    for (let k = 0; k < countPairs; k++) signs[k] = random.sign();
    put(row);
  }
  return { countShots: countPairs, countRows, ...rows, method: "drawn", seed: options.seed };
}

/**
 * Labellings from given orders of the shots: in each the first `countA` are A.
 *
 * @param orders  countRows × countShots, each a permutation of 0 .. countShots-1
 */
export function rowsOfOrders(orders: ArrayLike<number>, countShots: number, countA: number): LabelRows {
  const countRows = orders.length / countShots;
  if (!Number.isInteger(countRows))
    throw new RangeError(`${orders.length} entries are no orders of ${countShots} shots`);
  const { bytesPerRow, bytes } = emptyRows(countShots, countRows);
  for (let row = 0; row < countRows; row++) {
    const from = row * countShots;
    for (let place = 0; place < countA; place++) {
      const k = orders[from + place]!;
      bytes[row * bytesPerRow + (k >> 3)]! |= 1 << (k & 7);
    }
  }
  return { countShots, countRows, bytesPerRow, bytes, method: "drawn" };
}

/** For k conditions 0 .. k-1: one set of rows for each but the last, bits set where a shot is in that condition. */
export function conditionRows(labelled: Labelled, countConditions: number, options: DrawnRows): readonly LabelRows[] {
  const countShots = labelled.groups.length;
  const total = countConditionLabellings(labelled);
  const isExact = total <= (options.mostExact ?? MOST_EXACT);
  const countRows = isExact ? total : (options.countDrawn ?? COUNT_DRAWN);
  const made = isExact ? ({ method: "exact" } as const) : ({ method: "drawn", seed: options.seed } as const);
  const sets = Array.from({ length: countConditions - 1 }, () => emptyRows(countShots, countRows));
  let row = 0;
  const put = (entries: ArrayLike<number>): void => {
    sets.forEach((set, wanted) => void setRow(set, row, { entries, wanted }));
    row++;
  };
  if (isExact) eachConditionLabelling(labelled, put);
  else {
    put(labelled.groups);
    const random = options.streams(options.seed, options.label);
    drawnConditionLabellings(labelled, { count: countRows - 1, random }, put);
  }
  return sets.map((set) => ({ countShots, countRows, ...set, ...made }));
}
