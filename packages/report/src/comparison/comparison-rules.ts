import { CLUSTER_RULE, CURVES_RULES, STRETCH_RULE } from "./rules-of-curves.ts";
import { HINT_RULES } from "./rules-of-hints.ts";
import { MEASURE_RULES } from "./rules-of-measures.ts";
import { OUTCOME_NOTICE_RULES, OUTCOME_RULES, OUTCOME_WHOLE_RULES } from "./rules-of-outcomes.ts";
import {
  PLAYERS_FINDING_RULES,
  PLAYERS_RULES,
  STUDY_CURVE_RULES,
  STUDY_NOTICE_RULES,
  STUDY_RULES,
} from "./rules-of-players.ts";
import { REACH_RULES, SESSION_RULES } from "./rules-of-sessions.ts";
import { DIFFERENT_RULES, NOTICE_RULES } from "./rules-of-sides.ts";
import {
  BAND_RULES,
  SHOT_MANY_RULE,
  SHOT_PAIR_RULES,
  SHOT_USUAL_RULES,
  TWO_SHOTS_RULE,
} from "./rules-of-single-shots.ts";
import { BOARD_NOTICE_RULES, BOARD_RULES, CELL_RULES } from "./rules-of-the-board.ts";
import { CHANCE_RULES, HEADLINE_RULES, LOOKS_RULE } from "./rules-of-the-whole.ts";
import type { RuleText } from "./worded-rule.ts";

/** The rules that speak of one thing, in the order in which they are asked. */
export interface RuleChapter {
  readonly title: string;
  /** `first`: only the first that may speak; `all`: each that may. */
  readonly speaks: "first" | "all";
  readonly rules: readonly RuleText[];
}

/** Every rule that can put something about several shots into words. */
export const COMPARISON_RULES: readonly RuleChapter[] = [
  { title: "Two conditions: what else differs", speaks: "all", rules: DIFFERENT_RULES },
  { title: "Two conditions: headline", speaks: "first", rules: HEADLINE_RULES },
  { title: "Two conditions: one measure", speaks: "first", rules: MEASURE_RULES },
  { title: "Two conditions: beside a measure", speaks: "all", rules: HINT_RULES },
  { title: "Two conditions: whole curves", speaks: "all", rules: [STRETCH_RULE, ...CURVES_RULES, CLUSTER_RULE] },
  { title: "Two conditions: what must be known", speaks: "all", rules: NOTICE_RULES },
  { title: "How much was looked at", speaks: "all", rules: [LOOKS_RULE, ...CHANCE_RULES] },
  { title: "The usual band", speaks: "all", rules: BAND_RULES },
  { title: "One shot against the usual", speaks: "first", rules: SHOT_USUAL_RULES },
  { title: "One shot over all measures", speaks: "all", rules: [SHOT_MANY_RULE] },
  { title: "Two single shots: headline", speaks: "all", rules: [TWO_SHOTS_RULE] },
  { title: "Two single shots: one measure", speaks: "first", rules: SHOT_PAIR_RULES },
  { title: "The board: headline", speaks: "first", rules: BOARD_RULES },
  { title: "The board: what must be known", speaks: "all", rules: BOARD_NOTICE_RULES },
  { title: "The board: a cell without a difference from the flat", speaks: "first", rules: CELL_RULES },
  { title: "Results: headline", speaks: "first", rules: OUTCOME_WHOLE_RULES },
  { title: "Results: one measure", speaks: "first", rules: OUTCOME_RULES },
  { title: "Results: what must be known", speaks: "all", rules: OUTCOME_NOTICE_RULES },
  { title: "Several players: headline", speaks: "first", rules: STUDY_RULES },
  { title: "Several players: one measure", speaks: "first", rules: PLAYERS_RULES },
  { title: "Several players: what the model found", speaks: "all", rules: PLAYERS_FINDING_RULES },
  { title: "Several players: whole curves", speaks: "first", rules: STUDY_CURVE_RULES },
  { title: "Several players: what must be known", speaks: "all", rules: STUDY_NOTICE_RULES },
  { title: "Over the days", speaks: "first", rules: SESSION_RULES },
  { title: "Over the days: what would have been seen", speaks: "first", rules: REACH_RULES },
];
