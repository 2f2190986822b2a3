import { type ReactElement, useReducer } from "react";
import { BOARD_KEYS, CELL_KEYS } from "./board/board-keys.ts";
import { BoardPage } from "./board/board-page.tsx";
import { BringInPage } from "./bring-in/bring-in-page.tsx";
import { COMPARE_KEYS } from "./compare/compare-keys.ts";
import { ComparePage } from "./compare/compare-page.tsx";
import { Frame } from "./frame/frame.tsx";
import type { ScreenKey } from "./frame/keys.ts";
import { type Place, type Screen, usePlace } from "./frame/place.ts";
import { useTheme } from "./frame/use-theme.ts";
import { OutcomePage } from "./outcome/outcome-page.tsx";
import { PLAN_KEYS } from "./plan/plan-keys.ts";
import { PlanPage } from "./plan/plan-page.tsx";
import { PlayerPage } from "./player/player-page.tsx";
import { SettingsPage } from "./settings/settings-page.tsx";
import { filesAfter, NO_FILES } from "./shot/opened-files.ts";
import type { Outcomes } from "./shot/outcomes.ts";
import type { Ruler } from "./shot/ruler.ts";
import { ShotScreen } from "./shot/shot-screen.tsx";
import { SHOTS_KEYS } from "./shots/shots-keys.ts";
import { ShotsPage } from "./shots/shots-page.tsx";
import { StudyPage } from "./study/study-page.tsx";

export interface AppProps {
  readonly outcomes: Outcomes;
  readonly ruler: Ruler;
}

/** What keys do on a screen besides what they do on all. */
const KEYS: Partial<Record<Screen, readonly ScreenKey[]>> = {
  board: [...BOARD_KEYS, ...CELL_KEYS],
  compare: COMPARE_KEYS,
  plan: PLAN_KEYS,
  shots: SHOTS_KEYS,
};

/** The screen that the address names. */
export function App({ outcomes, ruler }: AppProps): ReactElement {
  const place = usePlace();
  const [theme, onTheme] = useTheme();
  const [files, onFilesChange] = useReducer(filesAfter, NO_FILES);
  if (place.screen === "shot")
    return <ShotScreen {...{ outcomes, ruler, place, theme, onTheme, files, onFilesChange }} />;
  return (
    <Frame keys={KEYS[place.screen] ?? []} shown={undefined} {...{ place, theme, onTheme }}>
      <ScreenOf place={place} />
    </Frame>
  );
}

function ScreenOf({ place }: { readonly place: Place }): ReactElement | null {
  switch (place.screen) {
    case "shots":
      return <ShotsPage place={place} />;
    case "board":
      return <BoardPage place={place} />;
    case "compare":
      return <ComparePage place={place} />;
    case "study":
      return <StudyPage place={place} />;
    case "outcome":
      return <OutcomePage place={place} />;
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
