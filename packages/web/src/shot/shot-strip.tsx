import type { ShotLineShape } from "@underfoot/protocol";
import { dayText, lieNameText } from "@underfoot/report";
import type { ReactElement } from "react";
import type { Source } from "./source.ts";

/** One shot of the strip. */
export interface StripShot {
  readonly id: string;
  /** As it stands on the strip. */
  readonly number: string;
  readonly words: string;
  readonly mark: "kept" | "mishit" | "aside" | "file";
}

const MARKS = { kept: "kept", mishit: "mishit", "set-aside": "aside" } as const;

/** "Shot 3, low, upslope 4.9°, wedge 58", with player and day where the list has several. */
export function stripFromLines(lines: readonly ShotLineShape[]): readonly StripShot[] {
  const isOneSession = lines.every(({ sessionId }) => sessionId === lines[0]?.sessionId);
  return lines.map((line) => {
    const { ordinal, label, fileName } = line;
    const number = ordinal > 0 ? String(ordinal) : "–";
    const said = [line.intent, lieNameText(line), line.club].filter((part) => part !== undefined);
    const parts = [
      ...(isOneSession ? [] : [line.playerCode, dayText(line.day)]),
      ordinal > 0 ? `shot ${ordinal}` : undefined,
      ...(said.length === 0 ? [fileName] : said),
      label === "mishit" ? "mishit" : undefined,
      label === "set-aside" ? "set aside" : undefined,
    ].filter((part) => part !== undefined);
    const words = parts.join(", ");
    return { id: line.id, number, words: `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}`, mark: MARKS[label] };
  });
}

/** Files that are only looked at stand behind the shots, each with a plus. */
export const stripFromFiles = (files: readonly Source[]): readonly StripShot[] =>
  files.map(({ id, file }, k) => ({ id, number: `+${k + 1}`, words: `+${k + 1} ${file}, not stored`, mark: "file" }));

export interface ShotStripProps {
  readonly shots: readonly StripShot[];
  readonly openId: string | undefined;
  readonly onOpen: (id: string) => void;
}

/** Shots beside the open one that the strip shows. */
const BESIDE = 3;

/** Previous and next shot, the neighbours by number, and the whole list. */
export function ShotStrip({ shots, openId, onOpen }: ShotStripProps): ReactElement | null {
  const at = shots.findIndex(({ id }) => id === openId);
  if (at < 0 || shots.length < 2) return null;
  const first = Math.max(0, Math.min(at - BESIDE, shots.length - 2 * BESIDE - 1));
  const shown = shots.slice(first, first + 2 * BESIDE + 1);
  const step = (by: 1 | -1): void => {
    const next = shots[at + by];
    if (next) onOpen(next.id);
  };
  return (
    <nav className="strip" aria-label="Shots of this list">
      <button type="button" aria-label="Previous shot" disabled={at === 0} onClick={() => step(-1)}>
        <svg width="10" height="16" viewBox="0 0 10 16" aria-hidden="true">
          <path d="M8 1L2 8l6 7" fill="none" stroke="currentColor" strokeWidth="2.5" />
        </svg>
      </button>
      {shown.map((shot, k) => {
        const from = first + k - at;
        return (
          <button
            key={shot.id}
            type="button"
            className={`shot${from === 0 ? " now" : ""}${Math.abs(from) > 1 ? " far" : ""}`}
            aria-current={from === 0 ? "true" : undefined}
            aria-label={shot.words}
            title={shot.words}
            onClick={() => onOpen(shot.id)}
          >
            <span aria-hidden="true">{shot.number}</span>
            <i aria-hidden="true" className={shot.mark} />
          </button>
        );
      })}
      <button type="button" aria-label="Next shot" disabled={at === shots.length - 1} onClick={() => step(1)}>
        <svg width="10" height="16" viewBox="0 0 10 16" aria-hidden="true">
          <path d="M2 1l6 7l-6 7" fill="none" stroke="currentColor" strokeWidth="2.5" />
        </svg>
      </button>
      <select aria-label="All shots of this list" value={openId} onChange={(event) => onOpen(event.target.value)}>
        {shots.map(({ id, words }) => (
          <option key={id} value={id}>
            {words}
          </option>
        ))}
      </select>
    </nav>
  );
}
