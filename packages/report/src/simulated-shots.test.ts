// Against the simulator's truth, which shares no line with the computation: what is said must be so.
import { measuresFromShot, shotFromRecording } from "@underfoot/mechanics";
import { describe, expect, test } from "vitest";
import { demoShots, simulateShot } from "../../simulator/src/index.ts";
import { slopeShareN } from "./player-force.ts";
import { readingFromShot, rulerReading } from "./reading.ts";
import { rulerValues } from "./ruler-values.ts";
import { sheetModel } from "./sheet-model.ts";
import { valueAtS } from "./shot-time.ts";

const cases = demoShots({ seed: 1 }).map((plan) => {
  const { recording, facts, truth } = simulateShot(plan);
  const shot = shotFromRecording(recording, facts);
  const measures = measuresFromShot(shot);
  return { name: plan.name, hasGap: plan.faults?.includes("gap") ?? false, truth, shot, measures };
});
const whole = cases.filter(({ hasGap }) => !hasGap);

/** The middle of start to finish, each 25 ms. */
function rulerTimesS(truth: (typeof cases)[number]["truth"]): number[] {
  const { start, finish } = truth.events;
  return Array.from({ length: Math.floor((finish - start) / 0.025) }, (_, k) => start + 0.025 * k);
}

test("there are shots of both hands on four lies to look at", () => {
  expect(whole.length).toBeGreaterThan(15);
  expect(new Set(whole.map(({ shot }) => shot.handed)).size).toBe(2);
});

test("the direction of motion at the ruler is the true one in at least 97 of 100 sentences (two sigmas)", () => {
  let said = 0;
  let isTrue = 0;
  for (const { shot, truth } of whole) {
    for (const timeS of rulerTimesS(truth)) {
      const motion = rulerReading(shot, timeS).find(({ rule }) => rule === "ruler-motion")?.text ?? "";
      const trueSpeed = valueAtS(shot, truth.curves.turf.speedTargetMPerS, timeS);
      if (motion.includes("is going back")) isTrue += trueSpeed < 0 ? 1 : 0;
      else if (motion.includes("moving to the target")) isTrue += trueSpeed > 0 ? 1 : 0;
      else continue;
      said++;
    }
  }
  expect(said).toBeGreaterThan(300);
  expect(isTrue / said).toBeGreaterThan(0.97);
});

test("the headline tells the true order of the peaks where it names three places", () => {
  const words: Record<string, string> = { target: "target", ahead: "toes", up: "up" };
  let told = 0;
  let right = 0;
  for (const { shot, measures, truth } of whole) {
    const order = truth.measures.find(({ id, axes }) => id === "both.peakOrder.text" && axes === "turf")?.text ?? "";
    const { text } = readingFromShot(shot, measures).headline;
    if (!text.includes("second") || order.includes("together")) continue;
    const [first = "", second = "", last = ""] = order.split(", ").map((name) => words[name] ?? "");
    told++;
    if (text.toLowerCase().startsWith(`${first} first, ${second} second, ${last} last`)) right++;
  }
  expect(told).toBeGreaterThan(10);
  expect(right / told).toBeGreaterThan(0.9);
});

describe.each(whole)("$name", ({ shot, measures, truth }) => {
  const model = sheetModel(shot, measures, { axes: "turf" });

  test("player's part and slope's part at the feet make the true push, within three sigmas", () => {
    for (const timeS of rulerTimesS(truth)) {
      const at = rulerValues(model, 1000 * (timeS - model.time.zero.zeroS));
      const pushN = at.feet.reduce((sum, foot) => sum + foot.slope.targetN + foot.player.targetN, 0);
      const exactS = model.time.zero.zeroS + at.timeMs / 1000;
      // Two plates with zeros of 2 N and gains of 0.5 %; the filter leaves under 2 N.
      expect(Math.abs(pushN - valueAtS(shot, truth.curves.both.turf.targetN, exactS))).toBeLessThan(12);
    }
  });

  test("the slope's share is the true one within the inclinometer's three sigmas", () => {
    const trueN = truth.weightN * Math.sin((truth.lie.pitchDeg * Math.PI) / 180);
    expect(Math.abs(slopeShareN(shot, "turf").target - trueN)).toBeLessThan(3 * 2.9 + 1);
  });

  test("areas between push and base add up to the change of speed from start to finish", () => {
    const push = model.columns.find((column) => column.id === "push")!;
    const total = push.changes.reduce((sum, change) => sum + change.speedMPerS, 0);
    const speed = (event: "start" | "finish"): number => {
      const found = shot.events.find((candidate) => candidate.event === event)!;
      return shot.turf.speedTargetMPerS[Math.round(found.timeS * shot.rateHz)]!;
    };
    expect(total).toBeCloseTo(speed("finish") - speed("start"), 6);
  });

  test("gravity is named on tilted lies only, and cautions stand there", () => {
    const { headline, sentences, cautions } = readingFromShot(shot, measures, { pronoun: "she" });
    const isPitched = truth.lie.pitchDeg !== 0;
    const text = [headline, ...sentences].map((sentence) => sentence.text).join(" ");
    if (!isPitched) expect(text).not.toContain("slope");
    expect(cautions.some(({ rule }) => rule === "sloped-lie")).toBe(isPitched || truth.lie.rollDeg !== 0);
    expect(model.plan.contours.lines.length > 0).toBe(isPitched || truth.lie.rollDeg !== 0);
  });

  test("the lead foot is nearer the flag", () => {
    const targetOf = (foot: string): number => model.plan.soles.find((sole) => sole.foot === foot)!.outline[0]!.targetM;
    expect(targetOf("lead")).toBeGreaterThan(targetOf("trail"));
  });
});

test("a shot with a gap tells less, shows the gap, and says why", () => {
  const { shot, measures } = cases.find(({ hasGap }) => hasGap)!;
  const model = sheetModel(shot, measures, { axes: "turf" });
  const { headline, missing } = readingFromShot(shot, measures);
  expect(headline.text).toBe("Peak order and motion through impact cannot be said: the recording has a gap.");
  expect(missing.map(({ rule }) => rule)).toContain("finding");
  expect(model.fall.notes.some((note) => note.startsWith("no data from the"))).toBe(true);
  expect(model.columns.find(({ id }) => id === "push")?.values.some(Number.isNaN)).toBe(true);
});
