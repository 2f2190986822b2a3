import { HINT_RULES } from "./rules-of-hints.ts";
import { MEASURE_RULES } from "./rules-of-measures.ts";
import { DIFFERENT_RULES, NOTICE_RULES } from "./rules-of-sides.ts";
import { CHANCE_RULES, HEADLINE_RULES, LOOKS_RULE } from "./rules-of-the-whole.ts";
import type { RuleText } from "./worded-rule.ts";

/** Every rule that can put a comparison into words, by what it speaks of. */
export const COMPARISON_RULES: readonly { readonly of: string; readonly rules: readonly RuleText[] }[] = [
  { of: "the whole comparison", rules: [...DIFFERENT_RULES, ...HEADLINE_RULES, LOOKS_RULE, ...CHANCE_RULES] },
  { of: "one measure of two conditions", rules: MEASURE_RULES },
  { of: "what stands beside a measure", rules: HINT_RULES },
  { of: "what must be known to read it", rules: NOTICE_RULES },
];
