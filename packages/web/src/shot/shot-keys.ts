import type { ScreenKey } from "../frame/keys.ts";

/** Everything a key can do on the shot page besides what keys do everywhere. */
export type ShotDeed =
  | "earlier"
  | "later"
  | "tenEarlier"
  | "tenLater"
  | "previousEvent"
  | "nextEvent"
  | "previousShot"
  | "nextShot"
  | "mark"
  | "undo"
  | "keep"
  | "mishit"
  | "setAside"
  | "note"
  | "axes";

export const SHOT_KEYS: readonly ScreenKey<ShotDeed>[] = [
  { key: "ArrowLeft", shown: "Left", deed: "earlier", does: "ruler one frame earlier", isLetter: false },
  { key: "ArrowRight", shown: "Right", deed: "later", does: "ruler one frame later", isLetter: false },
  {
    key: "ArrowLeft",
    shift: true,
    shown: "Shift Left",
    deed: "tenEarlier",
    does: "ruler ten frames earlier",
    isLetter: false,
  },
  {
    key: "ArrowRight",
    shift: true,
    shown: "Shift Right",
    deed: "tenLater",
    does: "ruler ten frames later; on the ruler also Up, Down, Page Up, Page Down, Home, End",
    isLetter: false,
  },
  { key: ",", shown: ",", deed: "previousEvent", does: "ruler to the previous event", isLetter: true },
  { key: ".", shown: ".", deed: "nextEvent", does: "ruler to the next event", isLetter: true },
  { key: "[", shown: "[", deed: "previousShot", does: "previous shot", isLetter: true },
  { key: "]", shown: "]", deed: "nextShot", does: "next shot", isLetter: true },
  { key: "e", shown: "E", deed: "mark", does: "mark an event at the ruler", isLetter: true },
  { key: "k", shown: "K", deed: "keep", does: "keep", isLetter: true },
  { key: "m", shown: "M", deed: "mishit", does: "mishit: kept, but not as meant", isLetter: true },
  { key: "x", shown: "X", deed: "setAside", does: "set aside", isLetter: true },
  { key: "n", shown: "N", deed: "note", does: "to the note", isLetter: true },
  { key: "u", shown: "U", deed: "undo", does: "undo the last thing done to this shot", isLetter: true },
  { key: "z", control: true, shown: "Ctrl Z", deed: "undo", does: "the same", isLetter: false },
  { key: "l", shown: "L", deed: "axes", does: "turf or level axes", isLetter: true },
];
