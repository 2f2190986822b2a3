import { useCallback, useEffect, useState } from "react";
import { remember, remembered } from "./remembered.ts";
import { firstTheme, nextTheme, type Theme } from "./theme.ts";

/** The theme in force, and a step to the next; paper is always printed on. */
export function useTheme() {
  const [theme, setTheme] = useState(() =>
    firstTheme(remembered("theme"), matchMedia("(prefers-color-scheme: dark)").matches),
  );
  useEffect(() => {
    document.documentElement.dataset["theme"] = theme;
  }, [theme]);
  useEffect(() => {
    // Paper is white whatever the screen is.
    const show = (shown: Theme) => (): void => {
      document.documentElement.dataset["theme"] = shown;
    };
    const [before, after] = [show("sun"), show(theme)];
    addEventListener("beforeprint", before);
    addEventListener("afterprint", after);
    return () => {
      removeEventListener("beforeprint", before);
      removeEventListener("afterprint", after);
    };
  }, [theme]);
  const cycle = useCallback(() => {
    setTheme((now) => {
      remember("theme", nextTheme(now));
      return nextTheme(now);
    });
  }, []);
  return [theme, cycle] as const;
}
