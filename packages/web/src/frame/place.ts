import { useSyncExternalStore } from "react";

/** The screens, by the first word of the address behind #/. */
export const SCREENS = [
  "shot",
  "shots",
  "compare",
  "board",
  "study",
  "outcome",
  "plan",
  "bring-in",
  "player",
  "settings",
] as const;
export type Screen = (typeof SCREENS)[number];

/** Where the person is: #/player/ID?measure=... */
export interface Place {
  readonly screen: Screen;
  /** What it shows; absent where the screen chooses itself. */
  readonly id: string | undefined;
  readonly query: Readonly<Record<string, string>>;
}

/** The place an address names; the shot screen where it names none. */
export function placeFromHash(hash: string): Place {
  const [path = "", search = ""] = hash.replace(/^#\/?/, "").split("?");
  const [word, id] = path.split("/");
  const screen = SCREENS.find((known) => known === word) ?? "shot";
  return {
    screen,
    id: id === undefined || id === "" ? undefined : decodeURIComponent(id),
    query: Object.fromEntries(new URLSearchParams(search)),
  };
}

/** The address of a place, for links. What is undefined or empty is left out of the query. */
export function placeHref(
  screen: Screen,
  id?: string,
  query: Readonly<Record<string, string | undefined>> = {},
): string {
  const said = Object.entries(query).filter(
    (pair): pair is [string, string] => pair[1] !== undefined && pair[1] !== "",
  );
  const search = new URLSearchParams(said);
  return `#/${screen}${id === undefined ? "" : `/${encodeURIComponent(id)}`}${search.size > 0 ? `?${search}` : ""}`;
}

/** Goes to a place. `replace`: the back button skips where one is now. */
export function goTo(href: string, how: "push" | "replace" = "push"): void {
  if (how === "push") location.hash = href;
  else {
    history.replaceState(undefined, "", href);
    dispatchEvent(new HashChangeEvent("hashchange"));
  }
}

function subscribe(listener: () => void): () => void {
  addEventListener("hashchange", listener);
  return () => removeEventListener("hashchange", listener);
}

let known: { readonly hash: string; readonly place: Place } | undefined;
function placeNow(): Place {
  if (known?.hash !== location.hash) known = { hash: location.hash, place: placeFromHash(location.hash) };
  return known.place;
}

export function usePlace(): Place {
  return useSyncExternalStore(subscribe, placeNow);
}
