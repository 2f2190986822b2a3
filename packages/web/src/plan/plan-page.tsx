import type { ReactElement } from "react";
import type { Place } from "../frame/place.ts";
import "./plan.css";
import { PlannedSession } from "./planned-session.tsx";
import { ChooseSession } from "./session/choose-session.tsx";

export interface PlanPageProps {
  readonly place: Place;
}

/** Can I trust the plates, and what comes next? Without a session: which one? */
export function PlanPage({ place }: PlanPageProps): ReactElement {
  return (
    <div className="plan-page">
      {place.id === undefined ? <ChooseSession /> : <PlannedSession key={place.id} id={place.id} />}
    </div>
  );
}
