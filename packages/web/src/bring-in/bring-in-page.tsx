import type { ReactElement } from "react";
import type { Place } from "../frame/place.ts";

export interface BringInPageProps {
  readonly place: Place;
}

export function BringInPage(_: BringInPageProps): ReactElement {
  return <h1>BringIn</h1>;
}
