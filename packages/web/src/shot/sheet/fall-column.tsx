import { type SheetColumn, thinned } from "@underfoot/report";
import { memo, type ReactElement } from "react";
import { betweenPath } from "../../compare/pairs/pair-paths.ts";
import type { UsualBandOfColumn } from "../usual/usual-bands.ts";
import { areaPath, type CurvePlace, curvePath } from "./curve-path.ts";
import type { Box } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface FallColumnProps {
  readonly column: SheetColumn;
  readonly box: Box;
  readonly scale: SheetScale;
  readonly timesMs: Readonly<Float64Array>;
  /** Grey behind everything; undefined: none is known. */
  readonly usual: UsualBandOfColumn | undefined;
}

/** Pixels of a value in a column. Values outside the scale stand at its edge. */
export function columnX(column: SheetColumn, box: Box): (value: number) => number {
  const { min, max } = column.domain;
  const pxPerUnit = box.width / (max - min);
  return (value) => box.x + (Math.min(max, Math.max(min, value)) - min) * pxPerUnit;
}

/** The colour of a line token. */
export const inkOf = (token: SheetColumn["token"]): string => `var(--${token})`;

/** Columns whose area from zero is filled: right of zero is to the target. */
const FILLED_FROM_ZERO: readonly SheetColumn["id"][] = ["travel", "speed"];

/** One falling column: base, areas, zero line and curve. Words and event lines lie over it. */
export const FallColumn = memo(function FallColumn({
  column,
  box,
  scale,
  timesMs,
  usual,
}: FallColumnProps): ReactElement {
  const x = columnX(column, box);
  const place: CurvePlace = { x, y: (sample) => scale.yTime(timesMs[sample] ?? Number.NaN) };
  const kept = thinned(column.values, box.height);
  const top = box.y - 6;
  const bottom = box.y + box.height;
  const zeroX = x(column.zero);
  const ink = inkOf(column.token);
  return (
    <g data-column={column.id}>
      {usual === undefined ? null : (
        <path
          className="usual-band"
          d={betweenPath(usual.low, usual.high, { x, y: (q) => scale.yTime(usual.timesMs[q] ?? Number.NaN) })}
        />
      )}
      {column.id === "push" ? (
        <PushAreas column={column} kept={kept} place={place} box={box} />
      ) : (
        <BaseArea column={column} box={box} />
      )}
      {FILLED_FROM_ZERO.includes(column.id) ? (
        <path d={areaPath(column.values, kept, place, { base: column.zero, side: "both" })} fill={ink} opacity={0.14} />
      ) : null}
      <path d={`M${zeroX} ${top}V${bottom}`} stroke="var(--edge)" />
      <text x={zeroX} y={box.y - 10} className="zero">
        {column.zeroText}
      </text>
      <path d={curvePath(column.values, kept, place)} className="curve halo" />
      <path
        d={curvePath(column.values, kept, place)}
        className={column.token === "both" ? "curve heavy" : "curve"}
        stroke={ink}
        strokeDasharray={column.dash.join(" ") || undefined}
      />
    </g>
  );
});

interface AreasProps {
  readonly column: SheetColumn;
  readonly box: Box;
}

/** The slope's share, hachured from zero. */
function BaseArea({ column, box }: AreasProps): ReactElement | null {
  if (column.base === undefined) return null;
  const x = columnX(column, box);
  const [zeroX, baseX] = [x(column.zero), x(column.base.value)];
  return (
    <>
      <rect
        x={Math.min(zeroX, baseX)}
        y={box.y - 6}
        width={Math.abs(baseX - zeroX)}
        height={box.height + 6}
        fill="url(#hachure)"
      />
      <path d={`M${baseX} ${box.y - 6}V${box.y + box.height}`} stroke="var(--turf-ink)" strokeWidth={1.6} />
    </>
  );
}

interface PushAreasProps extends AreasProps {
  readonly kept: Int32Array;
  readonly place: CurvePlace;
}

/** Right of the base: speed gained, a tint. Left of it: speed lost, horizontal lines on paper. */
function PushAreas({ column, box, kept, place }: PushAreasProps): ReactElement {
  const base = column.base?.value ?? column.zero;
  const loss = areaPath(column.values, kept, place, { base, side: "below" });
  return (
    <>
      <BaseArea column={column} box={box} />
      <path d={areaPath(column.values, kept, place, { base, side: "above" })} fill="var(--target)" opacity={0.26} />
      <path d={loss} fill="var(--paper)" />
      <path d={loss} fill="url(#loss)" />
    </>
  );
}
