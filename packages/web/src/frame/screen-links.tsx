import type { ReactElement } from "react";
import { type Place, placeHref, type Screen } from "./place.ts";

const LINKS: readonly (readonly [Screen, string])[] = [
  ["shots", "Shots"],
  ["player", "Player"],
  ["plan", "Plan and checks"],
  ["bring-in", "Bring in"],
  ["settings", "Settings"],
];

/** The way from screen to screen. */
export function ScreenLinks({ place }: { readonly place: Place }): ReactElement {
  const now = place.screen === "shot" ? "shots" : place.screen;
  return (
    <nav className="screens" aria-label="Screens">
      {LINKS.map(([screen, word]) => (
        <a key={screen} href={placeHref(screen)} aria-current={screen === now ? "page" : undefined}>
          {word}
        </a>
      ))}
    </nav>
  );
}
