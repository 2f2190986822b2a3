import type { ReactElement } from "react";
import type { Place } from "../frame/place.ts";

export interface PlayerPageProps {
  readonly place: Place;
}

export function PlayerPage(_: PlayerPageProps): ReactElement {
  return <h1>Player</h1>;
}
