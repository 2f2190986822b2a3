import { differenceText, inMilliseconds, unitText } from "@underfoot/report";
import { type PointerEvent, type ReactElement, type ReactNode, useEffect, useRef } from "react";
import type { Ruler } from "../../shot/ruler.ts";
import { moveRulerByKey } from "../../shot/sheet/ruler-handle.tsx";
import { type PairCurve, type PairEvent, type PairGrid, pointAt, pointMs } from "./pair-curves.ts";
import type { PairLayout } from "./pair-layout.ts";

export interface PairRulerProps {
  readonly curves: readonly PairCurve[];
  readonly events: readonly PairEvent[];
  readonly grid: PairGrid;
  readonly layout: PairLayout;
  readonly yPoint: (point: number) => number;
  readonly ruler: Ruler;
}

/** The ruler counts seconds from the first point of the grid. */
export function rulerMs(ruler: Ruler, { firstMs }: PairGrid): number {
  return firstMs + 1000 * ruler.timeS();
}

export function rulerTimeS(ms: number, { firstMs }: PairGrid): number {
  return (ms - firstMs) / 1000;
}

/** What is written at the ruler for one pair. */
interface PairValues {
  readonly a: string;
  readonly b: string;
  readonly difference: string;
  readonly spoken: string;
}

function valuesAt(curve: PairCurve, point: number): PairValues {
  const { meanA, meanB, difference, unit, title, allowedLow, allowedHigh } = curve;
  const [a = Number.NaN, b = Number.NaN, d = Number.NaN] = [meanA[point], meanB[point], difference[point]];
  const half = ((allowedHigh[point] ?? Number.NaN) - (allowedLow[point] ?? Number.NaN)) / 2;
  // Without a band the digits of the unit stand.
  const resolution = Number.isFinite(half) ? half / 2 : undefined;
  const apart = differenceText(d, unit, resolution);
  const sign = d > 0 && /[1-9]/.test(apart.number) ? "+" : "";
  const [ofA, ofB] = [unitText(a, unit, resolution), unitText(b, unit, resolution)];
  return {
    a: Number.isNaN(a) ? "" : `A ${ofA.number}`,
    b: Number.isNaN(b) ? "" : `B ${ofB.number}`,
    difference: Number.isNaN(d) ? "" : `${sign}${apart.number}`,
    spoken: Number.isNaN(d) ? `${title} not known` : `${title} A ${ofA.spoken}, B ${ofB.spoken}`,
  };
}

/** Everything that follows the ruler. React draws it once; a move changes only attributes and texts in it. */
export function PairRuler(props: PairRulerProps): ReactElement {
  const { curves, grid, layout, yPoint, ruler } = props;
  const root = useRef<SVGSVGElement>(null);
  useEffect(() => {
    const svg = root.current;
    if (svg === null) return undefined;
    const paint = (): void => {
      const point = pointAt(grid, rulerMs(ruler, grid));
      const put = (name: string, text: string): void => {
        const part = svg.querySelector(`[data-at="${name}"]`);
        if (part !== null && part.textContent !== text) part.textContent = text;
      };
      svg.querySelector('[data-at="ruler"]')?.setAttribute("transform", `translate(0 ${yPoint(point).toFixed(1)})`);
      put("time", inMilliseconds(pointMs(grid, point)).text);
      curves.forEach((curve, k) => {
        const values = valuesAt(curve, point);
        put(`a ${k}`, values.a);
        put(`b ${k}`, values.b);
        put(`d ${k}`, values.difference);
      });
    };
    paint();
    return ruler.follow(paint);
  });
  return (
    <svg ref={root} className="overlay" width={layout.width} height={layout.height} aria-hidden="true">
      {layout.pairs.map(({ both, difference }, k) => (
        <g key={both.x}>
          <text x={both.x} y={layout.fallTop - 50} className="pair-value" data-at={`a ${k}`} />
          <text x={both.x} y={layout.fallTop - 33} className="pair-value" data-at={`b ${k}`} />
          <text x={difference.x} y={layout.fallTop - 33} className="pair-value" data-at={`d ${k}`} />
        </g>
      ))}
      <g data-at="ruler">
        <path d={`M${layout.lineLeft} 0H${layout.lineRight}`} stroke="var(--paper)" strokeWidth={5} opacity={0.7} />
        <path d={`M${layout.lineLeft} 0H${layout.lineRight}`} stroke="var(--ink)" strokeWidth={2.5} />
        <text data-at="time" x={layout.width} y={-13} className="note strong end" />
      </g>
    </svg>
  );
}

/** The ruler as a slider on the right edge: focus, arrows, and a thumb to drag. */
export function PairRulerHandle({ curves, events, grid, layout, yPoint, ruler }: PairRulerProps): ReactElement {
  const handle = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = handle.current;
    if (element === null) return undefined;
    const paint = (): void => {
      const point = pointAt(grid, rulerMs(ruler, grid));
      const ms = pointMs(grid, point);
      const event = events.find((one) => Math.abs(one.ms - ms) < grid.stepMs);
      element.style.transform = `translateY(${yPoint(point).toFixed(1)}px)`;
      element.setAttribute("aria-valuenow", `${Math.round(ms)}`);
      const values = curves.map((curve) => valuesAt(curve, point).spoken);
      element.setAttribute(
        "aria-valuetext",
        [inMilliseconds(ms).spoken, ...(event === undefined ? [] : [event.label]), ...values].join(", "),
      );
    };
    paint();
    return ruler.follow(paint);
  });
  return (
    <div
      ref={handle}
      className="ruler-handle"
      role="slider"
      tabIndex={0}
      aria-label="Ruler: time from impact"
      aria-orientation="vertical"
      aria-valuemin={Math.round(grid.firstMs)}
      aria-valuemax={Math.round(pointMs(grid, grid.countPoints - 1))}
      aria-valuenow={0}
      style={{ left: layout.lineRight - 20 }}
      onKeyDown={(event) => moveRulerByKey(event, ruler)}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
    >
      <svg width="16" height="20" viewBox="0 0 16 20" aria-hidden="true">
        <path d="M0 10L16 0v20Z" fill="var(--ink)" />
      </svg>
    </div>
  );
}

export interface PairSurfaceProps extends Pick<PairRulerProps, "grid" | "layout" | "ruler"> {
  readonly children: ReactNode;
}

/** Press anywhere in the falling pairs to set the ruler, drag to move it. A finger may still scroll the page there. */
export function PairSurface({ grid, layout, ruler, children }: PairSurfaceProps): ReactElement {
  const { fallTop, fallBottom, height } = layout;
  const place = (event: PointerEvent<HTMLElement>): void => {
    const y = event.clientY - event.currentTarget.getBoundingClientRect().top;
    const share = (y - fallTop) / (fallBottom - fallTop);
    ruler.move((share * (grid.countPoints - 1) * grid.stepMs) / 1000);
  };
  return (
    <div
      className="surface"
      style={{ height }}
      onPointerDown={(event) => {
        const isHandle = event.target instanceof Element && event.target.closest(".ruler-handle") !== null;
        const y = event.clientY - event.currentTarget.getBoundingClientRect().top;
        if (event.button !== 0 || (y < fallTop - 8 && !isHandle)) return;
        place(event);
        if (event.pointerType === "mouse" && !isHandle) event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={(event) => {
        if (event.target instanceof Element && event.target.hasPointerCapture(event.pointerId)) place(event);
      }}
    >
      {children}
    </div>
  );
}
