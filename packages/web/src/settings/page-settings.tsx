import { type ReactElement, useState } from "react";
import { remember, remembered } from "../frame/remembered.ts";

/** What only this browser's page does. The theme is on every screen's first line. */
export function PageSettings(): ReactElement {
  const [areLettersOn, setAreLettersOn] = useState(() => remembered("letters") !== "off");
  return (
    <section aria-labelledby="page-title">
      <h2 id="page-title">This page</h2>
      <label className="check">
        <input
          type="checkbox"
          checked={areLettersOn}
          onChange={({ target }) => {
            remember("letters", target.checked ? "on" : "off");
            setAreLettersOn(target.checked);
          }}
        />
        Single letters and signs act as keys
      </label>
      <p className="small">Theme: the button on the first line, or D. Language: English.</p>
    </section>
  );
}
