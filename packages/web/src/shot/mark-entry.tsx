import { EVENT_NAMES, type EventName } from "@underfoot/domain";
import { EVENT_LABELS, rulerValues, type SheetModel } from "@underfoot/report";
import { type ReactElement, useEffect, useRef, useState } from "react";
import type { Ruler } from "./ruler.ts";
import type { Mark } from "./source.ts";

export interface MarkEntryProps {
  readonly model: SheetModel;
  readonly ruler: Ruler;
  readonly onMark: (mark: Mark) => void;
  readonly onCancel: () => void;
}

/** Half a frame of a 120 Hz video: what a mark set by eye is usually good to, ms (common practice, no source). */
const MARK_SD_MS = 4;

/** Events a person can see and set. Address is a window and follows from the quiet stance. */
const MARKABLE = EVENT_NAMES.filter((event) => event !== "address");

/** Marks an event at the ruler: choose which, step the ruler to it, press Enter. */
export function MarkEntry({ model, ruler, onMark, onCancel }: MarkEntryProps): ReactElement {
  const [event, setEvent] = useState<EventName>(() => nearestEvent(model, ruler));
  const [sdMs, setSdMs] = useState(MARK_SD_MS);
  const button = useRef<HTMLButtonElement>(null);
  const time = useRef<HTMLSpanElement>(null);
  useEffect(() => button.current?.focus(), []);
  useEffect(() => {
    const paint = (): void => {
      if (time.current)
        time.current.textContent = rulerValues(model, 1000 * (ruler.timeS() - model.time.zero.zeroS)).timeText;
    };
    paint();
    return ruler.follow(paint);
  }, [model, ruler]);
  return (
    <form
      className="mark-entry"
      aria-label="Mark an event at the ruler"
      onSubmit={(submit) => {
        submit.preventDefault();
        onMark({ event, timeS: ruler.timeS(), sdMs });
      }}
      onKeyDown={(press) => {
        if (press.key === "Escape") onCancel();
      }}
    >
      <label className="field">
        <span>Event</span>
        <select value={event} onChange={(change) => setEvent(change.target.value as EventName)}>
          {MARKABLE.map((name) => (
            <option key={name} value={name}>
              {EVENT_LABELS[name].label}
            </option>
          ))}
        </select>
      </label>
      <label className="field">
        <span>Good to ± ms</span>
        <input
          type="number"
          min={0.5}
          max={200}
          step={0.5}
          required
          value={Number.isNaN(sdMs) ? "" : sdMs}
          onChange={(change) => setSdMs(change.target.valueAsNumber)}
        />
      </label>
      <button ref={button} type="submit" className="btn main">
        Mark {EVENT_LABELS[event].label} at <span ref={time} /> <kbd className="key">Enter</kbd>
      </button>
      <button type="button" className="btn" onClick={onCancel}>
        Cancel <kbd className="key">Esc</kbd>
      </button>
    </form>
  );
}

/** The event whose line is nearest to the ruler: most often the one a person wants to correct. */
function nearestEvent(model: SheetModel, ruler: Ruler): EventName {
  const atMs = 1000 * (ruler.timeS() - model.time.zero.zeroS);
  const [nearest] = model.events
    .filter(({ event }) => event !== "address")
    .sort((a, b) => Math.abs(a.timeMs - atMs) - Math.abs(b.timeMs - atMs));
  return nearest?.event ?? "impact";
}
