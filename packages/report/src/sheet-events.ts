import type { EventName, EventSource } from "@underfoot/domain";
import type { Shot } from "@underfoot/mechanics";
import { EVENT_LABELS, type EventGlyph, eventSourceText } from "./event-text.ts";
import { inMilliseconds } from "./numbers.ts";
import { eventOf, msFromS, type TimeZero, timeZero } from "./shot-time.ts";

/** The sheet begins this long before start and ends this long after finish, ms. */
const MARGIN_MS = 150;
/** Around impact, where start or finish is missing, ms. Ours: a short-game swing with room. */
const WITHOUT_START_MS = -1500;
const WITHOUT_FINISH_MS = 1000;

/** The time the sheet shows. All times of the sheet are ms from the zero. */
export interface SheetTime {
  readonly zero: TimeZero;
  readonly startMs: number;
  readonly endMs: number;
  /** "ms from impact", "ms from impact, estimated" or "ms from the first sample". */
  readonly zeroText: string;
}

/** An event line of the sheet. */
export interface SheetEvent {
  readonly event: EventName;
  readonly label: string;
  readonly glyph: EventGlyph;
  readonly timeMs: number;
  /** "−62 ms". */
  readonly timeText: string;
  readonly source: EventSource;
  /** "marked ±4". */
  readonly sourceText: string;
  /** "−62 ms, marked ±4". */
  readonly detailText: string;
  readonly sigmaMs: number;
  /** Estimated events are grey and dotted, with a pale band of one sigma. */
  readonly isEstimated: boolean;
  readonly bandFromMs: number;
  readonly bandToMs: number;
  readonly isInWindow: boolean;
}

/** Time shown: 150 ms before start to 150 ms after finish, inside the recording, unless the caller wants another. */
export function sheetTime(shot: Shot, wanted: { readonly startMs?: number; readonly endMs?: number } = {}): SheetTime {
  const zero = timeZero(shot);
  const firstMs = msFromS(zero, 0);
  const lastMs = msFromS(zero, (shot.sampleCount - 1) / shot.rateHz);
  const start = eventOf(shot, "start");
  const finish = eventOf(shot, "finish");
  const hasImpact = zero.kind === "impact";
  const startMs = start ? msFromS(zero, start.timeS) - MARGIN_MS : hasImpact ? WITHOUT_START_MS : firstMs;
  const endMs = finish ? msFromS(zero, finish.timeS) + MARGIN_MS : hasImpact ? WITHOUT_FINISH_MS : lastMs;
  return {
    zero,
    startMs: Math.max(firstMs, wanted.startMs ?? startMs),
    endMs: Math.min(lastMs, wanted.endMs ?? endMs),
    zeroText: hasImpact
      ? zero.isEstimated
        ? "ms from impact, estimated"
        : "ms from impact"
      : "ms from the first sample",
  };
}

/** The events of a shot as lines of the sheet, in order of time; address is the middle of its quiet window. */
export function sheetEvents(shot: Shot, time: SheetTime): readonly SheetEvent[] {
  return shot.events.map((event) => {
    const timeMs = msFromS(time.zero, event.timeS);
    const timeText = inMilliseconds(timeMs).text;
    const sourceText = eventSourceText(event);
    return {
      event: event.event,
      ...EVENT_LABELS[event.event],
      timeMs,
      timeText,
      source: event.source,
      sourceText,
      detailText: event.event === "address" ? `${timeText}, middle of the quiet stance` : `${timeText}, ${sourceText}`,
      sigmaMs: event.sigmaMs,
      isEstimated: event.source === "estimated",
      bandFromMs: timeMs - event.sigmaMs,
      bandToMs: timeMs + event.sigmaMs,
      isInWindow: timeMs >= time.startMs && timeMs <= time.endMs,
    };
  });
}
