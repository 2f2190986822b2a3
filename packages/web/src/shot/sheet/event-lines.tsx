import type { SheetEvent } from "@underfoot/report";
import type { ReactElement } from "react";
import { EventGlyph } from "./event-glyph.tsx";
import { type Area, spreadApart } from "./placed-notes.ts";
import type { SheetLayout } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface EventLinesProps {
  readonly events: readonly SheetEvent[];
  /** What a marked event was before the mark, in short lines: "was −70 ms", "est. ±30". */
  readonly was: Readonly<Partial<Record<SheetEvent["event"], readonly string[]>>>;
  readonly layout: SheetLayout;
  readonly scale: SheetScale;
}

/** A line of small text under an event's name, px. */
const SMALL_LINE_PX = 13;
const NAME_PX = 18;

/** One line across everything for each event: solid where marked or from a signal, dotted with its band where estimated. */
export function EventLines({ events, was, layout, scale }: EventLinesProps): ReactElement {
  const shown = events.filter((event) => event.isInWindow && event.event !== "address");
  const lines = shown.map((event) => <EventLine key={event.event} event={event} layout={layout} scale={scale} />);
  if (layout.eventNames === 0) {
    return (
      <g>
        {lines}
        <NamesOnLines events={shown} was={was} scale={scale} />
      </g>
    );
  }
  const words = shown.map((event) => [event.timeText, event.sourceText, ...(was[event.event] ?? [])]);
  const heights = spreadApart(
    shown.map((event) => scale.yTime(event.timeMs)),
    words.map((lines) => NAME_PX + SMALL_LINE_PX * lines.length),
    layout.fallBottom - 30,
  );
  return (
    <g>
      {lines}
      {shown.map((event, k) => {
        const at = heights[k] ?? 0;
        const lineY = scale.yTime(event.timeMs);
        const right = layout.lineLeft - 30;
        return (
          <g key={event.event} data-name={event.event}>
            <path
              d={`M${layout.lineLeft - 6} ${lineY}L${layout.lineLeft - 11} ${at}`}
              stroke="var(--ink-3)"
              fill="none"
            />
            <EventGlyph event={event.event} x={layout.lineLeft - 19} y={at} isFirm={!event.isEstimated} />
            <text x={right} y={at + 4} className="event-name end">
              {event.label}
            </text>
            {words[k]?.map((line, n) => (
              <text key={line} x={right} y={at + 4 + SMALL_LINE_PX * (n + 1)} className="event-source end">
                {line}
              </text>
            ))}
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

/** A name that stands on its line, where there is no room beside the plan. */
interface NameOnLine {
  readonly event: SheetEvent;
  readonly text: string;
  readonly was: string | undefined;
  readonly y: number;
}

/** Names above their lines, impact below its own, pushed apart where lines are close. */
function namesOnLines({ events, was, scale }: Omit<EventLinesProps, "layout">): readonly NameOnLine[] {
  const shown = events.filter((event) => event.isInWindow && event.event !== "address");
  const heights = spreadApart(
    shown.map((event) => scale.yTime(event.timeMs) - (event.event === "impact" ? -11 : 10)),
    shown.map((event) => (was[event.event] === undefined ? 19 : 32)),
    Number.POSITIVE_INFINITY,
  );
  return shown.map((event, k) => ({
    event,
    text: event.event === "impact" ? event.label : `${event.label} ${event.timeText}`,
    was: was[event.event]?.join(", "),
    y: heights[k] ?? 0,
  }));
}

/** Mean width of a letter of an event's name, px. */
const NAME_LETTER_PX = 7.8;

/** Room that names on their lines take. */
export function nameAreas(props: EventLinesProps): readonly Area[] {
  if (props.layout.eventNames > 0) return [];
  return namesOnLines(props).map(({ text, was, y }) => ({
    left: 0,
    right: 24 + NAME_LETTER_PX * Math.max(text.length, was?.length ?? 0),
    top: y - 10,
    bottom: y + (was === undefined ? 8 : 21),
  }));
}

function NamesOnLines(props: Omit<EventLinesProps, "layout">): ReactElement {
  return (
    <g>
      {namesOnLines(props).map(({ event, text, was, y }) => (
        <g key={event.event} data-name={event.event}>
          <EventGlyph event={event.event} x={10} y={y} isFirm={!event.isEstimated} />
          <text x={22} y={y + 5} className="event-name">
            {text}
          </text>
          {was === undefined ? null : (
            <text x={22} y={y + 18} className="event-source">
              {was}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}
