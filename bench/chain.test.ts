import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { plateFrame, UnderfootError, type Vector } from "../packages/domain/src/index.ts";
import { type PlateWrench, plateCop } from "../packages/mechanics/src/index.ts";
import { EXPECTED_PARAMS, emptyTwoPlates, run, twoPlates } from "./chain.ts";

const TRIALS = 2;
const SAMPLES = 2000;

/** The small input by formula: two trials of 2 s. */
function smallSignals(): Float64Array<ArrayBuffer> {
  const b = [20, -10, 60, 2, -3, 4, 15, 12, -40, -1, 2, 3];
  const signals = new Float64Array(TRIALS * 12 * SAMPLES);
  for (let i = 0; i < TRIALS; i++) {
    for (let c = 0; c < 12; c++) {
      for (let j = 0; j < SAMPLES; j++) {
        const t = j / 1000;
        const level = c % 6 === 2 ? 400 : 0;
        const bump = b[c]! * Math.exp(-(((t - 1.4 - 0.1 * i) / 0.12) ** 2));
        signals[(i * 12 + c) * SAMPLES + j] = level + bump + 0.5 * Math.sin(2 * Math.PI * (3 + c) * t + i);
      }
    }
  }
  return signals;
}

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "underfoot-bench-"));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

/** Writes the folder; `changes` go over the manifest. */
function writeFolder(changes: object = {}): void {
  const bytes = new Uint8Array(smallSignals().buffer);
  writeFileSync(join(folder, "signals.f64"), bytes);
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  const manifest = {
    ...{ format: "bench-input", version: 1, task: "chain", seed: 1 },
    files: { signals: { path: "signals.f64", type: "f64", shape: [TRIALS, 12, SAMPLES], sha256 } },
    params: { ...EXPECTED_PARAMS, trials: TRIALS, samples: SAMPLES },
    ...changes,
  };
  writeFileSync(join(folder, "manifest.json"), JSON.stringify(manifest));
}

test("the small input by formula has the stated checksums", async () => {
  // Computed by a separate program from the same formula; tolerance 1e-9 relative.
  const wanted = {
    sum_peaks: 1719.4581449847904,
    sum_peak_times: 34.36,
    sum_final_displacement: 0.1575835939604965,
    // All six last displacements of this input are positive.
    sum_abs_final_displacement: 0.1575835939604965,
    sum_cop_ranges: 0.13012803700219272,
    sum_mass: 163.16904260782343,
  };
  writeFolder();
  const result = (await run(["--input", folder, "--repeat", "2"])) as {
    task: string;
    seconds_all: number[];
    checksum: Record<string, number>;
  };
  expect(result.task).toBe("chain");
  expect(result.seconds_all).toHaveLength(2);
  expect(result).not.toHaveProperty("peer");
  for (const [name, value] of Object.entries(wanted)) {
    expect(Math.abs(result.checksum[name]! / value - 1)).toBeLessThan(1e-9);
  }
});

describe("a folder that does not fit is refused in one sentence", () => {
  async function fault(): Promise<string> {
    try {
      await run(["--input", folder, "--repeat", "1"]);
    } catch (thrown) {
      if (thrown instanceof UnderfootError) return thrown.message;
      throw thrown;
    }
    return "no fault";
  }

  test("no manifest, and one that is not JSON", async () => {
    expect(await fault()).toContain("manifest.json cannot be read");
    writeFileSync(join(folder, "manifest.json"), "{");
    expect(await fault()).toContain("manifest.json cannot be read");
  });

  test.each([
    [{ format: "other" }, "format other"],
    [{ version: 2 }, "version 2"],
    [{ task: "maxt" }, "for the task maxt"],
    [{ files: {} }, 'no f64 file "signals"'],
    [{ params: { ...EXPECTED_PARAMS, trials: 3, samples: SAMPLES } }, "not 3 trials"],
  ])("%j", async (changes, part) => {
    writeFolder(changes);
    expect(await fault()).toContain(part);
  });

  test("a file that is short, changed or gone", async () => {
    writeFolder();
    const path = join(folder, "signals.f64");
    const bytes = readFileSync(path);
    writeFileSync(path, bytes.subarray(8));
    expect(await fault()).toContain(`has ${bytes.length - 8} bytes`);
    bytes[100] = bytes[100]! ^ 1;
    writeFileSync(path, bytes);
    expect(await fault()).toContain("SHA-256");
    rmSync(path);
    expect(await fault()).toContain("is not there");
  });
});

test("the loop over two plates agrees with the product's plateCop", () => {
  const signals = smallSignals();
  const channels = Array.from({ length: 12 }, (_, c) => signals.subarray(c * SAMPLES, (c + 1) * SAMPLES));
  const out = emptyTwoPlates(SAMPLES);
  twoPlates(channels, EXPECTED_PARAMS.plateCentres, out);
  const cops = EXPECTED_PARAMS.plateCentres.map(([x, y], k) => {
    const corner = (dx: number, dy: number): Vector => ({ x: x + dx, y: y + dy, z: 0 });
    const [fx, fy, fz, mx, my, mz] = channels.slice(6 * k, 6 * k + 6) as [
      Column,
      Column,
      Column,
      Column,
      Column,
      Column,
    ];
    const wrench: PlateWrench = {
      ...{ plate: k + 1, type: 2, storedAs: "on-player", hasMoments: true, hasFreeMoment: true },
      frame: plateFrame([corner(0.2, -0.3), corner(-0.2, -0.3), corner(-0.2, 0.3), corner(0.2, 0.3)]),
      forceN: { x: fx, y: fy, z: fz },
      momentNm: { x: mx, y: my, z: mz },
      isSaturated: new Uint8Array(SAMPLES),
      bridgedCount: 0,
      zero: { kind: "none", first: 0, end: 0 },
      findings: [],
    };
    return plateCop(wrench, { leastLoadN: 100 });
  });
  cops.forEach((cop, k) => {
    expect(out.rangesM[2 * k]).toBeCloseTo(Math.max(...cop.xM) - Math.min(...cop.xM), 12);
    expect(out.rangesM[2 * k + 1]).toBeCloseTo(Math.max(...cop.yM) - Math.min(...cop.yM), 12);
  });
  const torque = cops[0]!.freeMomentNm.map((free, i) => {
    const [f, g] = [channels[2]![i]!, channels[8]![i]!];
    // Couple of two forces that share the load: (r_0 - r_1) × (w_1 F_0 - w_0 F_1).
    const [dx, dy] = [cops[0]!.xM[i]! - cops[1]!.xM[i]!, cops[0]!.yM[i]! - cops[1]!.yM[i]!];
    const px = (g * channels[0]![i]! - f * channels[6]![i]!) / (f + g);
    const py = (g * channels[1]![i]! - f * channels[7]![i]!) / (f + g);
    return free + cops[1]!.freeMomentNm[i]! + dx * py - dy * px;
  });
  expect(out.largestTorqueNm).toBeCloseTo(Math.max(...torque), 10);
  expect(torque[out.largestTorqueAt]).toBeCloseTo(out.largestTorqueNm, 10);
  expect(out.fz[700]).toBe(channels[2]![700]! + channels[8]![700]!);
});

type Column = Float64Array<ArrayBuffer>;
