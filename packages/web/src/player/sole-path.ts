import type { Vector } from "@underfoot/domain";

const PX_PER_M = 560;
const SIDE_PX = 3;

/**
 * A traced foot upright, toes up, as the player sees it. The long side of the outline is taken as heel to toe.
 *
 * @param outline  points in m
 */
export function solePath(outline: readonly Pick<Vector, "x" | "y">[]): {
  readonly d: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly lengthMm: number;
} {
  const [dx, dy] = longestWay(outline);
  const along = outline.map(({ x, y }) => x * dx + y * dy);
  // Square to it on its right: the outline is turned, never mirrored.
  const across = outline.map(({ x, y }) => x * dy - y * dx);
  const top = Math.max(...along);
  const left = Math.min(...across);
  const px = (m: number): number => Math.round(m * PX_PER_M * 10) / 10 + SIDE_PX;
  const points = outline.map((_, k) => `${px((across[k] ?? 0) - left)} ${px(top - (along[k] ?? 0))}`);
  const lengthM = top - Math.min(...along);
  return {
    d: `M${points.join("L")}Z`,
    widthPx: Math.ceil((Math.max(...across) - left) * PX_PER_M + 2 * SIDE_PX),
    heightPx: Math.ceil(lengthM * PX_PER_M + 2 * SIDE_PX),
    lengthMm: Math.round(lengthM * 1000),
  };
}

/** Unit vector between the two points farthest apart, toward +y, or +x where they lie level. */
function longestWay(outline: readonly Pick<Vector, "x" | "y">[]): readonly [number, number] {
  let [dx, dy, longest] = [0, 1, 0];
  for (const a of outline) {
    for (const b of outline) {
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      if (length > longest) [dx, dy, longest] = [(b.x - a.x) / length, (b.y - a.y) / length, length];
    }
  }
  return dy < 0 || (dy === 0 && dx < 0) ? [-dx, -dy] : [dx, dy];
}
