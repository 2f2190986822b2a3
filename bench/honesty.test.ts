import { expect, test } from "vitest";
import * as honesty from "./honesty.ts";

interface Honesty {
  readonly sessions: number;
  readonly falseBeyondShare: number;
  readonly falseCurveShare: number;
  readonly power: readonly { readonly planned: number; readonly found: number; readonly shotsEach: number }[];
  readonly coverage: { readonly band: number; readonly welch: number; readonly bca: number };
}

const ran = async (): Promise<Honesty> =>
  (await honesty.run(["--sessions", "2", "--curve-sessions", "1", "--seed", "3"])) as Honesty;

// Two sessions show that the program runs and repeats itself; the figures need thousands.
test("honesty: shares of every kind, the same for the same seed", async () => {
  const [one, again] = [await ran(), await ran()];
  expect(again).toEqual(one);
  expect(one.sessions).toBe(2);
  for (const share of [one.falseBeyondShare, one.falseCurveShare, ...Object.values(one.coverage)]) {
    expect(share).toBeGreaterThanOrEqual(0);
    expect(share).toBeLessThanOrEqual(1);
  }
  // Shots a condition for 1, 1.2, 1.5 and 2 sd: the table of the planning method, made with SciPy's noncentral t.
  expect(one.power.map(({ shotsEach }) => shotsEach)).toEqual([17, 12, 9, 6]);
  expect(one.power.every(({ planned }) => planned >= 0.8)).toBe(true);
});

test("honesty: a count that is none is said in a sentence", async () => {
  await expect(honesty.run(["--sessions", "none"])).rejects.toThrow("--sessions needs a whole number above 0.");
});
