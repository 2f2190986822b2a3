import type { ScreenKey } from "../frame/keys.ts";

export type CompareDeed =
  | "swap"
  | "axes"
  | "plan"
  | "earlier"
  | "later"
  | "tenEarlier"
  | "tenLater"
  | "previousEvent"
  | "nextEvent";

export const COMPARE_KEYS: readonly ScreenKey<CompareDeed>[] = [
  { key: "s", shown: "S", deed: "swap", does: "swap A and B", isLetter: true },
  { key: "l", shown: "L", deed: "axes", does: "turf or level axes", isLetter: true },
  { key: "g", shown: "G", deed: "plan", does: "pressure paths seen from above, or not", isLetter: true },
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
