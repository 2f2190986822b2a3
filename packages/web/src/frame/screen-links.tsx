import { type ReactElement, type ReactNode, useEffect, useId, useRef, useState } from "react";
import { FileButton } from "./drop-zone.tsx";
import { type Place, placeHref, type Screen } from "./place.ts";
import type { Theme } from "./theme.ts";

/** `first`: on the line itself where there is room; the others behind More. */
const LINKS: readonly { readonly screen: Screen; readonly word: string; readonly isFirst: boolean }[] = [
  { screen: "shots", word: "Shots", isFirst: true },
  { screen: "compare", word: "Compare", isFirst: true },
  { screen: "board", word: "Board", isFirst: true },
  { screen: "player", word: "Player", isFirst: false },
  { screen: "study", word: "Study", isFirst: false },
  { screen: "outcome", word: "Outcome", isFirst: false },
  { screen: "plan", word: "Plan and checks", isFirst: false },
  { screen: "bring-in", word: "Bring in", isFirst: true },
  { screen: "settings", word: "Settings", isFirst: false },
];

export interface ScreenLinksProps {
  readonly place: Place;
  readonly theme: Theme;
  readonly onTheme: () => void;
  readonly onKeys: () => void;
  readonly onFiles?: (files: readonly File[]) => void;
}

/** The way from screen to screen, and what belongs to the page as a whole. */
export function ScreenLinks({ place, theme, onTheme, onKeys, onFiles }: ScreenLinksProps): ReactElement {
  const now = place.screen === "shot" ? "shots" : place.screen;
  const linkOf = ({ screen, word, isFirst }: (typeof LINKS)[number]): ReactElement => (
    <a
      key={screen}
      href={placeHref(screen)}
      className={isFirst ? "first" : undefined}
      aria-current={screen === now ? "page" : undefined}
    >
      {word}
    </a>
  );
  return (
    <nav className="screens" aria-label="Screens">
      <span className="on-line">{LINKS.filter(({ isFirst, screen }) => isFirst || screen === now).map(linkOf)}</span>
      <More key={place.screen}>
        <div className="more-links">{LINKS.map(linkOf)}</div>
        <div className="page-tools">
          {onFiles === undefined ? null : <FileButton onFiles={onFiles} />}
          <button type="button" className="btn" onClick={onTheme}>
            Theme: {theme} <kbd className="key">D</kbd>
          </button>
          <button type="button" className="btn" onClick={onKeys}>
            Keys on this page <kbd className="key">?</kbd>
          </button>
        </div>
      </More>
    </nav>
  );
}

/** Opens and closes by its button; Escape, a press elsewhere and leaving it with Tab close it. */
function More({ children }: { readonly children: ReactNode }): ReactElement {
  const [isOpen, setIsOpen] = useState(false);
  const box = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const id = useId();
  useEffect(() => {
    if (!isOpen) return undefined;
    const onAway = ({ target }: Event): void => {
      if (!(target instanceof Node && box.current?.contains(target))) setIsOpen(false);
    };
    const onKey = (press: KeyboardEvent): void => {
      if (press.key !== "Escape" || document.querySelector("dialog[open]") !== null) return;
      setIsOpen(false);
      button.current?.focus();
    };
    document.addEventListener("pointerdown", onAway);
    document.addEventListener("focusin", onAway);
    document.addEventListener("keydown", onKey);
    return () => {
      document.removeEventListener("pointerdown", onAway);
      document.removeEventListener("focusin", onAway);
      document.removeEventListener("keydown", onKey);
    };
  }, [isOpen]);
  return (
    <div ref={box} className="more">
      <button
        ref={button}
        type="button"
        className="more-button"
        aria-expanded={isOpen}
        aria-controls={id}
        onClick={() => setIsOpen(!isOpen)}
      >
        More
      </button>
      <div id={id} className="more-panel" hidden={!isOpen}>
        {children}
      </div>
    </div>
  );
}
