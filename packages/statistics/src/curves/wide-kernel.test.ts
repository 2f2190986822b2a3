import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { labelRows } from "./label-rows.ts";
import { emptySums, fillSums, raiseBySums } from "./subset-sums.ts";
import { POINTS_TOGETHER, wideKernel } from "./wide-kernel.ts";

describe("the loop in WebAssembly", () => {
  const draw = { seed: 3, streams: random, label: "kernel", mostExact: 1, countDrawn: 2500 };
  it.each([
    [12, 12, false],
    [5, 6, false],
    [9, 14, true],
  ])("gives the bits of the plain loop: %i + %i shots, signed %s", (nA, nB, isSigned) => {
    const rows = labelRows({ groups: [...Array(nA).fill(0), ...Array(nB).fill(1)] }, draw);
    const kernel = wideKernel(rows);
    if (kernel === undefined) throw new Error("this engine has no WebAssembly with SIMD");
    const stream = random(nA, "values");
    const countPoints = 2 * POINTS_TOGETHER + 7;
    const values = Float64Array.from({ length: (nA + nB) * countPoints }, () => stream.normal());
    const table = { values, countShots: nA + nB, countPoints };
    const sums = emptySums(rows);
    const largest = new Float64Array(rows.countRows);
    for (let firstPoint = 0; firstPoint < countPoints; firstPoint += POINTS_TOGETHER) {
      fillSums(table, { firstPoint, isSigned }, sums);
      raiseBySums(sums, rows, largest);
      kernel.sums.set(sums);
      kernel.raise();
      expect(kernel.largest).toEqual(largest);
    }
    expect(Math.min(...largest)).toBeGreaterThan(0);
  });
  it("has nothing to do without rows", () => {
    expect(wideKernel({ bytes: new Uint8Array(0), countRows: 0 })).toBeUndefined();
  });
});
