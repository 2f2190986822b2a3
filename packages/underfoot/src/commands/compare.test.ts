import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openLibrary } from "@underfoot/library";
import { simulatedFiles } from "@underfoot/pipeline";
import { demoShots, simulateShot } from "@underfoot/simulator";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ran } from "../command.ts";
import { underfoot } from "../command-process.ts";
import { UsageFault } from "../usage-fault.ts";
import { compare } from "./compare.ts";
import { planSizeCommand } from "./plan-size.ts";
import { study } from "./study.ts";

// Invented shots: one player, stock and low on the flat in turn, six of each; the low ones differ as the demo's plans do.
const PER_SIDE = 6;
let root: string;
let place: string;
let firstShotId = "";

const run = (...words: string[]) => underfoot([...words, "--library", place]);
const asked = (...words: string[]) => {
  const { code, out, err } = run(...words, "--format", "json");
  expect(err).toBe("");
  expect(code).toBe(0);
  return JSON.parse(out);
};
const SIDES = ["--a", "intent=stock;lieName=flat", "--b", "intent=low;lieName=flat"] as const;

beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), "underfoot-compare-"));
  place = join(root, "library");
  const library = await openLibrary({ folder: place });
  const plans = demoShots({ seed: 1 });
  const planOf = (intent: string) => plans.find((plan) => plan.intent === intent && plan.lie.name === "flat");
  for (let k = 0; k < 2 * PER_SIDE; k++) {
    // Stock and low by turns, each pair the other way round than the one before.
    const plan = planOf((k + Math.floor(k / 2)) % 2 === 0 ? "stock" : "low");
    if (plan === undefined) throw new RangeError("the demo has no such shot");
    const fileName = `${k}-${plan.name}.c3d`;
    const shot = simulateShot({ ...plan, seed: 100 + k, durationS: 4.5 });
    const { c3d, sidecar } = simulatedFiles(shot, fileName);
    const brought = await library.bringIn({
      ...{ bytes: c3d, fileName, sidecarText: sidecar, day: "2026-03-09", isSessionOfDay: true },
    });
    firstShotId ||= brought.shots[0]?.shotId ?? "";
  }
  await library.recompute();
  await library.close();
}, 60_000);
afterAll(() => rmSync(root, { recursive: true }));

describe("compare", () => {
  test("JSON holds every measure, the curves and the seed, and is the same when asked again", () => {
    const words = ["compare", ...SIDES, "--player", "Player A", "--curve", "both.target", "--curve", "lead.share"];
    const said = asked(...words, "--seed", "11", "--margin", "lead.share.at.impact=5");
    expect(said).toMatchObject({ kind: "conditions", seed: 11, a: { name: "stock, flat" }, b: { name: "low, flat" } });
    expect(said.measures.length).toBe(said.looks.countMeasures);
    expect(said.curves.curves).toHaveLength(2);
    const share = said.measures.find((row: { column: string }) => row.column === "lead.share.at.impact");
    expect(share).toMatchObject({ a: { n: PER_SIDE }, b: { n: PER_SIDE } });
    expect(share.equivalence).toBeDefined();
    expect(asked(...words, "--seed", "11", "--margin", "lead.share.at.impact=5")).toEqual(said);
  });

  test("the table says headline, each measure with interval and verdict, and how much was looked at", () => {
    const { code, out } = run("compare", ...SIDES, "--measures", "lead.share.at.impact,both.target.peak");
    expect(code).toBe(0);
    expect(out).toMatch(/^measure +A: stock, flat +B: low, flat +B minus A +95 % interval +slope's share +verdict$/m);
    expect(out).toMatch(/Lead foot load share at impact +\d.* % .* to .* points +(beyond|within)/);
    expect(out).toContain("2 measures, 1 comparison, looked at once");
  });

  test("one shot against its usual, without a verdict on the player", () => {
    const words = ["--a", "intent=stock", "--b", `shot=${firstShotId}`, "--measures", "lead.share.at.impact"];
    const { code, out } = run("compare", ...words);
    expect(code).toBe(0);
    expect(out).toMatch(/this shot +usual/);
  });

  test("what cannot be compared is one sentence and exit code 1", () => {
    const { code, out, err } = run("compare", "--a", "intent=stock", "--b", "intent=moon");
    expect({ code, out }).toEqual({ code: 1, out: "" });
    expect(err).toBe('There is no shot in "moon". Ask for shots that are in the library.\n');
  });
});

test("study: fewer than six players, so no word on players at large; consent is asked for", () => {
  const { code, out, err } = run("study", ...SIDES, "--measure", "lead.share.at.impact");
  // The player came in by a sidecar and has agreed to nothing.
  expect({ code, out, err }).toMatchObject({ code: 1, out: "" });
  expect(err).toContain('no shot in "stock, flat" of a player who agreed to studies');
});

test("plan-size: from the scatter of earlier shots", () => {
  const words = ["plan-size", "--measure", "lead.share.at.impact", "--query", "intent=stock", "--difference", "3"];
  const said = asked(...words, "--count", "6");
  expect(said).toMatchObject({ measure: "lead.share.at.impact", unit: "%", n: PER_SIDE, difference: 3 });
  expect(said.shots).toBeGreaterThan(1);
  expect(said.detectable).toBeGreaterThan(0);
  expect(run(...words).out).toContain("To show 3 points");
});

describe("wrong usage", () => {
  test.each([
    ["a side that is missing", compare, ["--a", "intent=low"], "--b QUERY is missing"],
    ["a query that is none", compare, ["--a", "low", "--b", "intent=low"], "has no ="],
    ["axes there are not", compare, [...SIDES, "--axes", "sea"], "--axes"],
    ["a margin that is none", compare, [...SIDES, "--margin", "both.target.peak"], "--margin"],
    ["a seed that is none", compare, [...SIDES, "--seed", "x"], "--seed"],
    ["a file", compare, [...SIDES, "a.c3d"], "takes no files"],
    ["a study of nothing", study, [...SIDES], "--measure ID is missing"],
    ["a measure there is not", planSizeCommand, ["--measure", "both.joy"], 'no measure "both.joy"'],
    ["no difference", planSizeCommand, ["--measure", "lead.share.at.impact"], "--difference D is missing"],
  ])("%s", async (_, command, words, why) => {
    await expect(ran(command, words)).rejects.toThrow(UsageFault);
    await expect(ran(command, words)).rejects.toThrow(why);
  });
});
