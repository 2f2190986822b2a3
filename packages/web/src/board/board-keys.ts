import type { ScreenKey } from "../frame/keys.ts";

export type BoardDeed = "compare" | "axes" | "letGo";

export const BOARD_KEYS: readonly ScreenKey<BoardDeed>[] = [
  { key: "c", shown: "C", deed: "compare", does: "compare the cell with the same intent on the flat", isLetter: true },
  { key: "l", shown: "L", deed: "axes", does: "turf or level axes", isLetter: true },
  { key: "Escape", shown: "Esc", deed: "letGo", does: "let go of the chosen cell", isLetter: false },
];

/** What keys do on a cell; for the list of keys. */
export const CELL_KEYS: readonly ScreenKey[] = [
  { key: "Arrows", shown: "Arrows", deed: "move", does: "on a cell: to the cell beside it", isLetter: false },
  {
    key: "Enter",
    shown: "Enter",
    deed: "choose",
    does: "on a cell: choose it; a second one compares both",
    isLetter: false,
  },
];
