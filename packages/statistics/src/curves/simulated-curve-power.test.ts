import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { curvePower } from "../planning/curve-power.ts";
import { curveScatter, roughness } from "../scatter/t-field.ts";
import { raisedCosine, simulatedCurvePower } from "./simulated-curve-power.ts";

const countPoints = 101;
/** Invented smooth curves: white noise under a bell of sd 5 points. */
function smooth(count: number, seed: number): Float64Array<ArrayBuffer> {
  const stream = random(seed, "smooth");
  const bell = Array.from({ length: 31 }, (_, k) => Math.exp(-(((k - 15) / 5) ** 2) / 2));
  const rows = Array.from({ length: count }, () => {
    const noise = Array.from({ length: countPoints + 30 }, () => stream.normal());
    return Array.from({ length: countPoints }, (_, q) => bell.reduce((sum, w, k) => sum + w * noise[q + k]!, 0));
  });
  return Float64Array.from(rows.flat());
}
const band = { values: smooth(10, 5), countPoints };
const options = { seed: 1, streams: random, label: "power", countRuns: 60 };
const peakSd = curveScatter(band).sd[50] ?? 1;
const wanted = (perSd: number) => raisedCosine({ countPoints, height: perSd * peakSd, atPoint: 50, widthPoints: 40 });

describe("simulated power of whole curves", () => {
  it("is nearly 1 for a huge difference, nearly 0 for none, and repeats from its seed", () => {
    const huge = simulatedCurvePower(band, { difference: wanted(8), countPerCondition: 6 }, options);
    expect(huge).toMatchObject({ kind: "simulated-power", countRuns: 60, seed: 1, powerOfOne: 1, halfWidthOfOne: 0 });
    const none = simulatedCurvePower(band, { difference: wanted(0.01), countPerCondition: 6 }, options);
    expect(none.kind === "simulated-power" && none.powerOfOne).toBeLessThan(0.1);
    const ask = { difference: wanted(2.2), countPerCondition: 6 };
    expect(simulatedCurvePower(band, ask, options)).toEqual(simulatedCurvePower(band, ask, options));
  });
  it("lies above the quick bound, not far", () => {
    const found = simulatedCurvePower(band, { difference: wanted(2.3), countPerCondition: 8 }, options);
    const bound = curvePower(8, { roughness: roughness(curveScatter(band)), heightPerSd: 2.3 });
    if (found.kind === "withheld") throw new Error("withheld");
    expect(found.powerOfOne + found.halfWidthOfOne).toBeGreaterThan(bound);
    expect(found.powerOfOne).toBeLessThan(bound + 0.35);
  });
  it("can be watched and stopped, and is withheld below eight curves", () => {
    const seen: number[] = [];
    const stop = (done: number): void => {
      seen.push(done);
      if (done > 0.03) throw new Error("stopped");
    };
    const ask = { difference: wanted(1), countPerCondition: 4 };
    expect(() => simulatedCurvePower(band, ask, { ...options, onProgress: stop })).toThrow("stopped");
    expect(seen).toEqual([0, 1 / 60, 2 / 60]);
    const few = { values: smooth(7, 5), countPoints };
    expect(simulatedCurvePower(few, ask, options)).toMatchObject({ kind: "withheld", needed: 8 });
  });
  it("adds a raised cosine: its height at the instant, half of it a quarter width away, 0 at its ends", () => {
    const bump = raisedCosine({ countPoints: 9, height: 2, atPoint: 4, widthPoints: 8 });
    expect([...bump].map((value) => +value.toFixed(12))).toEqual([
      0, 0.292893218813, 1, 1.707106781187, 2, 1.707106781187, 1, 0.292893218813, 0,
    ]);
  });
});
