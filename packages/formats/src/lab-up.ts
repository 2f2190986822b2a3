import type { Channel, Column } from "@underfoot/domain";
import { type ColumnMapping, LAB_AXES, type LabAxis } from "./column-mapping-type.ts";
import { LAB_LETTERS, letterOf, signOf } from "./lab-axes.ts";
import type { Guess } from "./text-guess.ts";
import { textUnit } from "./text-units.ts";

/**
 * The laboratory axis along which the plates carry the load: the one with the largest mean force, all plates together. Its
 * sign is known only where the mapping says what the force acts on; else it is taken to be +.
 */
export function upGuess(
  { plates }: ColumnMapping,
  { channels, columns }: { readonly channels: readonly Channel[]; readonly columns: readonly Column[] },
): Guess<LabAxis> {
  const loadN = { x: 0, y: 0, z: 0 };
  const letters = new Set<string>();
  for (const { force, sense } of plates) {
    for (const { column, unit, axis } of force) {
      const values = columns[channels.findIndex(({ label }) => label === column)];
      letters.add(letterOf(axis));
      const turn = sense === "on-plate" ? -1 : 1;
      loadN[letterOf(axis)] += turn * signOf(axis) * (textUnit(unit)?.toSi ?? 1) * meanOf(values);
    }
  }
  const known = LAB_LETTERS.filter((letter) => letters.has(letter));
  const [only] = known;
  if (only === undefined) return { value: "+z", confidence: 0.3, reason: "no force column says so" };
  const largest = known.reduce((one, other) => (Math.abs(loadN[other]) > Math.abs(loadN[one]) ? other : one));
  const isSenseKnown = plates.every(({ sense, force }) => sense !== undefined || force.length === 0);
  const sign = isSenseKnown && loadN[largest] < 0 ? "-" : "+";
  const value = LAB_AXES.find((axis) => axis === `${sign}${largest}`) ?? "+z";
  if (known.length === 1) return { value, confidence: 0.9, reason: "it is the only direction with a force column" };
  if (loadN[largest] === 0)
    return { value: letters.has("z") ? "+z" : value, confidence: 0.3, reason: "there is no load to tell it by" };
  return {
    value,
    confidence: 0.8,
    reason: `the mean force along ${largest} is ${loadN[largest].toFixed(0)} N, the largest`,
  };
}

function meanOf(values: Column | undefined): number {
  let total = 0;
  let count = 0;
  for (let i = 0; i < (values?.length ?? 0); i++) {
    const value = values![i]!;
    if (Number.isNaN(value)) continue;
    total += value;
    count++;
  }
  return count === 0 ? 0 : total / count;
}
