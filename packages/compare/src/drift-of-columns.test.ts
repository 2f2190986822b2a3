import { random } from "@underfoot/domain";
import { drift } from "@underfoot/statistics";
import { expect, test } from "vitest";
import { driftOfColumns } from "./drift-of-columns.ts";

const of = (columns: readonly (readonly number[])[]) =>
  driftOfColumns({
    name: "low",
    names: columns.map((_, m) => `m${m}`),
    columns: columns.map((values) => Float64Array.from(values)),
    shotNumbers: [1, 3, 4, 7, 8, 11, 12, 15],
    ...{ seed: 1, streams: random },
  });
const mixed = [5, 1, 4, 2, 8, 3, 9, 6];

test("many measures by common orders: each as if it were asked alone", () => {
  const [rising, other, constant, missing] = of([
    [1, 2, 3, 4, 5, 6, 7, 8],
    mixed,
    [2, 2, 2, 2, 2, 2, 2, 2],
    [Number.NaN, ...mixed.slice(1)],
  ]);
  // Eight in order: 2 of 8! = 40,320 orders are as extreme.
  expect(rising).toMatchObject({ isDrift: true, direction: "rising" });
  expect(rising?.rho).toBeCloseTo(1, 12);
  expect(rising?.p).toBeCloseTo(2 / 40_320, 12);
  const alone = drift(mixed, { seed: 1, streams: random, label: "alone" });
  if (alone.kind !== "drift") throw new RangeError("withheld");
  expect(other?.rho).toBeCloseTo(alone.rho, 12);
  expect(other?.p).toBeCloseTo(alone.p, 12);
  expect(constant).toBeUndefined();
  // Seven values are too few.
  expect(missing).toBeUndefined();
});
