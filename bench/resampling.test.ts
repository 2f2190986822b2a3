import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import * as bca from "./bca.ts";
import { writeInput } from "./input.ts";
import * as maxt from "./maxt.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "underfoot-bench-"));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});
/** A table by formula, row by row. */
function table<T extends Float64Array | Uint16Array>(
  out: T,
  columns: number,
  at: (row: number, column: number) => number,
): T {
  for (let k = 0; k < out.length; k++) out[k] = at(Math.floor(k / columns), k % columns);
  return out;
}
async function checksumOf(program: { run(args: string[]): Promise<object> }): Promise<Record<string, number>> {
  return ((await program.run(["--input", folder, "--repeat", "1"])) as { checksum: Record<string, number> }).checksum;
}
function expectChecksums(got: Record<string, number>, wanted: Record<string, number>): void {
  expect(Object.keys(got)).toEqual(expect.arrayContaining(Object.keys(wanted)));
  for (const [name, value] of Object.entries(wanted)) expect(Math.abs(got[name]! / value - 1)).toBeLessThan(1e-9);
}

function writeMaxT(permutations: number): void {
  const curves = table(new Float64Array(8 * 9), 9, (i, q) => Math.sin(i * i + 0.7 * q) + (i >= 4 ? q / 16 : 0));
  const orders = table(new Uint16Array(16 * 8), 8, (r, c) => ((2 * (r % 4) + 1) * c + Math.floor(r / 4)) % 8);
  writeInput(
    folder,
    { task: "maxt", seed: 1, params: { nA: 4, nB: 4, points: 9, permutations, quantile: 0.95 } },
    { curves: { values: curves, shape: [8, 9] }, permutations: { values: orders, shape: [16, 8] } },
  );
}

// Checksums of both small inputs: computed by separate programs from the same formulas; tolerance 1e-9 relative.
test("maxt: the small input by formula has the stated checksums", async () => {
  writeMaxT(16);
  expectChecksums(await checksumOf(maxt), {
    threshold: 5.104958688416119,
    sum_maxima: 33.22784434955774,
    observed: 2.41019910342002,
  });
});

test("maxt: a folder of the wrong size is refused in one sentence", async () => {
  writeMaxT(17);
  await expect(maxt.run(["--input", folder])).rejects.toThrow("not 8 curves of 9 points with 17 labellings");
});

function writeBca(measures: number): void {
  const values = table(new Float64Array(20), 10, (m, c) => ((c * c) % 7) + Math.sin(c + m) + (c < 5 ? 2 : 0));
  const indices = table(new Uint16Array(2000), 10, (r, c) => ((r * r * (c + 3) + 17 * r * c + 5 * c * c) % 101) % 5);
  writeInput(
    folder,
    { task: "bca", seed: 1, params: { nA: 5, nB: 5, measures, resamples: 200, level: 0.95 } },
    { values: { values, shape: [2, 10] }, indices: { values: indices, shape: [200, 10] } },
  );
}

test("bca: the small input by formula has the stated checksums", async () => {
  writeBca(2);
  expectChecksums(await checksumOf(bca), {
    sum_lower: 1.3191501870005355,
    sum_upper: 7.7454471248524595,
    sum_limits: 1.3191501870005355 + 7.7454471248524595,
  });
});

test("bca: a folder of the wrong size is refused in one sentence", async () => {
  writeBca(3);
  await expect(bca.run(["--input", folder])).rejects.toThrow("not 3 measures of 10 shots with 200 resamples");
});
