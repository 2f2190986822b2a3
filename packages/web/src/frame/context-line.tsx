import type { ShotFacts } from "@underfoot/domain";
import type { Shot } from "@underfoot/mechanics";
import { inNewtons, lieText } from "@underfoot/report";
import type { ReactElement } from "react";
import { IconMark } from "./icon-mark.tsx";
import { LieGlyph } from "./lie-glyph.tsx";
import { type Place, placeHref } from "./place.ts";
import { ScreenLinks, type ScreenLinksProps } from "./screen-links.tsx";

export interface ContextLineProps extends ScreenLinksProps {
  readonly place: Place;
  /** The shot in view; undefined on screens that show none. */
  readonly shown: { readonly shot: Shot; readonly facts: ShotFacts } | undefined;
}

/** Who, with which club, on which lie; then the way to the other screens. */
export function ContextLine({ shown, ...links }: ContextLineProps): ReactElement {
  return (
    <header className="ctx">
      <a className="mark" href={placeHref("shot")} aria-label="Underfoot: the latest shot">
        <IconMark />
        <span className="mark-word">Underfoot</span>
      </a>
      {shown === undefined ? null : <Context {...shown} />}
      <ScreenLinks {...links} />
    </header>
  );
}

function Context({ shot, facts }: { readonly shot: Shot; readonly facts: ShotFacts }): ReactElement {
  return (
    <div className="who">
      <span>
        <b>{facts.player ?? "Player not named"}</b>{" "}
        <span className="opt">
          {shot.handed}-handed, {inNewtons(shot.weightN, shot.weightSigmaN).text}
        </span>
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
