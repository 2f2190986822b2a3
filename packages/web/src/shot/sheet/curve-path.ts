/** Where one sample of a curve stands on the screen. */
export interface CurvePlace {
  readonly x: (value: number) => number;
  readonly y: (sample: number) => number;
}

const px = (value: number): string => value.toFixed(1);

/**
 * The path of a falling curve. The pen is lifted at every missing value: a gap is drawn as a gap.
 * @param values  n samples, NaN where missing
 * @param kept    positions to draw, ascending
 */
export function curvePath(values: Readonly<Float64Array>, kept: Readonly<Int32Array>, place: CurvePlace): string {
  let path = "";
  let isDown = false;
  for (const i of kept) {
    const value = values[i]!;
    if (Number.isNaN(value)) isDown = false;
    else {
      path += `${isDown ? "L" : "M"}${px(place.x(value))} ${px(place.y(i))}`;
      isDown = true;
    }
  }
  return path;
}

export type AreaSide = "above" | "below" | "both";

/**
 * The area between a curve and a fixed base: only what lies above the base, only what lies below it, or both.
 * Gaps close the area.
 */
export function areaPath(
  values: Readonly<Float64Array>,
  kept: Readonly<Int32Array>,
  place: CurvePlace,
  { base, side }: { readonly base: number; readonly side: AreaSide },
): string {
  const held = (value: number): number =>
    side === "above" ? Math.max(value, base) : side === "below" ? Math.min(value, base) : value;
  const xBase = px(place.x(base));
  let path = "";
  let lastY: string | undefined;
  const close = (): void => {
    if (lastY !== undefined) path += `L${xBase} ${lastY}Z`;
    lastY = undefined;
  };
  for (const i of kept) {
    const value = values[i]!;
    if (Number.isNaN(value)) {
      close();
      continue;
    }
    const y = px(place.y(i));
    if (lastY === undefined) path += `M${xBase} ${y}`;
    path += `L${px(place.x(held(value)))} ${y}`;
    lastY = y;
  }
  close();
  return path;
}
