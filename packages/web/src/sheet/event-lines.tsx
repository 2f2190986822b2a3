import type { SheetEvent } from "@underfoot/report";
import type { ReactElement } from "react";
import { EventGlyph } from "./event-glyph.tsx";
import { spreadApart } from "./placed-notes.ts";
import type { SheetLayout } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface EventLinesProps {
  readonly events: readonly SheetEvent[];
  /** What a marked event was before the mark: "was −70, est.". */
  readonly was: Readonly<Partial<Record<SheetEvent["event"], string>>>;
  readonly layout: SheetLayout;
  readonly scale: SheetScale;
}

/** Names need this much height each, with the line of their source. */
const NAME_PX = 33;
const NAME_AND_WAS_PX = 46;

/** One line across everything for each event: solid where marked or from a signal, dotted with its band where estimated. */
export function EventLines({ events, was, layout, scale }: EventLinesProps): ReactElement {
  const shown = events.filter((event) => event.isInWindow && event.event !== "address");
  const lines = shown.map((event) => <EventLine key={event.event} event={event} layout={layout} scale={scale} />);
  if (layout.eventNames === 0) {
    return (
      <g>
        {lines}
        <NamesOnLines events={shown} was={was} layout={layout} scale={scale} />
      </g>
    );
  }
  const heights = spreadApart(
    shown.map((event) => scale.yTime(event.timeMs)),
    Object.keys(was).length > 0 ? NAME_AND_WAS_PX : NAME_PX,
    layout.fallBottom - 4,
  );
  return (
    <g>
      {lines}
      {shown.map((event, k) => {
        const at = heights[k] ?? 0;
        const lineY = scale.yTime(event.timeMs);
        const right = layout.lineLeft - 28;
        return (
          <g key={event.event}>
            <path
              d={`M${layout.lineLeft - 6} ${lineY}L${layout.lineLeft - 10} ${at}`}
              stroke="var(--ink-3)"
              fill="none"
            />
            <EventGlyph event={event.event} x={layout.lineLeft - 18} y={at} isFirm={!event.isEstimated} />
            <text x={right} y={at - 1} className="event-name end">
              {event.label}
            </text>
            <text x={right} y={at + 13} className="event-source end">
              {event.detailText}
            </text>
            {was[event.event] === undefined ? null : (
              <text x={right} y={at + 26} className="event-source end">
                {was[event.event]}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

interface EventLineProps extends Omit<EventLinesProps, "events" | "was"> {
  readonly event: SheetEvent;
}

function EventLine({ event, layout, scale }: EventLineProps): ReactElement {
  const y = scale.yTime(event.timeMs);
  const bandTop = Math.max(layout.fallTop - 6, scale.yTime(event.bandFromMs));
  const bandBottom = Math.min(layout.fallBottom, scale.yTime(event.bandToMs));
  const left = layout.eventNames > 0 ? layout.lineLeft - 6 : layout.lineLeft;
  return (
    <g data-event={event.event}>
      {event.isEstimated ? (
        <rect
          x={layout.lineLeft}
          y={bandTop}
          width={layout.lineRight - layout.lineLeft}
          height={Math.max(0, bandBottom - bandTop)}
          fill="var(--ink)"
          opacity={0.05}
        />
      ) : null}
      <path
        d={`M${left} ${y}H${layout.lineRight}`}
        stroke={event.event === "impact" ? "var(--ink)" : "var(--ink-3)"}
        strokeWidth={event.event === "impact" ? 1.6 : 1}
        strokeDasharray={event.isEstimated ? "2 4" : undefined}
      />
    </g>
  );
}

/** Where there is no room beside the plan: names above their lines, impact below its own. */
function NamesOnLines({ events, was, scale }: EventLinesProps): ReactElement {
  const heights = spreadApart(
    events.map((event) => scale.yTime(event.timeMs) - (event.event === "impact" ? -11 : 10)),
    19,
    Number.POSITIVE_INFINITY,
  );
  return (
    <g>
      {events.map((event, k) => {
        const at = heights[k] ?? 0;
        return (
          <g key={event.event}>
            <EventGlyph event={event.event} x={10} y={at} isFirm={!event.isEstimated} />
            <text x={22} y={at + 5} className="event-name">
              {event.label} {event.event === "impact" ? "" : event.timeText}
            </text>
            {was[event.event] === undefined ? null : (
              <text x={22} y={at + 18} className="event-source">
                {was[event.event]}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}
