/** A point of the plate's surface, m. */
export type SurfacePoint = readonly [number, number];

/** Points of an outline that is kept: enough for a foot, 15 to 20 mm apart (ours). */
export const OUTLINE_POINTS = 40;

/** Knots of the centripetal spline: square root of the distance (Yuksel, Schaefer and Keyser 2011; from memory). */
const CENTRIPETAL = 0.5;
const POINTS_PER_SPAN = 64;

export const apart = (a: SurfacePoint, b: SurfacePoint): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

function mixed(a: SurfacePoint, b: SurfacePoint, share: number): SurfacePoint {
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

/**
 * Closed centripetal Catmull-Rom curve through points, which are among the places given: between two it makes no loop and no
 * cusp (Yuksel, Schaefer and Keyser 2011; from memory). The other places are spread evenly over each span.
 *
 * @param points  three or more, no two neighbours the same, in order round
 * @param count   places wanted; more come back only where spans are shorter than a step
 */
export function closedCurve(points: readonly SurfacePoint[], count: number = OUTLINE_POINTS): readonly SurfacePoint[] {
  const n = points.length;
  const at = (k: number): SurfacePoint => points[((k % n) + n) % n]!;
  const spans = points.map((_, k) =>
    Array.from({ length: POINTS_PER_SPAN + 1 }, (__, j) =>
      spanPoint([at(k - 1), at(k), at(k + 1), at(k + 2)], j / POINTS_PER_SPAN),
    ),
  );
  const lengths = spans.map((line) => line.slice(1).reduce((way, point, j) => way + apart(line[j]!, point), 0));
  const total = lengths.reduce((a, b) => a + b);
  let way = 0;
  return spans.flatMap((line, k) => {
    const first = Math.round((count * way) / total);
    way += lengths[k]!;
    return evenly(line, lengths[k]!, Math.max(1, Math.round((count * way) / total) - first));
  });
}

/** The first point of an open line and others after it, `count` in all, with the last one left out: equally far apart. */
function evenly(line: readonly SurfacePoint[], length: number, count: number): readonly SurfacePoint[] {
  const found: SurfacePoint[] = [line[0]!];
  let way = 0;
  for (let j = 1; j < line.length && found.length < count; j++) {
    const step = apart(line[j - 1]!, line[j]!);
    const wanted = (found.length * length) / count;
    if (way + step >= wanted && step > 0) found.push(mixed(line[j - 1]!, line[j]!, (wanted - way) / step));
    way += step;
  }
  return found;
}

/** Barry and Goldman's pyramid between the second and the third point. */
function spanPoint(
  [a, b, c, d]: readonly [SurfacePoint, SurfacePoint, SurfacePoint, SurfacePoint],
  share: number,
): SurfacePoint {
  const t1 = apart(a, b) ** CENTRIPETAL;
  const t2 = t1 + apart(b, c) ** CENTRIPETAL;
  const t3 = t2 + apart(c, d) ** CENTRIPETAL;
  const t = t1 + share * (t2 - t1);
  const ab = mixed(a, b, t / t1);
  const bc = mixed(b, c, (t - t1) / (t2 - t1));
  const cd = mixed(c, d, (t - t2) / (t3 - t2));
  return mixed(mixed(ab, bc, t / t2), mixed(bc, cd, (t - t1) / (t3 - t1)), share);
}

/**
 * A closed line smoothed and thinned: each of `count` places equally far apart is the mean of the line within `halfM` of it on
 * either side. A circle of radius R shrinks by halfM² / (6 R): 0.4 mm for 10 mm on 40 mm.
 */
export function smoothed(line: readonly SurfacePoint[], count: number, halfM: number): readonly SurfacePoint[] {
  const ends = cumulative(line);
  const total = ends.at(-1)!;
  const steps = 10;
  return Array.from({ length: count }, (_, k): SurfacePoint => {
    let x = 0;
    let y = 0;
    for (let j = -steps; j <= steps; j++) {
      const [px, py] = along(line, ends, (k * total) / count + (j * halfM) / steps);
      x += px;
      y += py;
    }
    return [x / (2 * steps + 1), y / (2 * steps + 1)];
  });
}

/** Way along the closed line from its first point to each next one; the last is the way round. */
function cumulative(line: readonly SurfacePoint[]): readonly number[] {
  let way = 0;
  return line.map((point, k) => {
    way += apart(point, line[(k + 1) % line.length]!);
    return way;
  });
}

function along(line: readonly SurfacePoint[], ends: readonly number[], wanted: number): SurfacePoint {
  const total = ends.at(-1)!;
  const way = ((wanted % total) + total) % total;
  let [low, high] = [0, ends.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ends[middle]! <= way) low = middle + 1;
    else high = middle;
  }
  const before = low === 0 ? 0 : ends[low - 1]!;
  const step = ends[low]! - before;
  return mixed(line[low]!, line[(low + 1) % line.length]!, step > 0 ? (way - before) / step : 0);
}
