import type { ReactElement } from "react";
import type { StripShot } from "./strip-shots.ts";

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
