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
  const y = (k: number): number => (k / Math.max(1, trace.length - 2)) * HEIGHT;
  const path = extentPath(trace, x, y);
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
      <path d={path} className="column-fill" />
    </svg>
  );
}

/** Around everything between the least and the largest of each stretch; a missing stretch parts it. */
function extentPath(trace: readonly number[], x: (value: number) => number, y: (k: number) => number): string {
  let path = "";
  let down: string[] = [];
  let back: string[] = [];
  const close = (): void => {
    if (down.length > 0) path += `M${[...down, ...back.toReversed()].join("L")}Z`;
    down = [];
    back = [];
  };
  for (let k = 0; k + 1 < trace.length; k += 2) {
    const [least = Number.NaN, largest = Number.NaN] = trace.slice(k, k + 2);
    if (!Number.isFinite(least)) {
      close();
      continue;
    }
    down.push(`${x(largest).toFixed(1)} ${y(k).toFixed(1)}`);
    back.push(`${x(least).toFixed(1)} ${y(k).toFixed(1)}`);
  }
  close();
  return path;
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
