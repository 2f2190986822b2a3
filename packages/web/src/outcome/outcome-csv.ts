import type { Outcome, OutcomeMeasure } from "@underfoot/compare";
import { csvText } from "../frame/csv-text.ts";

/** A line a shot: condition, label, measure and result, every digit that is known. */
export function outcomeCsv(outcome: Outcome, { column, unit, points }: OutcomeMeasure): string {
  return csvText([
    [
      "shot",
      "intent",
      "lie",
      "club",
      "condition",
      "label",
      "measure",
      "unit",
      "value",
      "result",
      "result_unit",
      "result_value",
    ],
    ...points.map(({ shotId, value, outcome: result, condition, isMishit }) => {
      const { intent, lie, club } = outcome.conditions[condition] ?? {};
      return [
        ...[shotId, intent, lie, club, condition + 1, isMishit ? "mishit" : "kept"],
        ...[column, unit, value, outcome.outcome, outcome.unit, result],
      ];
    }),
  ]);
}
