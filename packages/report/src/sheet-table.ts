import type { EventName, PlayerAxes } from "@underfoot/domain";
import type { Measure, Shot } from "@underfoot/mechanics";
import { columnEventId, columnKind, measureInColumn } from "./column-kinds.ts";
import { measureOf } from "./measure-of.ts";
import type { Stretch } from "./motion-words.ts";
import { inPercent, type NumberText } from "./numbers.ts";
import type { SheetColumn } from "./sheet-columns.ts";
import type { SheetEvent, SheetTime } from "./sheet-events.ts";
import { sampleAt, sFromMs } from "./shot-time.ts";

/** A value at an event; `why` where there is none. */
export interface SheetCell {
  readonly event: EventName;
  readonly value: NumberText;
  readonly why?: string;
}

/** The sheet as a table: what the pictures show, at the events, with units and uncertainty. */
export interface SheetTable {
  readonly caption: string;
  readonly heads: readonly { readonly event: EventName; readonly label: string; readonly detailText: string }[];
  readonly rows: readonly { readonly title: string; readonly unit: string; readonly cells: readonly SheetCell[] }[];
}

export interface TableInput {
  readonly shot: Shot;
  readonly measures: readonly Measure[];
  readonly axes: PlayerAxes;
  readonly time: SheetTime;
  readonly window: Stretch;
  readonly events: readonly SheetEvent[];
}

export function sheetTable(input: TableInput, columns: readonly SheetColumn[]): SheetTable {
  const heads = input.events.map(({ event, label, detailText }) => ({ event, label, detailText }));
  const shareRow = {
    title: "Lead share",
    unit: "%",
    cells: input.events.map((event) => shareCell(input, event)),
  };
  const rows = columns
    .filter((column) => column.id !== "leadShare")
    .map((column) => ({
      title: column.title,
      unit: column.unit,
      cells: input.events.map((event) => columnCell(input, column, event)),
    }));
  return {
    caption: `Values at the events, ${input.axes} axes, each with one standard deviation`,
    heads,
    rows: [shareRow, ...rows],
  };
}

function shareCell({ shot, measures, axes, time }: TableInput, { event, timeMs }: SheetEvent): SheetCell {
  const measure = measureOf(measures, `lead.share.at.${event}`, axes);
  if (measure?.isValid) return { event, value: inPercent(measure.value, measure.sigma) };
  if (measure !== undefined) return { event, value: inPercent(Number.NaN), why: measure.why ?? "not valid" };
  return { event, value: inPercent(100 * (shot.leadShare[sampleAt(shot, sFromMs(time.zero, timeMs))] ?? Number.NaN)) };
}

/** The catalogue's measure where it has one, with its uncertainty; else the curve's own value. */
function columnCell(input: TableInput, column: SheetColumn, { event, timeMs }: SheetEvent): SheetCell {
  const { shot, measures, axes, time, window } = input;
  const kind = columnKind(column.id);
  const id = columnEventId(kind, event);
  const measure = id === undefined ? undefined : measureOf(measures, id, axes);
  if (measure?.isValid) {
    const { value, sigma } = measureInColumn(kind, shot, measure);
    return { event, value: kind.write(value, sigma) };
  }
  const k = sampleAt(shot, sFromMs(time.zero, timeMs)) - window.first;
  const value = kind.write(column.values[k] ?? Number.NaN, column.sigmas?.[k]);
  return measure?.why === undefined ? { event, value } : { event, value: kind.write(Number.NaN), why: measure.why };
}
