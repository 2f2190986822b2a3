import type { ReactElement } from "react";
import type { Source } from "./session.ts";

export interface ShotStripProps {
  readonly sources: readonly Source[];
  readonly openId: string | undefined;
  readonly onOpen: (id: string) => void;
}

/** Shots beside the open one that the strip shows. */
const BESIDE = 3;

/** Previous and next shot, the neighbours by number, and the whole list. */
export function ShotStrip({ sources, openId, onOpen }: ShotStripProps): ReactElement | null {
  const at = sources.findIndex((source) => source.id === openId);
  if (at < 0) return null;
  const first = Math.max(0, Math.min(at - BESIDE, sources.length - 2 * BESIDE - 1));
  const shown = sources.slice(first, first + 2 * BESIDE + 1);
  const step = (by: 1 | -1): void => {
    const next = sources[at + by];
    if (next) onOpen(next.id);
  };
  return (
    <nav className="strip" aria-label="Shots">
      <button type="button" aria-label="Previous shot" disabled={at === 0} onClick={() => step(-1)}>
        <svg width="10" height="16" viewBox="0 0 10 16" aria-hidden="true">
          <path d="M8 1L2 8l6 7" fill="none" stroke="currentColor" strokeWidth="2.5" />
        </svg>
      </button>
      {shown.map((source, k) => {
        const number = first + k + 1;
        return (
          <button
            key={source.id}
            type="button"
            className={`shot${number - 1 === at ? " now" : ""}${Math.abs(number - 1 - at) > 1 ? " far" : ""}`}
            aria-current={number - 1 === at ? "true" : undefined}
            aria-label={sourceWords(source, number)}
            title={sourceWords(source, number)}
            onClick={() => onOpen(source.id)}
          >
            <span aria-hidden="true">{number}</span>
            <i aria-hidden="true" className={source.keep === "set-aside" ? "aside" : "kept"} />
          </button>
        );
      })}
      <button type="button" aria-label="Next shot" disabled={at === sources.length - 1} onClick={() => step(1)}>
        <svg width="10" height="16" viewBox="0 0 10 16" aria-hidden="true">
          <path d="M2 1l6 7l-6 7" fill="none" stroke="currentColor" strokeWidth="2.5" />
        </svg>
      </button>
      <select aria-label="All shots" value={openId} onChange={(event) => onOpen(event.target.value)}>
        {sources.map((source, k) => (
          <option key={source.id} value={source.id}>
            {sourceWords(source, k + 1)}
          </option>
        ))}
      </select>
    </nav>
  );
}

/** "Shot 3, low, upslope 5, 58° wedge" or the name of the file where nobody said more. */
function sourceWords(source: Source, number: number): string {
  const parts = [
    source.player,
    source.intent,
    source.lie,
    source.club,
    source.keep === "set-aside" ? "set aside" : undefined,
  ];
  const said = parts.filter((part) => part !== undefined);
  return [`Shot ${number}`, ...(said.length > 0 ? said : [source.file])].join(", ");
}
