import type { ReactElement } from "react";
import { BringInPage } from "./bring-in/bring-in-page.tsx";
import { OtherScreen } from "./frame/other-screen.tsx";
import { type Place, usePlace } from "./frame/place.ts";
import { useTheme } from "./frame/use-theme.ts";
import { PlanPage } from "./plan/plan-page.tsx";
import { PlayerPage } from "./player/player-page.tsx";
import { SettingsPage } from "./settings/settings-page.tsx";
import type { Outcomes } from "./shot/outcomes.ts";
import type { Ruler } from "./shot/ruler.ts";
import { ShotScreen } from "./shot/shot-screen.tsx";
import { ShotsPage } from "./shots/shots-page.tsx";

export interface AppProps {
  readonly outcomes: Outcomes;
  readonly ruler: Ruler;
}

/** The screen that the address names. */
export function App({ outcomes, ruler }: AppProps): ReactElement {
  const place = usePlace();
  const [theme, onTheme] = useTheme();
  if (place.screen === "shot") return <ShotScreen {...{ outcomes, ruler, place, theme, onTheme }} />;
  return (
    <OtherScreen {...{ place, theme, onTheme }}>
      <ScreenOf place={place} />
    </OtherScreen>
  );
}

function ScreenOf({ place }: { readonly place: Place }): ReactElement | null {
  switch (place.screen) {
    case "shots":
      return <ShotsPage place={place} />;
    case "player":
      return <PlayerPage place={place} />;
    case "plan":
      return <PlanPage place={place} />;
    case "bring-in":
      return <BringInPage place={place} />;
    case "settings":
      return <SettingsPage place={place} />;
    case "shot":
      return null;
  }
}
