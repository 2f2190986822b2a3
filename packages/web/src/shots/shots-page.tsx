import type { ReactElement } from "react";
import type { Place } from "../frame/place.ts";

export interface ShotsPageProps {
  readonly place: Place;
}

export function ShotsPage(_: ShotsPageProps): ReactElement {
  return <h1>Shots</h1>;
}
