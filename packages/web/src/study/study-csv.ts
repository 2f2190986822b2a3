import type { Study, StudyMeasure } from "@underfoot/compare";
import { csvText } from "../frame/csv-text.ts";

const UNIT_OF_DIFFERENCE = (unit: string): string => (unit === "%" ? "points" : unit);

/** A line a player, then the group; every digit that was computed. */
export function playersCsv(study: Study, { column, unit, players, model }: StudyMeasure): string {
  const facts = [column, UNIT_OF_DIFFERENCE(unit), `${study.b} minus ${study.a}`];
  return csvText([
    [
      ...["measure", "unit", "difference", "player", "shots_a", "shots_b", "own", "own_low", "own_high"],
      ...["pulled", "pulled_low", "pulled_high"],
    ],
    ...players.map(({ player, n, own, ownLow, ownHigh, pulled }) => [
      ...[...facts, player, n[0], n[1], own, ownLow, ownHigh],
      ...[pulled?.value, pulled?.low, pulled?.high],
    ]),
    ...(model === undefined
      ? []
      : [
          [
            ...facts,
            "group",
            undefined,
            undefined,
            undefined,
            undefined,
            undefined,
            model.value,
            model.low,
            model.high,
          ],
        ]),
  ]);
}

/** A line a shot with what is fitted to it. */
export function shotsCsv(study: Study, { column, unit, shots }: StudyMeasure): string {
  return csvText([
    ["measure", "unit", "player", "condition", "shot", "value", "fitted", "residual"],
    ...shots.map(({ player, side, shotId, value, fitted }) => [
      ...[column, unit, player, side === "a" ? study.a : study.b, shotId],
      ...[value, fitted, value - fitted],
    ]),
  ]);
}
