import { useEffect } from "react";
import { deedOfKey, type ScreenKey } from "./keys.ts";
import { remembered } from "./remembered.ts";

/** Keys act only while no text field has the focus and no dialog is open. */
export function useKeys<D extends string>(
  keys: readonly ScreenKey<D>[],
  deeds: Readonly<Record<D, (press: KeyboardEvent) => void>>,
): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const isElsewhere =
        event.target instanceof Element && event.target.closest("input, select, textarea, dialog") !== null;
      const areLettersOn = remembered("letters") !== "off";
      const deed = event.defaultPrevented || isElsewhere ? undefined : deedOfKey(event, keys, areLettersOn);
      if (deed === undefined) return;
      event.preventDefault();
      deeds[deed](event);
    };
    document.addEventListener("keydown", onKey);
    return () => document.removeEventListener("keydown", onKey);
  }, [keys, deeds]);
}
