import { random } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { closingWindow } from "./closing-window.ts";
import { finishSample } from "./finish.ts";
import { loaded } from "./loaded.ts";
import { type ForceColumns, quietWindow } from "./quiet-window.ts";
import { DEFAULT_SETTINGS } from "./settings.ts";
import { startSample } from "./start.ts";

const RATE = 500;
const WEIGHT = 800;
const options = { rateHz: RATE, weightN: WEIGHT };

/** Total force of 6 s: standing with a little sway, plus what `add` says at a time. */
function force(add: (timeS: number) => readonly [number, number, number]): ForceColumns {
  const columns = [0, 1, 2].map(() => new Float64Array(6 * RATE));
  for (let i = 0; i < 6 * RATE; i++) {
    const t = i / RATE;
    const more = add(t);
    columns[0]![i] = 0.4 * Math.sin(2 * t) + more[0];
    columns[1]![i] = 0.4 * Math.cos(1.7 * t) + more[1];
    columns[2]![i] = WEIGHT + 0.2 * Math.sin(3 * t) + more[2];
  }
  return columns as unknown as ForceColumns;
}
const bump = (t: number, from: number, to: number, size: number): number =>
  t > from && t < to ? size * Math.sin((Math.PI * (t - from)) / (to - from)) ** 2 : 0;

describe("the quiet window", () => {
  it("is the last still half second, after a waggle and before the motion, reaching back to the waggle", () => {
    const columns = force((t) => [bump(t, 1, 2, 30) + bump(t, 3.5, 4.5, 60), 0, 0]);
    const found = quietWindow(columns, { first: 0, end: 4 * RATE }, options)!;
    expect(found.core.end / RATE).toBeGreaterThan(3.4);
    expect(found.core.end / RATE).toBeLessThan(3.7);
    expect((found.core.end - found.core.first) / RATE).toBe(0.5);
    expect(found.first / RATE).toBeGreaterThan(1.75);
    expect(found.first / RATE).toBeLessThan(2.3);
  });

  it("is not where nobody stands or a sample is missing", () => {
    const columns = force((t) => [0, 0, t < 3 ? -WEIGHT : 0]);
    const found = quietWindow(columns, { first: 0, end: 5 * RATE }, options)!;
    expect(found.first / RATE).toBeGreaterThanOrEqual(3);
    expect(quietWindow(columns, { first: 0, end: 2.9 * RATE }, options)).toBeUndefined();
    expect(quietWindow(columns, { first: 0, end: 100 }, options)).toBeUndefined();
    const holed = force(() => [0, 0, 0]);
    (holed[1] as Float64Array)[1000] = Number.NaN;
    const after = quietWindow(holed, { first: 900, end: 1600 }, options)!;
    expect(after.core.first).toBeGreaterThan(1000);
  });
});

describe("start", () => {
  const core = { first: 2 * RATE, end: 2.5 * RATE };
  const signals = (columns: ForceColumns) => columns.map((values) => ({ values, leastLimit: 0.015 * WEIGHT }));

  it("is found soon after a soft beginning, and followed back", () => {
    const columns = force((t) => [-bump(t, 3, 4, 50), 0, 0]);
    const start = startSample(signals(columns), core, { rateHz: RATE, until: 5 * RATE })! / RATE;
    expect(start).toBeGreaterThan(3);
    expect(start).toBeLessThan(3.12);
  });

  it("is not a twitch under 60 ms, not beyond the end of the search, and not in stillness", () => {
    const twitch = force((t) => [bump(t, 3, 3.06, 50), 0, 0]);
    expect(startSample(signals(twitch), core, { rateHz: RATE, until: 5 * RATE })).toBeUndefined();
    const late = force((t) => [bump(t, 3, 4, 50), 0, 0]);
    expect(startSample(signals(late), core, { rateHz: RATE, until: 3 * RATE })).toBeUndefined();
  });

  it("is seen in turning torque where the forces hardly change", () => {
    const columns = force((t) => [-bump(t, 3, 4, 10), 0, 0]);
    const turn = Float64Array.from(columns[0], (_, i) => -bump(i / RATE, 3, 4, 15));
    const watched = [...signals(columns), { values: turn, leastLimit: 2.5 }];
    expect(startSample(signals(columns), core, { rateHz: RATE, until: 5 * RATE })).toBeUndefined();
    expect(startSample(watched, core, { rateHz: RATE, until: 5 * RATE })! / RATE).toBeLessThan(3.15);
  });
});

describe("finish", () => {
  it("is the first of 250 ms within 4 % of weight after impact, and missing where there is none", () => {
    const columns = force((t) => [0, 0, t > 3.5 && t < 4 ? 100 : 0]);
    const found = finishSample(columns, [0, 0, WEIGHT], { ...options, impact: 3.6 * RATE })!;
    expect(found / RATE).toBeCloseTo(4, 2);
    const restless = force((t) => [t > 3.5 ? 50 : 0, 0, 0]);
    expect(finishSample(restless, [0, 0, WEIGHT], { ...options, impact: 3.6 * RATE })).toBeUndefined();
  });
});

describe("the second quiet stance", () => {
  const quiet = [0, 0, WEIGHT] as const;
  const draw = random(1, "closing");

  it("reaches from 50 ms before the end back to the motion", () => {
    const columns = force((t) => [bump(t, 3, 4.8, 60), 0.1 * draw.normal(), 0]);
    const found = closingWindow(columns, quiet, { ...options, earliest: 3.5 * RATE })!;
    expect(found.end).toBe(6 * RATE - 25);
    expect(found.first / RATE).toBeGreaterThan(4.5);
    expect(found.first / RATE).toBeLessThan(4.8);
  });

  it("is not there where the player moves, leans elsewhere or the end comes too soon", () => {
    const moving = force((t) => [bump(t, 5, 6.5, 60), 0, 0]);
    expect(closingWindow(moving, quiet, { ...options, earliest: 0 })).toBeUndefined();
    const leaning = force((t) => [t > 4 ? 13 : 0, 0, 0]);
    expect(closingWindow(leaning, quiet, { ...options, earliest: 0 })).toBeUndefined();
    expect(
      closingWindow(
        force(() => [0, 0, 0]),
        quiet,
        { ...options, earliest: 5.7 * RATE },
      ),
    ).toBeUndefined();
  });
});

describe("loaded", () => {
  it("from above max(30 N, 4 %) until below max(20 N, 3 %) of weight; a missing load is not", () => {
    const load = Float64Array.of(0, 29, 31, 25, 21, 19, 25, 31, Number.NaN, 25);
    expect([...loaded(load, 500, DEFAULT_SETTINGS)]).toEqual([0, 0, 1, 1, 1, 0, 0, 1, 0, 0]);
    const heavy = Float64Array.of(39, 41, 31, 29);
    expect([...loaded(heavy, 1000, DEFAULT_SETTINGS)]).toEqual([0, 1, 1, 0]);
  });
});
