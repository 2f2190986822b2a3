import { createHash } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { UnderfootError } from "../packages/domain/src/index.ts";
import { run } from "./lmm.ts";

const ROWS = 24;
let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "underfoot-bench-"));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

/** The small input by formula, one measure of 24 rows; the rows in `kept` only. */
function writeFolder(
  o: {
    readonly kept?: readonly number[];
    readonly conditions?: number;
    readonly playerOf?: (k: number) => number;
  } = {},
): void {
  const kept = o.kept ?? Array.from({ length: ROWS }, (_, k) => k);
  const own = Uint16Array.from(kept, (k) => Math.floor(k / 6));
  const player = o.playerOf === undefined ? own : Uint16Array.from(kept, o.playerOf);
  const condition = Uint16Array.from(kept, (k) => Math.floor(k / 3) % 2);
  const values = Float64Array.from(
    kept,
    (k, i) => 10 + 2 * condition[i]! + 3 * Math.sin(5 * own[i]!) + Math.cos(7 * k),
  );
  const entry = (
    name: string,
    data: Float64Array<ArrayBuffer> | Uint16Array<ArrayBuffer>,
    shape: readonly number[],
  ) => {
    const bytes = new Uint8Array(data.buffer);
    writeFileSync(join(folder, name), bytes);
    const type = data instanceof Float64Array ? "f64" : "u16";
    return { path: name, type, shape, sha256: createHash("sha256").update(bytes).digest("hex") };
  };
  const rows = kept.length;
  const manifest = {
    ...{ format: "bench-input", version: 1, task: "lmm", seed: 1 },
    files: {
      values: entry("values.f64", values, [1, rows]),
      player: entry("player.u16", player, [rows]),
      condition: entry("condition.u16", condition, [rows]),
    },
    params: { measures: 1, rows, players: 4, conditions: o.conditions ?? 2, shots: 3 },
  };
  writeFileSync(join(folder, "manifest.json"), JSON.stringify(manifest));
}

interface Result {
  readonly task: string;
  readonly seconds_all: readonly number[];
  readonly checksum: Readonly<Record<string, number>>;
}

const timed = async (): Promise<Result> => (await run(["--input", folder, "--repeat", "2"])) as Result;

test("the small input by formula has the stated checksums", async () => {
  writeFolder();
  const { task, seconds_all, checksum } = await timed();
  expect(task).toBe("lmm");
  expect(seconds_all).toHaveLength(2);
  // Computed by a separate program from the same formula; variances to 1e-6 of the REML optimum.
  expect(Math.abs(checksum["sum_fixed"]! / 11.178398718256352 - 1)).toBeLessThan(1e-9);
  expect(Math.abs(checksum["sum_player_variance"]! / 3.527721614879761 - 1)).toBeLessThan(1e-6);
  expect(Math.abs(checksum["sum_residual_variance"]! / 0.5514672159691866 - 1)).toBeLessThan(1e-6);
  expect(checksum["sum_variances"]).toBeCloseTo(
    checksum["sum_player_variance"]! + checksum["sum_residual_variance"]!,
    12,
  );
  expect(checksum["fits_with_warning"]).toBe(0);
});

test("unequal cells are fitted too, and a fit on the boundary is counted", async () => {
  writeFolder({ kept: [0, 1, 2, 3, 6, 9, 10, 11, 12, 13, 15, 18, 19, 21, 22, 23] });
  const unequal = await timed();
  expect(unequal.checksum["fits_with_warning"]).toBe(0);
  expect(Number.isFinite(unequal.checksum["sum_fixed"])).toBe(true);
  // The four players in one another's shoes: rows of each in turn, so that their means are alike.
  writeFolder({ playerOf: (k) => k % 4 });
  const alike = await timed();
  expect(alike.checksum).toMatchObject({ fits_with_warning: 1, sum_player_variance: 0 });
});

test("a folder whose conditions are not those of its params is refused in one sentence", async () => {
  writeFolder({ conditions: 1 });
  await expect(timed()).rejects.toThrow(UnderfootError);
  await expect(timed()).rejects.toThrow("The arrays are not 1 measures of 24 rows with 1 conditions.");
});

test("without a folder the expected input is made and the peer is named, or why it did not run", async () => {
  const made = (await run(["--repeat", "1"])) as Result & { readonly peer: string };
  expect(made.checksum["fits_with_warning"]).toBe(0);
  expect(made.peer).toMatch(/statsmodels|not run/);
});
