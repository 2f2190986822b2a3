import { CAUTION_RULES } from "./rules-of-caution.ts";
import { FEET_RULES } from "./rules-of-feet.ts";
import { GAP_RULES } from "./rules-of-gaps.ts";
import { MOTION_RULES } from "./rules-of-motion.ts";
import { RULER_RULES } from "./rules-of-ruler.ts";
import type { SentenceRule } from "./sentence.ts";

/** Every rule that can put something about one shot into words, in the order in which their sentences are read. */
export const SENTENCE_RULES: readonly SentenceRule[] = [
  ...MOTION_RULES,
  ...RULER_RULES,
  ...FEET_RULES,
  ...GAP_RULES,
  ...CAUTION_RULES,
];
