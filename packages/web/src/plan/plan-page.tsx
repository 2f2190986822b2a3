import type { ReactElement } from "react";
import type { Place } from "../frame/place.ts";

export interface PlanPageProps {
  readonly place: Place;
}

export function PlanPage(_: PlanPageProps): ReactElement {
  return <h1>Plan</h1>;
}
