import { mean, type Values } from "../samples.ts";
import { type BcaInterval, type BcaOptions, bcaFromResamples } from "./bca.ts";

const COUNT_RESAMPLES = 10_000;
/** Largest groups of which three, or two, indices are looked up together (own choice: the tables stay in the cache). */
const MOST_IN_THREES = 16;
const MOST_IN_TWOS = 64;

/** Which shots each resample holds, shared by all measures of the same shots. */
export interface Resamples {
  /** countResamples × (nA + nB): first nA indices into A (0 .. nA-1), then nB into B. */
  readonly indices: Uint16Array;
  readonly nA: number;
  readonly nB: number;
  /** Given where they were drawn. */
  readonly seed?: number;
}

/** Resamples within each group, drawn from the stream of a seed and a label. */
export function drawnIndices(o: { readonly nA: number; readonly nB: number }, options: BcaOptions): Resamples {
  const random = options.streams(options.seed, options.label);
  const perRow = o.nA + o.nB;
  const indices = new Uint16Array((options.countResamples ?? COUNT_RESAMPLES) * perRow);
  for (let at = 0; at < indices.length; at++) indices[at] = random.below(at % perRow < o.nA ? o.nA : o.nB);
  return { ...o, indices, seed: options.seed };
}

/** Indices of one group packed two or three to a code, and how a code is built; the index `size - 1` may stand for "none". */
interface Codes {
  readonly together: number;
  readonly size: number;
  /** One array for each code of a resample, one entry a resample. */
  readonly columns: readonly Uint16Array[];
}

function codesOf({ indices, nA, nB }: Resamples, first: number, n: number): Codes {
  const together = n <= MOST_IN_THREES ? 3 : n <= MOST_IN_TWOS ? 2 : 1;
  const size = n % together === 0 ? n : n + 1;
  const perRow = nA + nB;
  const countRows = indices.length / perRow;
  const columns = Array.from({ length: Math.ceil(n / together) }, () => new Uint16Array(countRows));
  columns.forEach((codes, c) => {
    const [from, to] = [c * together, Math.min((c + 1) * together, n)];
    // What a short last code lacks stands for none.
    const padding = size ** (together - (to - from));
    const none = padding === 1 ? 0 : ((padding - 1) / (size - 1)) * n;
    for (let row = 0, at = first; row < countRows; row++, at += perRow) {
      let code = 0;
      for (let k = at + from; k < at + to; k++) code = code * size + indices[k]!;
      codes[row] = code * padding + none;
    }
  });
  return { together, size, columns };
}

/** Sum of values by code: of one, two or three of them. */
function sumsByCode(values: Float64Array, { together, size }: Codes): Float64Array {
  const ones = new Float64Array(size);
  ones.set(values);
  let sums = ones;
  for (let taken = 1; taken < together; taken++) {
    const next = new Float64Array(sums.length * size);
    for (let a = 0; a < sums.length; a++) for (let b = 0; b < size; b++) next[a * size + b] = sums[a]! + ones[b]!;
    sums = next;
  }
  return sums;
}

/** Codes of both groups as columns, each with the sums it looks up. */
interface Lookup {
  readonly codes: Uint16Array;
  readonly sums: Float64Array;
}

/** The value of each resample: `start` and the sums of all its codes, four columns a turn. */
function sumLookups(lookups: readonly Lookup[], start: number, out: Float64Array): void {
  out.fill(start);
  let c = 0;
  for (; c + 4 <= lookups.length; c += 4) {
    const [one, two, three, four] = lookups.slice(c, c + 4) as [Lookup, Lookup, Lookup, Lookup];
    const [c1, c2, c3, c4] = [one.codes, two.codes, three.codes, four.codes];
    const [s1, s2, s3, s4] = [one.sums, two.sums, three.sums, four.sums];
    for (let row = 0; row < out.length; row++)
      out[row]! += s1[c1[row]!]! + s2[c2[row]!]! + (s3[c3[row]!]! + s4[c4[row]!]!);
  }
  for (; c < lookups.length; c++) {
    const { codes, sums } = lookups[c]!;
    for (let row = 0; row < out.length; row++) out[row]! += sums[codes[row]!]!;
  }
}

/** a = Σu³/(6 (Σu²)^{3/2}), u the deviations over n, the jackknife of a mean in closed form. */
function accelerationOf(influences: readonly Float64Array[]): number {
  let [squares, cubes] = [0, 0];
  for (const group of influences) {
    for (const u of group) {
      squares += u * u;
      cubes += u * u * u;
    }
  }
  return squares === 0 ? 0 : cubes / (6 * squares ** 1.5);
}

/**
 * BCa intervals of the difference of two means, B minus A, for many measures of the same shots by the same resamples. The same as
 * `bcaInterval` of each, in a small part of the time.
 *
 * @param measures   nA + nB values each, A first, no NaN
 * @param resamples  drawn (`drawnIndices`) or given
 * @throws RangeError where the values are not those of the resamples
 */
export function bcaOfMeanDifferences(
  measures: readonly Values[],
  resamples: Resamples,
  options: Pick<BcaOptions, "levelOfOne" | "looks"> = {},
): readonly BcaInterval[] {
  const { nA, nB } = resamples;
  const countResamples = resamples.indices.length / (nA + nB);
  if (!Number.isInteger(countResamples) || measures.some((values) => values.length !== nA + nB))
    throw new RangeError(`values or indices are not those of ${nA} and ${nB} shots`);
  const codes = [codesOf(resamples, 0, nA), codesOf(resamples, nA, nB)] as const;
  const found = new Float64Array(countResamples);
  return measures.map((measure) => {
    const values = Float64Array.from(measure);
    const groups = [values.subarray(0, nA), values.subarray(nA)] as const;
    const value = mean(groups[1]) - mean(groups[0]);
    const influences = groups.map((group, g) => {
      const centre = mean(group);
      return group.map((x) => ((g === 0 ? -1 : 1) * (x - centre)) / group.length);
    });
    const lookups = influences.flatMap((influence, g) => {
      const sums = sumsByCode(influence, codes[g]!);
      return codes[g]!.columns.map((column) => ({ codes: column, sums }));
    });
    sumLookups(lookups, value, found);
    return bcaFromResamples(found, {
      value,
      acceleration: accelerationOf(influences),
      n: [nA, nB],
      isExact: false,
      ...(resamples.seed === undefined ? {} : { seed: resamples.seed }),
      options,
    });
  });
}
