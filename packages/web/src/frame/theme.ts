/** Sun: white paper, thick lines. Desk: pale turf paper. Dusk: dark, for an indoor studio. */
const THEMES = ["sun", "desk", "dusk"] as const;
export type Theme = (typeof THEMES)[number];

/** The theme after this one; D cycles through them. */
export function nextTheme(theme: Theme): Theme {
  return THEMES[(THEMES.indexOf(theme) + 1) % THEMES.length] as Theme;
}

/** The theme a person chose before, else what the system prefers: dark means dusk, anything else desk. */
export function firstTheme(remembered: string | undefined, prefersDark: boolean): Theme {
  const known = THEMES.find((theme) => theme === remembered);
  return known ?? (prefersDark ? "dusk" : "desk");
}
