import { type ReactElement, useEffect, useId, useMemo } from "react";
import { useWidth } from "../../frame/use-size.ts";
import type { Ruler } from "../../shot/ruler.ts";
import { EventGlyph } from "../../shot/sheet/event-glyph.tsx";
import { brokenInTwo, spreadApart } from "../../shot/sheet/placed-notes.ts";
import { FallingPair } from "./falling-pair.tsx";
import { type PairCurve, type PairEvent, type PairGrid, pointAt } from "./pair-curves.ts";
import { type PairLayout, pairLayout, pairRoom } from "./pair-layout.ts";
import { PairNotes } from "./pair-notes.tsx";
import { PairRuler, PairRulerHandle, PairSurface, rulerTimeS } from "./pair-ruler.tsx";

export interface PairsPictureProps {
  readonly curves: readonly PairCurve[];
  readonly events: readonly PairEvent[];
  readonly grid: PairGrid;
  readonly ruler: Ruler;
  /** How A and B minus A are to be read, in one line. */
  readonly caption: string;
  /** The sentence of the comparison, for those who do not see the picture. */
  readonly sentence: string;
}

/** Falling pairs under one set of event lines and one ruler. */
export function PairsPicture({ curves, events, grid, ruler, caption, sentence }: PairsPictureProps): ReactElement {
  const title = useId();
  const [frame, width] = useWidth();
  const shown = useMemo(() => curves.slice(0, pairRoom(width)), [curves, width]);
  const layout = useMemo(() => pairLayout(width, shown.length), [width, shown.length]);
  const yPoint = useMemo(() => {
    const pxPerPoint = (layout.fallBottom - layout.fallTop) / Math.max(1, grid.countPoints - 1);
    return (point: number): number => layout.fallTop + point * pxPerPoint;
  }, [layout, grid]);
  useEffect(() => {
    const isFirst = ruler.limits().lastS === 0;
    ruler.bound({ firstS: 0, lastS: ((grid.countPoints - 1) * grid.stepMs) / 1000, frameS: grid.stepMs / 1000 });
    if (isFirst) ruler.move(rulerTimeS(0, grid));
  }, [ruler, grid]);
  const parts = { curves: shown, events, grid, layout, yPoint, ruler };
  return (
    <figure className="pairs" aria-labelledby={title}>
      <h2 id={title}>Over the whole shot</h2>
      <p className="caption">{caption}</p>
      <div ref={frame}>
        {width === 0 ? null : (
          <PairSurface grid={grid} layout={layout} ruler={ruler}>
            <svg
              className="picture"
              width={layout.width}
              height={layout.height}
              role="img"
              aria-label={`Curves of A and B, and B minus A. ${sentence}`}
            >
              {shown.map((curve, k) => {
                const boxes = layout.pairs[k];
                return boxes === undefined ? null : (
                  <g key={curve.column}>
                    <PairHead curve={curve} boxes={boxes} layout={layout} />
                    <FallingPair curve={curve} boxes={boxes} layout={layout} yPoint={yPoint} />
                  </g>
                );
              })}
              <EventLines {...parts} />
              <PairNotes {...parts} />
            </svg>
            <PairRuler {...parts} />
            <PairRulerHandle {...parts} />
          </PairSurface>
        )}
      </div>
    </figure>
  );
}

/** Letters of 14 px bold that fit into a pixel of width. */
const TITLE_LETTER_PX = 7.6;

function PairHead({
  curve,
  boxes,
  layout,
}: {
  readonly curve: PairCurve;
  readonly boxes: PairLayout["pairs"][number];
  readonly layout: PairLayout;
}): ReactElement {
  const { both, difference } = boxes;
  const room = difference.x + difference.width - both.x;
  const lines = brokenInTwo(curve.title, Math.floor(room / TITLE_LETTER_PX));
  const unit = curve.axes === undefined ? curve.unit : `${curve.unit}, ${curve.axes}`;
  return (
    <g>
      {lines.map((line, k) => (
        <text key={line} x={both.x} y={layout.fallTop - 85 - 16 * (lines.length - 1 - k)} className="head-title">
          {line}
        </text>
      ))}
      <text x={both.x} y={layout.fallTop - 67} className="head-unit">
        {unit}
      </text>
      <text x={difference.x} y={layout.fallTop - 67} className="head-unit">
        B minus A
      </text>
    </g>
  );
}

/** Room below an event's name, px. */
const NAME_PX = 18;

function EventLines({
  events,
  grid,
  layout,
  yPoint,
}: Omit<PairsPictureProps, "ruler" | "caption" | "sentence"> & {
  readonly layout: PairLayout;
  readonly yPoint: (point: number) => number;
}): ReactElement {
  const heights = events.map(({ ms }) => yPoint(pointAt(grid, ms)));
  const names = spreadApart(
    heights,
    events.map(() => NAME_PX),
    layout.fallBottom,
  );
  const hasGlyphs = layout.lineLeft > 70;
  return (
    <g>
      {events.map(({ event, label, isEstimated }, k) => {
        const [lineY = 0, at = 0] = [heights[k], names[k]];
        const isImpact = event === "impact";
        return (
          <g key={event} data-event={event}>
            <path
              d={`M${layout.lineLeft} ${lineY}H${layout.lineRight}`}
              stroke={isImpact ? "var(--ink)" : "var(--ink-3)"}
              strokeWidth={isImpact ? 1.6 : 1}
              strokeDasharray={isEstimated ? "2 4" : undefined}
            />
            <path d={`M${layout.lineLeft} ${lineY}L${layout.lineLeft - 4} ${at}`} stroke="var(--ink-3)" fill="none" />
            {hasGlyphs ? <EventGlyph event={event} x={8} y={at} isFirm={!isEstimated} /> : null}
            <text x={layout.lineLeft - 6} y={at + 4} className="event-name end">
              {label}
            </text>
          </g>
        );
      })}
    </g>
  );
}
