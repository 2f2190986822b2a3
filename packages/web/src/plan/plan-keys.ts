import type { ScreenKey } from "../frame/keys.ts";

export type PlanDeed = "undo";

export const PLAN_KEYS: readonly ScreenKey<PlanDeed>[] = [
  { key: "z", shown: "Ctrl Z", deed: "undo", does: "undo the last change", isLetter: false, control: true },
];
