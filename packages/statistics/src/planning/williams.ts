/**
 * Williams' rows for k conditions: each condition follows each other one equally often (Williams 1949 Aust J Sci Res A 2).
 * k even: first row 0, 1, k-1, 2, k-2, ..., row i = first + i mod k; k rows. k odd: these and their mirrors; 2k rows.
 *
 * @param k  conditions, 2 or more
 */
export function williamsRows(k: number): readonly (readonly number[])[] {
  if (!(Number.isInteger(k) && k >= 2)) throw new RangeError(`Williams rows want 2 conditions or more, not ${k}`);
  const first = [0];
  for (let low = 1, high = k - 1; low <= high; low++, high--) {
    first.push(low);
    if (low < high) first.push(high);
  }
  const rows = Array.from({ length: k }, (_, i) => first.map((condition) => (condition + i) % k));
  return k % 2 === 0 ? rows : [...rows, ...rows.map((row) => row.toReversed())];
}
