import { type RulerFoot, rulerValues, type SheetModel } from "@underfoot/report";
import { type ReactElement, useEffect, useRef } from "react";
import type { Ruler } from "../ruler.ts";
import { inkOf } from "./fall-column.tsx";
import type { ShownColumn } from "./peak-steps.tsx";
import { brokenInTwo } from "./placed-notes.ts";
import { middleX } from "./plan.tsx";
import type { SheetLayout } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface RulerOverlayProps {
  readonly model: SheetModel;
  readonly columns: readonly ShownColumn[];
  readonly layout: SheetLayout;
  readonly scale: SheetScale;
  readonly ruler: Ruler;
}

/**
 * Everything that follows the ruler. React draws it once; a move changes only attributes and texts in it,
 * so that the sheet below is neither drawn nor laid out again.
 */
export function RulerOverlay(props: RulerOverlayProps): ReactElement {
  const { model, columns, layout, ruler } = props;
  const root = useRef<SVGSVGElement>(null);
  useEffect(() => {
    const svg = root.current;
    if (svg === null) return undefined;
    const paint = (): void => paintAt(svg, props);
    paint();
    return ruler.follow(paint);
  });
  return (
    <svg ref={root} className="overlay" width={layout.width} height={layout.height} aria-hidden="true">
      <g className="arrows">
        {model.feet.map(({ foot }) => (
          <g key={foot}>
            <path data-at={`slope ${foot}`} className="slope-arrow" />
            <path data-at={`push ${foot}`} stroke={`var(--${foot})`} strokeWidth={4.5} fill="none" />
            <path data-at={`tip ${foot}`} fill={`var(--${foot})`} />
          </g>
        ))}
      </g>
      <circle data-at="cop trail" r={5.5} fill="var(--paper)" stroke="var(--trail)" strokeWidth={3} />
      <circle data-at="cop lead" r={6.5} fill="var(--lead)" stroke="var(--paper)" strokeWidth={2} />
      <circle data-at="cop both" r={5} fill="var(--both)" stroke="var(--paper)" strokeWidth={2} />
      <FeetNumbers {...props} />
      {columns.map((shown) => (
        <ColumnHead key={shown.column.id} {...shown} />
      ))}
      <g data-at="ruler">
        <path d={`M${layout.lineLeft} 0H${layout.lineRight}`} stroke="var(--paper)" strokeWidth={5} opacity={0.7} />
        <path d={`M${layout.lineLeft} 0H${layout.lineRight}`} stroke="var(--ink)" strokeWidth={2.5} />
        {layout.eventNames > 0 ? (
          <text data-at="time" x={layout.lineLeft + 8} y={-7} className="note strong" />
        ) : (
          <text data-at="time" x={layout.lineRight + 24} y={-13} className="note strong end" />
        )}
      </g>
    </svg>
  );
}

function FeetNumbers({ model, layout, scale }: RulerOverlayProps): ReactElement {
  const bottom = layout.plan.y + layout.plan.height;
  return (
    <>
      {model.feet.map(({ foot }) => {
        const sole = model.plan.soles.find((candidate) => candidate.foot === foot);
        if (sole === undefined) return null;
        const x = middleX(sole.outline, scale);
        return (
          <g key={foot} style={{ fill: `var(--${foot})` }}>
            <text x={x} y={bottom - 28} className="foot-number" style={{ fill: "inherit" }}>
              <tspan data-at={`share ${foot}`} />
              <tspan className="foot-percent" dy={-16} data-at={`unit ${foot}`} />
            </text>
            <text x={x} y={bottom - 9} className="foot-word" style={{ fill: "inherit" }}>
              under {foot}
            </text>
          </g>
        );
      })}
    </>
  );
}

/** Letters of 14 px bold that fit into a pixel of width. */
const HEAD_LETTER_PX = 7.6;

function ColumnHead({ column, box }: ShownColumn): ReactElement {
  const lines = brokenInTwo(column.title, Math.floor((box.width + 22) / HEAD_LETTER_PX));
  const ink = inkOf(column.token);
  return (
    <g>
      {lines.map((line, k) => (
        <text
          key={line}
          x={box.x}
          y={box.y - 52 - 16 * (lines.length - 1 - k)}
          className="head-title"
          style={{ fill: ink }}
        >
          {line}
        </text>
      ))}
      <text x={box.x} y={box.y - 27}>
        <tspan data-at={`value ${column.id}`} className="head-value" style={{ fill: ink }} />
        <tspan dx={5} className="head-unit">
          {column.unit}
        </tspan>
      </text>
    </g>
  );
}

function paintAt(svg: SVGSVGElement, { model, scale, ruler }: RulerOverlayProps): void {
  const part = (name: string): Element | null => svg.querySelector(`[data-at="${name}"]`);
  const values = rulerValues(model, 1000 * (ruler.timeS() - model.time.zero.zeroS));
  part("ruler")?.setAttribute("transform", `translate(0 ${scale.yTime(values.timeMs).toFixed(1)})`);
  setText(part("time"), values.timeText);
  for (const { id, text } of values.columns) setText(part(`value ${id}`), text.number);
  for (const foot of values.feet) paintFoot(part, foot, model, scale);
  placeDot(part("cop both"), values.cop, scale);
}

type Part = (name: string) => Element | null;

function paintFoot(part: Part, foot: RulerFoot, model: SheetModel, scale: SheetScale): void {
  setText(part(`share ${foot.foot}`), foot.share.number);
  setText(part(`unit ${foot.foot}`), foot.share.unit);
  placeDot(part(`cop ${foot.foot}`), foot.cop, scale);
  const shapes = footArrow(foot, model, scale);
  for (const name of ["slope", "push", "tip"] as const) part(`${name} ${foot.foot}`)?.setAttribute("d", shapes[name]);
}

function setText(part: Element | null, text: string): void {
  if (part !== null && part.textContent !== text) part.textContent = text;
}

function placeDot(part: Element | null, at: RulerFoot["cop"], scale: SheetScale): void {
  if (part === null) return;
  part.setAttribute("visibility", at === undefined ? "hidden" : "visible");
  if (at === undefined) return;
  part.setAttribute("cx", scale.xTarget(at.targetM).toFixed(1));
  part.setAttribute("cy", scale.yAhead(at.aheadM).toFixed(1));
}

const NOTHING = { slope: "", push: "", tip: "" };
/** Shorter arrows than this say nothing. */
const SHORTEST_ARROW_PX = 5;

/** A hachured stub for the slope's part, then the solid arrow of what the player adds, which may point back. */
function footArrow(foot: RulerFoot, model: SheetModel, scale: SheetScale): typeof NOTHING {
  if (foot.cop === undefined) return NOTHING;
  const pxPerN = scale.pxPerM / model.plan.arrowNPerM;
  const down = model.plan.isAheadDown ? 1 : -1;
  const x = scale.xTarget(foot.cop.targetM);
  const y = scale.yAhead(foot.cop.aheadM);
  const [sx, sy] = [foot.slope.targetN * pxPerN, foot.slope.aheadN * pxPerN * down];
  const [px, py] = [foot.player.targetN * pxPerN, foot.player.aheadN * pxPerN * down];
  const slopeLength = Math.hypot(sx, sy);
  const slope = slopeLength < 1 ? "" : stub([x, y], [sx, sy], slopeLength);
  const length = Math.hypot(px, py);
  if (!(length >= SHORTEST_ARROW_PX)) return { ...NOTHING, slope };
  const [ux, uy] = [px / length, py / length];
  const [bx, by] = [x + sx, y + sy];
  const [ex, ey] = [bx + px, by + py];
  const tipLength = Math.min(12, length);
  const [hx, hy] = [ex - ux * tipLength, ey - uy * tipLength];
  return {
    slope,
    push: `M${bx.toFixed(1)} ${by.toFixed(1)}L${hx.toFixed(1)} ${hy.toFixed(1)}`,
    tip: `M${ex.toFixed(1)} ${ey.toFixed(1)}L${(hx - 7 * uy).toFixed(1)} ${(hy + 7 * ux).toFixed(1)}L${(hx + 7 * uy).toFixed(1)} ${(hy - 7 * ux).toFixed(1)}Z`,
  };
}

function stub([x, y]: readonly [number, number], [sx, sy]: readonly [number, number], length: number): string {
  const [nx, ny] = [(-6 * sy) / length, (6 * sx) / length];
  const corners = [
    [x + nx, y + ny],
    [x + sx + nx, y + sy + ny],
    [x + sx - nx, y + sy - ny],
    [x - nx, y - ny],
  ];
  return `M${corners.map((corner) => corner.map((value) => value.toFixed(1)).join(" ")).join("L")}Z`;
}
