import type { ScreenKey } from "../frame/keys.ts";

export type SidesDeed = "swap" | "axes" | "plan";
export type RulerDeed = "earlier" | "later" | "tenEarlier" | "tenLater" | "previousEvent" | "nextEvent";

export const SIDES_KEYS: readonly ScreenKey<SidesDeed>[] = [
  { key: "s", shown: "S", deed: "swap", does: "swap A and B", isLetter: true },
  { key: "l", shown: "L", deed: "axes", does: "turf or level axes", isLetter: true },
  { key: "g", shown: "G", deed: "plan", does: "pressure paths seen from above, or not", isLetter: true },
];

export const RULER_KEYS: readonly ScreenKey<RulerDeed>[] = [
  { key: "ArrowLeft", shown: "Left", deed: "earlier", does: "ruler one step earlier", isLetter: false },
  { key: "ArrowRight", shown: "Right", deed: "later", does: "ruler one step later", isLetter: false },
  {
    key: "ArrowLeft",
    shift: true,
    shown: "Shift Left",
    deed: "tenEarlier",
    does: "ruler ten steps earlier",
    isLetter: false,
  },
  {
    key: "ArrowRight",
    shift: true,
    shown: "Shift Right",
    deed: "tenLater",
    does: "ruler ten steps later; on the ruler also Up, Down, Page Up, Page Down, Home, End",
    isLetter: false,
  },
  { key: ",", shown: ",", deed: "previousEvent", does: "ruler to the previous event", isLetter: true },
  { key: ".", shown: ".", deed: "nextEvent", does: "ruler to the next event", isLetter: true },
];

/** Everything a key can do on this screen besides what keys do everywhere. */
export const COMPARE_KEYS: readonly ScreenKey<SidesDeed | RulerDeed>[] = [...SIDES_KEYS, ...RULER_KEYS];
