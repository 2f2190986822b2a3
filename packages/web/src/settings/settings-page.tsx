import type { ReactElement } from "react";
import type { Place } from "../frame/place.ts";

export interface SettingsPageProps {
  readonly place: Place;
}

export function SettingsPage(_: SettingsPageProps): ReactElement {
  return <h1>Settings</h1>;
}
