import type { ShotFacts } from "@underfoot/domain";
import type { Shot } from "@underfoot/mechanics";
import { inNewtons, lieText } from "@underfoot/report";
import type { ReactElement } from "react";
import { FileButton } from "./drop-zone.tsx";
import { IconMark } from "./icon-mark.tsx";
import { LieGlyph } from "./lie-glyph.tsx";
import type { Place } from "./place.ts";
import { ScreenLinks } from "./screen-links.tsx";
import type { Theme } from "./theme.ts";

export interface ContextLineProps {
  readonly place: Place;
  readonly shown: { readonly shot: Shot; readonly facts: ShotFacts } | undefined;
  readonly theme: Theme;
  readonly onTheme: () => void;
  readonly onKeys?: () => void;
  readonly onFiles?: (files: readonly File[]) => void;
}

/** Who, with which club, on which lie; then what belongs to the page as a whole. */
export function ContextLine({ place, shown, theme, onTheme, onKeys, onFiles }: ContextLineProps): ReactElement {
  return (
    <header className="ctx">
      <span className="mark">
        <IconMark />
        Underfoot
      </span>
      {shown === undefined ? null : <Context {...shown} />}
      <ScreenLinks place={place} />
      <div className="page-tools">
        {onFiles === undefined ? null : <FileButton onFiles={onFiles} />}
        <button type="button" className="btn" onClick={onTheme}>
          Theme: {theme} <kbd className="key">D</kbd>
        </button>
        {onKeys === undefined ? null : (
          <button type="button" className="btn" onClick={onKeys} aria-label="Keys on this page">
            Keys <kbd className="key">?</kbd>
          </button>
        )}
      </div>
    </header>
  );
}

function Context({ shot, facts }: { readonly shot: Shot; readonly facts: ShotFacts }): ReactElement {
  return (
    <div className="who">
      <span>
        <b>{facts.player ?? "Player not named"}</b> {shot.handed}-handed,{" "}
        {inNewtons(shot.weightN, shot.weightSigmaN).text}
      </span>
      {facts.club === undefined ? null : (
        <span className="opt">
          <b>{facts.club}</b>
        </span>
      )}
      <span className="lie">
        <LieGlyph pitchDeg={shot.lie.pitchDeg} />
        <b>{lieText(shot.lie, shot.isLieKnown)}</b>
      </span>
    </div>
  );
}
