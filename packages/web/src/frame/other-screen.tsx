import type { ReactElement, ReactNode } from "react";
import { ContextLine } from "./context-line.tsx";
import type { Place } from "./place.ts";
import type { Theme } from "./theme.ts";

interface OtherScreenProps {
  readonly place: Place;
  readonly theme: Theme;
  readonly onTheme: () => void;
  readonly children: ReactNode;
}

/** Every screen but the shot's: the context line, and the page under it. */
export function OtherScreen({ place, theme, onTheme, children }: OtherScreenProps): ReactElement {
  return (
    <>
      <ContextLine place={place} shown={undefined} theme={theme} onTheme={onTheme} />
      <main>{children}</main>
    </>
  );
}
