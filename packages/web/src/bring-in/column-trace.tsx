import type { LookedColumn } from "@underfoot/pipeline";
import type { ReactElement } from "react";
import { valueText } from "./look-words.ts";

const WIDTH = 92;
const HEIGHT = 120;

/** The first second of one column, time falling; its own scale, zero as a line where it lies inside. */
export function ColumnTrace({ column }: { readonly column: LookedColumn }): ReactElement {
  const { name, unit, trace, least, largest } = column;
  const range = largest - least;
  const x = (value: number): number => (range > 0 ? ((value - least) / range) * WIDTH : WIDTH / 2);
  const y = (k: number): number => (k / Math.max(1, trace.length - 1)) * HEIGHT;
  let path = "";
  let isDown = false;
  trace.forEach((value, k) => {
    if (Number.isFinite(value)) path += `${isDown ? "L" : "M"}${x(value).toFixed(1)} ${y(k).toFixed(1)}`;
    isDown = Number.isFinite(value);
  });
  const hasZero = least < 0 && largest > 0;
  const span = Number.isFinite(least) ? `${valueText(least, "")} to ${valueText(largest, unit)}` : "no number";
  return (
    <svg
      className="column-trace"
      viewBox={`-2 -2 ${WIDTH + 4} ${HEIGHT + 4}`}
      width={WIDTH + 4}
      height={HEIGHT + 4}
      role="img"
      aria-label={`First second of ${name}, time falling: ${span}`}
    >
      <path d={`M0 0V${HEIGHT}M${WIDTH} 0V${HEIGHT}`} className="column-edge" />
      {hasZero ? <path d={`M${x(0)} 0V${HEIGHT}`} className="column-zero" /> : null}
      <path d={path} className="curve" stroke="var(--ink)" />
    </svg>
  );
}

/** Least and largest value under the trace. */
export function ColumnSpan({ column: { least, largest, unit } }: { readonly column: LookedColumn }): ReactElement {
  return (
    <span className="column-span">
      <span>{valueText(least, "")}</span>
      <span>{valueText(largest, unit)}</span>
    </span>
  );
}
