import { type ReactElement, useEffect } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import type { Place } from "../frame/place.ts";
import { HistoryList } from "./history-list.tsx";
import { Keeping } from "./keeping.tsx";
import { PageSettings } from "./page-settings.tsx";
import { ResultSettings } from "./result-settings-form.tsx";
import { StoragePlace } from "./storage-place.tsx";
import "./settings.css";

export interface SettingsPageProps {
  readonly place: Place;
}

/** Where everything lies and how it is kept; what results hang on; what was done. */
export function SettingsPage(_: SettingsPageProps): ReactElement {
  const about = useAnswer("get /api/about", {}, []);
  const settings = useAnswer("get /api/settings", {}, ["setting"]);
  useEffect(() => {
    document.title = "Settings, Underfoot";
  }, []);
  return (
    <div className="settings">
      <h1>Where the shots are kept, and what their numbers hang on</h1>
      <FaultNote fault={about.fault ?? settings.fault} onAgain={about.fault ? about.again : settings.again} />
      {about.answer === undefined || settings.answer === undefined ? null : (
        <>
          <StoragePlace about={about.answer} settings={settings.answer} />
          <Keeping about={about.answer} settings={settings.answer} />
          <ResultSettings key={JSON.stringify(settings.answer.mechanics)} settings={settings.answer} />
        </>
      )}
      <PageSettings />
      <HistoryList />
    </div>
  );
}
