import type { Values } from "../samples.ts";

/** Ranks 1 .. n; equal values share the mean of the ranks they take up. */
export function midRanks(values: Values): Float64Array<ArrayBuffer> {
  const n = values.length;
  const order = Array.from({ length: n }, (_, k) => k).sort((i, j) => values[i]! - values[j]!);
  const ranks = new Float64Array(n);
  for (let first = 0; first < n; ) {
    let last = first;
    while (last + 1 < n && values[order[last + 1]!] === values[order[first]!]) last++;
    for (let k = first; k <= last; k++) ranks[order[k]!] = (first + last) / 2 + 1;
    first = last + 1;
  }
  return ranks;
}
