import type { PlayerAxes } from "@underfoot/domain";
import { CATALOGUE, catalogueEntry } from "@underfoot/mechanics";
import { columnOf, columnParts } from "./compared-shot.ts";
import { compareFaults } from "./faults.ts";
import type { RowOfMeasure } from "./measure-row.ts";

/** Name, unit and decimals of a column, from the catalogue of measures. */
export function rowOf(column: string): RowOfMeasure {
  const { id, axes } = columnParts(column);
  const entry = catalogueEntry(id);
  if (entry === undefined || entry.statistic === "text" || !entry.axes.includes(axes))
    throw compareFaults.unknownMeasure(column);
  const { title, unit, decimals } = entry;
  return { column, measure: id, axes, title, unit, decimals };
}

/** Every measure that is a number and not the player's weight, in one version of the axes: what is looked at when nothing is named. */
export function allColumns(axes: PlayerAxes): readonly string[] {
  return CATALOGUE.flatMap(({ id, axes: versions, statistic, quantity }) => {
    if (statistic === "text" || quantity === "both.weight") return [];
    return versions.filter((one) => one === undefined || one === axes).map((one) => columnOf(id, one));
  });
}
