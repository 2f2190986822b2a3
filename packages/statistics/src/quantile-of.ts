/** Values looked at first to find where the tail begins, and how many of their standard errors beyond the wanted place (own choice, measured). */
const COUNT_PROBES = 400;
const MARGIN = 3.5;

/**
 * The value of a rank (0 the smallest), by Hoare's selection: afterwards no value before it is larger and none after it smaller.
 *
 * @param values  no NaN; reordered
 */
function selected(values: Float64Array, rank: number): number {
  let [first, last] = [0, values.length - 1];
  while (first < last) {
    const pivot = values[(first + last) >> 1]!;
    let [i, j] = [first, last];
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      const held = values[i]!;
      values[i++] = values[j]!;
      values[j--] = held;
    }
    if (rank <= j) last = j;
    else if (rank >= i) first = i;
    else break;
  }
  return values[rank]!;
}

/** The values times `sign` up to a limit that lies a little beyond the `count` smallest; all of them where the probes misled. */
function lowTail(values: Float64Array, sign: 1 | -1, count: number): Float64Array {
  const n = values.length;
  const probes = new Float64Array(COUNT_PROBES);
  for (let k = 0; k < COUNT_PROBES; k++) probes[k] = sign * values[Math.floor((k * n) / COUNT_PROBES)]!;
  const share = count / n;
  const place = COUNT_PROBES * share + MARGIN * Math.sqrt(COUNT_PROBES * share * (1 - share)) + 1;
  const limit = selected(probes, Math.min(COUNT_PROBES - 1, Math.ceil(place)));
  const tail = new Float64Array(Math.min(n, Math.ceil((2 * n * (place + 1)) / COUNT_PROBES)));
  let found = 0;
  for (let k = 0; k < n; k++) {
    const value = sign * values[k]!;
    if (value <= limit) tail[found++] = value;
  }
  return found < count || found > tail.length ? turned(values, sign) : tail.subarray(0, found);
}

function turned(values: Float64Array, sign: 1 | -1): Float64Array {
  const all = new Float64Array(values.length);
  for (let k = 0; k < all.length; k++) all[k] = sign * values[k]!;
  return all;
}

/**
 * Type-7 quantile as `quantileOfOrdered` gives it, without ordering the sample: only the tail that holds it is gone through.
 *
 * @param values  one or more, no NaN; not changed
 * @param share   0 .. 1, else NaN
 */
export function quantileOf(values: Float64Array, share: number): number {
  if (!(share >= 0 && share <= 1)) return Number.NaN;
  const last = values.length - 1;
  const position = share * last;
  const [below, above] = [Math.floor(position), Math.ceil(position)];
  // The upper tail is the lower one of the values with their signs turned.
  const sign = share > 0.5 ? -1 : 1;
  const [near, far] = sign === 1 ? [below, above] : [last - above, last - below];
  const isLong = values.length > 5 * COUNT_PROBES;
  const tail = isLong ? lowTail(values, sign, far + 1) : turned(values, sign);
  const first = selected(tail, near);
  if (near === far) return sign * first;
  // Everything after the selected value is no smaller, so the next in order is the least of it.
  let second = Number.POSITIVE_INFINITY;
  for (let k = far; k < tail.length; k++) if (tail[k]! < second) second = tail[k]!;
  const [low, high] = sign === 1 ? [first, second] : [-second, -first];
  return low + (position - below) * (high - low);
}
