import type { ScreenKey } from "../frame/keys.ts";

export type ShotsDeed = "nextRow" | "previousRow" | "find";

export const SHOTS_KEYS: readonly ScreenKey<ShotsDeed>[] = [
  { key: "ArrowDown", shown: "Down", deed: "nextRow", does: "next row; Enter opens its shot", isLetter: false },
  { key: "ArrowUp", shown: "Up", deed: "previousRow", does: "previous row", isLetter: false },
  { key: "/", shown: "/", deed: "find", does: "to the facts to find by", isLetter: true },
];
