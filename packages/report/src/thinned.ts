/**
 * The samples of a curve that are worth drawing: at most two points for each pixel of time, the least and the largest
 * of it, so that every peak survives.
 *
 * @param values  n samples at equal steps of time; NaN where there is nothing to draw
 * @param pixels  length of the time axis in pixels, at least 1
 * @returns       positions in `values`, ascending. Where a gap begins, the position of one NaN is kept beside the
 *                points of its pixel: lift the pen there. No more than 2 · pixels of them are points.
 */
export function thinned(values: Readonly<Float64Array>, pixels: number): Int32Array<ArrayBuffer> {
  const count = values.length;
  const buckets = Math.max(1, Math.min(Math.floor(pixels), count));
  const kept = new Int32Array(3 * buckets);
  let keptCount = 0;
  for (let bucket = 0; bucket < buckets; bucket++) {
    const first = Math.floor((bucket * count) / buckets);
    const end = Math.floor(((bucket + 1) * count) / buckets);
    let least = -1;
    let largest = -1;
    let hole = -1;
    for (let i = first; i < end; i++) {
      const value = values[i]!;
      if (Number.isNaN(value)) {
        if (hole < 0) hole = i;
        continue;
      }
      if (least < 0 || value < values[least]!) least = i;
      if (largest < 0 || value > values[largest]!) largest = i;
    }
    keptCount = push(kept, keptCount, [least, largest, hole]);
  }
  return kept.slice(0, keptCount);
}

function push(kept: Int32Array<ArrayBuffer>, at: number, candidates: [number, number, number]): number {
  let end = at;
  let before = -1;
  for (const i of candidates.sort((a, b) => a - b)) {
    if (i >= 0 && i !== before) kept[end++] = i;
    before = i;
  }
  return end;
}
