import type { Values } from "../samples.ts";

/** One random factor: its levels, and what differs between them. */
export interface RandomTerm {
  /** Level of each row, any whole names. */
  readonly levels: Values;
  /** One column or two with free correlation, a value a row; left out: an intercept. */
  readonly columns?: readonly [Values] | readonly [Values, Values];
}

/** Random columns of one level: where they start among all, their term and name. */
export interface RandomLevel {
  readonly term: number;
  readonly level: number;
  readonly firstColumn: number;
}

/**
 * The columns of Z, ordered by block. Columns of different blocks share no row, so ΛᵀZᵀZΛ + I falls apart into blocks: a player each where
 * everything is nested within players, one block where factors cross.
 */
export interface RandomColumns {
  readonly countColumns: number;
  readonly countTheta: number;
  /** Whether a θ is a standard deviation over σ, at least 0, and not the link between two. */
  readonly isScale: readonly boolean[];
  /** Term of each θ. */
  readonly termOfTheta: readonly number[];
  /** θ on Λ's diagonal of each column. */
  readonly diagonal: Int32Array<ArrayBuffer>;
  /** θ that links a column to the next one, its partner, or -1. */
  readonly link: Int32Array<ArrayBuffer>;
  /** First column of each block, and one past the last. */
  readonly blockStarts: Int32Array<ArrayBuffer>;
  readonly largestBlock: number;
  /** ZᵀZ of each block, row-major, one after the other. */
  readonly squares: Float64Array<ArrayBuffer>;
  readonly squaresStarts: Int32Array<ArrayBuffer>;
  /** Non-zero entries of Z, equally many in each row. */
  readonly entriesPerRow: number;
  readonly columnOfEntry: Int32Array<ArrayBuffer>;
  readonly weightOfEntry: Float64Array<ArrayBuffer>;
  readonly levels: readonly RandomLevel[];
}

/** Number of the level of each row, in rising order of names, and the names. */
function numbered(levels: Values): { readonly of: Int32Array<ArrayBuffer>; readonly names: readonly number[] } {
  const names = [...new Set(Array.from(levels))].sort((a, b) => a - b);
  const place = new Map(names.map((name, k) => [name, k]));
  return { of: Int32Array.from(levels, (name) => place.get(name)!), names };
}

/** Joins levels that share a row; gives each level's block, numbered in order of first appearance. */
function blocksOf(countLevels: number, rows: readonly Int32Array[]): Int32Array<ArrayBuffer> {
  const parent = Int32Array.from({ length: countLevels }, (_, k) => k);
  const rootOf = (k: number): number => {
    let at = k;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  };
  const [first, ...others] = rows;
  if (first !== undefined)
    for (let i = 0; i < first.length; i++) for (const other of others) parent[rootOf(other[i]!)] = rootOf(first[i]!);
  const numbers = new Map<number, number>();
  return Int32Array.from(parent, (_, k) => {
    const at = rootOf(k);
    if (!numbers.has(at)) numbers.set(at, numbers.size);
    return numbers.get(at)!;
  });
}

/** θ of each term: one for a single column; scale, link, scale for two. */
function thetasOf(terms: readonly RandomTerm[]): {
  readonly starts: readonly number[];
  readonly isScale: readonly boolean[];
  readonly termOfTheta: readonly number[];
} {
  const starts: number[] = [];
  const isScale: boolean[] = [];
  const termOfTheta: number[] = [];
  terms.forEach(({ columns }, term) => {
    starts.push(isScale.length);
    const own = columns?.length === 2 ? [true, false, true] : [true];
    isScale.push(...own);
    termOfTheta.push(...own.map(() => term));
  });
  return { starts, isScale, termOfTheta };
}

/** Adds a row's entries to ZᵀZ of its block. */
function addSquares(
  o: Pick<RandomColumns, "blockStarts" | "squares" | "squaresStarts">,
  row: {
    readonly block: number;
    readonly columns: Int32Array;
    readonly weights: Float64Array;
  },
): void {
  const first = o.blockStarts[row.block]!;
  const size = o.blockStarts[row.block + 1]! - first;
  const at = o.squaresStarts[row.block]!;
  for (let a = 0; a < row.columns.length; a++)
    for (let b = 0; b < row.columns.length; b++)
      o.squares[at + (row.columns[a]! - first) * size + row.columns[b]! - first]! += row.weights[a]! * row.weights[b]!;
}

/** Non-zero entries of Z, row by row; `columnAt` gives the first column of a term's level in a row. */
function entriesOf(
  terms: readonly RandomTerm[],
  columnAt: (term: number, row: number) => number,
): Pick<RandomColumns, "entriesPerRow" | "columnOfEntry" | "weightOfEntry"> {
  const countRows = terms[0]!.levels.length;
  const entriesPerRow = terms.reduce((sum, { columns }) => sum + (columns?.length ?? 1), 0);
  const columnOfEntry = new Int32Array(countRows * entriesPerRow);
  const weightOfEntry = new Float64Array(countRows * entriesPerRow);
  let entry = 0;
  for (let i = 0; i < countRows; i++) {
    terms.forEach(({ columns }, t) => {
      const column = columnAt(t, i);
      for (let w = 0; w < (columns?.length ?? 1); w++) {
        columnOfEntry[entry] = column + w;
        weightOfEntry[entry++] = columns?.[w]?.[i] ?? 1;
      }
    });
  }
  return { entriesPerRow, columnOfEntry, weightOfEntry };
}

/**
 * Z of random terms, its blocks found from which levels share rows.
 *
 * @param terms      at least one
 * @param countRows  rows of the design
 */
export function randomColumns(terms: readonly RandomTerm[], countRows: number): RandomColumns {
  if (terms.length === 0) throw new RangeError("a mixed model has a random term");
  const all = [...terms.flatMap(({ levels, columns }) => [levels, ...(columns ?? [])])];
  if (all.some((values) => values.length !== countRows)) throw new RangeError("random columns of different lengths");
  const widths = terms.map(({ columns }) => columns?.length ?? 1);
  const named = terms.map(({ levels }) => numbered(levels));
  const offsets = named.map((_, t) => named.slice(0, t).reduce((sum, { names }) => sum + names.length, 0));
  const countLevels = named.reduce((sum, { names }) => sum + names.length, 0);
  const block = blocksOf(
    countLevels,
    named.map(({ of }, t) => of.map((k) => k + offsets[t]!)),
  );
  const { starts, isScale, termOfTheta } = thetasOf(terms);
  const ordered = named
    .flatMap(({ names }, term) => names.map((level, k) => ({ term, level, at: offsets[term]! + k })))
    .sort((a, b) => block[a.at]! - block[b.at]! || a.at - b.at);
  const firstColumn = new Int32Array(countLevels);
  const countColumns = ordered.reduce((sum, { term, at }) => {
    firstColumn[at] = sum;
    return sum + widths[term]!;
  }, 0);
  const diagonal = new Int32Array(countColumns);
  const link = new Int32Array(countColumns).fill(-1);
  const countBlocks = block.reduce((most, one) => Math.max(most, one + 1), 0);
  const sizes = new Int32Array(countBlocks);
  for (const { term, at } of ordered) {
    const column = firstColumn[at]!;
    sizes[block[at]!]! += widths[term]!;
    diagonal[column] = starts[term]!;
    if (widths[term] === 2) {
      link[column] = starts[term]! + 1;
      diagonal[column + 1] = starts[term]! + 2;
    }
  }
  const blockStarts = new Int32Array(countBlocks + 1);
  const squaresStarts = new Int32Array(countBlocks + 1);
  sizes.forEach((size, b) => {
    blockStarts[b + 1] = blockStarts[b]! + size;
    squaresStarts[b + 1] = squaresStarts[b]! + size * size;
  });
  const squares = new Float64Array(squaresStarts[countBlocks]!);
  const entries = entriesOf(terms, (term, row) => firstColumn[offsets[term]! + named[term]!.of[row]!]!);
  const { entriesPerRow } = entries;
  for (let i = 0; i < countRows; i++) {
    const own = [i * entriesPerRow, (i + 1) * entriesPerRow] as const;
    addSquares(
      { blockStarts, squares, squaresStarts },
      {
        block: block[named[0]!.of[i]!]!,
        columns: entries.columnOfEntry.subarray(...own),
        weights: entries.weightOfEntry.subarray(...own),
      },
    );
  }
  return {
    countColumns,
    countTheta: isScale.length,
    isScale,
    termOfTheta,
    diagonal,
    link,
    blockStarts,
    largestBlock: sizes.reduce((most, one) => Math.max(most, one), 0),
    squares,
    squaresStarts,
    ...entries,
    levels: ordered.map(({ term, level, at }) => ({ term, level, firstColumn: firstColumn[at]! })),
  };
}
