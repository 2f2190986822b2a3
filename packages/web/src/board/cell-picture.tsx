import type { Board, BoardCell, UsualCurve } from "@underfoot/compare";
import type { CatalogueEntry } from "@underfoot/mechanics";
import { type ScaleDomain, thinned, unitText } from "@underfoot/report";
import type { ReactElement } from "react";
import { boxX, scaleTicks } from "../compare/pairs/pair-layout.ts";
import { betweenPath } from "../compare/pairs/pair-paths.ts";
import { type CurvePlace, curvePath } from "../shot/sheet/curve-path.ts";
import type { Asked } from "./board-plan.ts";
import { askedAtMs, isOnCurve, lineOf } from "./cell-scale.ts";

const WIDTH_PX = 128;
const HEIGHT_PX = 168;
const TOP_PX = 6;
/** Room for the numbers of the scale. */
const FOOT_PX = 20;
const BOX = { x: 8, width: WIDTH_PX - 16 } as const;
const BOTTOM_PX = HEIGHT_PX - FOOT_PX;
/** Numbers of the scale as far apart as that, the first of these that leaves room for two. */
const TICKS_APART_PX = [46, 34, 24] as const;
const BRACKET_PX = 9;

export interface CellPictureProps {
  readonly board: Board;
  readonly cell: BoardCell;
  /** The same intent on the flat; undefined on the flat itself, and where there is none. */
  readonly flat: BoardCell | undefined;
  readonly entry: CatalogueEntry;
  readonly asked: Asked | undefined;
  /** The same for every cell. */
  readonly scale: ScaleDomain;
}

/** What a cell shows: its falling curve, or the values on one line where the quantity has no curve. */
export function CellPicture(props: CellPictureProps): ReactElement {
  const { board, cell, scale } = props;
  const hasCurves = board.cells.some(({ curve }) => curve !== undefined);
  const unit = board.cells.flatMap(({ curve }) => curve?.unit ?? [])[0] ?? board.unit;
  return (
    <svg className="cell-picture" width={WIDTH_PX} height={HEIGHT_PX} aria-hidden="true">
      <rect className="ground" width={WIDTH_PX} height={BOTTOM_PX + TOP_PX} />
      <Scale scale={scale} unit={unit} />
      {cell.curve === undefined ? null : <Fall {...props} curve={cell.curve} />}
      {hasCurves ? null : <Values {...props} />}
    </svg>
  );
}

function Scale({ scale, unit }: { readonly scale: ScaleDomain; readonly unit: string }): ReactElement {
  const x = boxX(scale, BOX);
  const tried = TICKS_APART_PX.map((apartPx) => scaleTicks(scale, BOX.width, apartPx));
  const ticks = tried.find(({ length }) => length > 1) ?? tried[0] ?? [];
  const step = Math.abs((ticks[1] ?? 0) - (ticks[0] ?? 0));
  const last = ticks.length - 1;
  return (
    <g>
      {ticks.map((value, k) => {
        const { number, text } = unitText(value, unit, step / 2);
        return (
          <g key={value}>
            <path
              d={`M${x(value)} ${TOP_PX}V${BOTTOM_PX + TOP_PX}`}
              stroke={value === 0 ? "var(--edge)" : "var(--rule)"}
            />
            <text
              x={k === last ? Math.min(x(value) + 14, WIDTH_PX) : Math.max(x(value), k === 0 ? 14 : 0)}
              y={HEIGHT_PX - 1}
              className="zero"
              style={k === last ? { textAnchor: "end" } : {}}
            >
              {k === last ? text : number}
            </text>
          </g>
        );
      })}
    </g>
  );
}

interface FallProps extends CellPictureProps {
  readonly curve: UsualCurve;
}

function Fall({ board, cell, flat, curve, entry, asked, scale }: FallProps): ReactElement {
  const countPoints = curve.mean.length;
  const yPoint = (q: number): number => TOP_PX + (q / Math.max(1, countPoints - 1)) * (BOTTOM_PX - TOP_PX);
  const { firstMs, stepMs } = board.grid;
  const yMs = (ms: number): number => yPoint((ms - firstMs) / stepMs);
  const place: CurvePlace = { x: boxX(scale, BOX), y: yPoint };
  const pathOf = (values: readonly number[]): string => {
    const column = Float64Array.from(values);
    return curvePath(column, thinned(column, BOTTOM_PX - TOP_PX), place);
  };
  const { token, dash } = lineOf(curve.column);
  const line = { stroke: `var(--${token})`, strokeDasharray: dash };
  const atMs = isOnCurve(board, curve) ? askedAtMs(entry, cell, board.grid) : undefined;
  return (
    <g>
      {curve.status === "band" ? <path d={betweenPath(curve.low, curve.high, place)} className="allowed" /> : null}
      <EventRules cell={cell} yMs={yMs} />
      {flat?.curve === undefined ? null : <path d={pathOf(flat.curve.mean)} className="flat-ghost" />}
      {curve.status === "band" ? (
        <path d={pathOf(curve.mean)} className="curve" {...line} />
      ) : (
        <path d={(curve.singles ?? [curve.mean]).map(pathOf).join("")} className="curve single" {...line} />
      )}
      {asked === undefined || atMs === undefined ? null : <Bracket asked={asked} scale={scale} y={yMs(atMs)} />}
    </g>
  );
}

/** Top dotted, delivery thin, impact in full ink. */
function EventRules({
  cell: { eventsMs },
  yMs,
}: {
  readonly cell: BoardCell;
  readonly yMs: (ms: number) => number;
}): ReactElement {
  return (
    <g>
      {(["top", "delivery", "impact"] as const).map((event) => {
        const ms = eventsMs[event];
        const y = ms === undefined ? Number.NaN : yMs(ms);
        return y >= TOP_PX && y <= BOTTOM_PX ? (
          <path key={event} d={`M0 ${y.toFixed(1)}H${WIDTH_PX}`} className={`cell-event ${event}`} />
        ) : null;
      })}
    </g>
  );
}

interface BracketProps {
  readonly asked: Asked;
  readonly scale: ScaleDomain;
  readonly y: number;
}

/** Dotted, open toward the side that is allowed; closed on both sides for a range. */
function Bracket({ asked: { least, most }, scale, y }: BracketProps): ReactElement {
  const x = boxX(scale, BOX);
  const [left, right] = [least === undefined ? 0 : x(least), most === undefined ? WIDTH_PX : x(most)];
  const sides = [least === undefined ? "" : `M${left} ${y - BRACKET_PX}V${y + BRACKET_PX}`];
  if (most !== undefined) sides.push(`M${right} ${y - BRACKET_PX}V${y + BRACKET_PX}`);
  return (
    <path
      d={`M${left} ${y - BRACKET_PX}H${right}M${left} ${y + BRACKET_PX}H${right}${sides.join("")}`}
      className="asked-bracket"
    />
  );
}

/** Each shot a dot, the mean a line, the usual band behind them. */
function Values({ board, cell, flat, asked, scale }: CellPictureProps): ReactElement {
  const x = boxX(scale, BOX);
  const { usual, values, mean } = cell;
  const middle = (TOP_PX + BOTTOM_PX) / 2;
  const known = values.filter((value) => Number.isFinite(value));
  const { token } = lineOf(board.measure);
  const apart = Math.min(9, (BOTTOM_PX - TOP_PX - 16) / Math.max(1, known.length));
  return (
    <g>
      {usual.kind === "band" ? (
        <rect
          className="allowed"
          x={x(usual.low)}
          width={x(usual.high) - x(usual.low)}
          y={TOP_PX}
          height={BOTTOM_PX - TOP_PX}
        />
      ) : null}
      {flat === undefined || !Number.isFinite(flat.mean) ? null : (
        <path d={`M${x(flat.mean)} ${TOP_PX}V${BOTTOM_PX}`} className="flat-ghost" />
      )}
      {Number.isFinite(mean) && usual.kind === "band" ? (
        <path d={`M${x(mean)} ${TOP_PX}V${BOTTOM_PX}`} className="curve" stroke={`var(--${token})`} />
      ) : null}
      {known.map((value, k) => (
        <circle
          // biome-ignore lint/suspicious/noArrayIndexKey: shots in the order they were hit.
          key={k}
          cx={x(value)}
          cy={middle + (k - (known.length - 1) / 2) * apart}
          r="3"
          fill="var(--ink)"
        />
      ))}
      {asked === undefined ? null : <Bracket asked={asked} scale={scale} y={middle} />}
    </g>
  );
}
