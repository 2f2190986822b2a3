import { cross, type FootOutlineFact, random, type Vector } from "@underfoot/domain";
import { footCoordinates, marginM } from "@underfoot/mechanics";
import { describe, expect, test } from "vitest";
import { emptyPlate, handMadeRecording } from "../hand-made-recording.ts";
import { outlineFromPoints } from "../outline-from-points.ts";
import { type PlateCheckQuestion, plateCheck } from "../plate-check.ts";
import type { PlateCheckOutcome } from "./check-outcome.ts";
import { closedCurve, type SurfacePoint, smoothed } from "./smooth-outline.ts";

const RATE_HZ = 500;
type Ok = Extract<PlateCheckOutcome, { status: "ok" }>;
function ok(outcome: PlateCheckOutcome): Ok {
  if (outcome.status !== "ok") throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome;
}
const point = (x: number, y: number, z = 0): Vector => ({ x, y, z });

/** An ellipse of a foot's size about a point of the plate, long side ahead (laboratory y), in plate axes y is turned. */
const ellipse = (share: number, [a, b]: readonly [number, number], [x, y]: readonly [number, number]): Vector =>
  point(x + a * Math.cos(2 * Math.PI * share), y + b * Math.sin(2 * Math.PI * share));

interface Traced {
  readonly halfM: readonly [number, number];
  readonly atM: readonly [number, number];
  /** Times round. */
  readonly rounds: number;
  readonly stanceM?: Vector;
  /** A lift of half a second in the middle, in which the stick does not move. */
  readonly isLifted?: boolean;
}

/** 1 s of nothing, 8 s round the ellipse with 50 N, 1 s of nothing, 3 s of stepping on and standing with 400 N; offsets, noise. */
function tracedPlate(x: number, { halfM, atM, rounds, stanceM, isLifted }: Traced) {
  const plate = emptyPlate(point(x, 0), 14 * RATE_HZ);
  const draw = random(7, `noise of ${x}`);
  const offset = { x: 1, y: -1, z: 2 };
  for (let i = 0; i < 14 * RATE_HZ; i++) {
    const timeS = i / RATE_HZ;
    const isUp = isLifted === true && timeS > 4.75 && timeS < 5.25;
    const along = isLifted ? Math.min(timeS, 4.75) + Math.max(0, timeS - 5.25) - 1 : timeS - 1;
    const isTraced = timeS >= 1 && timeS < 9 && !isUp;
    const isStood = stanceM !== undefined && timeS >= 10 && timeS < 13;
    // Stepping on takes a second, beside the outline at first.
    const onShare = Math.min(1, timeS - 10);
    const place = isStood
      ? point(stanceM.x + 0.2 * (1 - onShare), stanceM.y)
      : ellipse((rounds * along) / (isLifted ? 7.5 : 8), halfM, atM);
    const force = point(0, 0, isStood ? 400 * onShare : isTraced ? 50 : 0);
    const moment = cross(place, force);
    for (const axis of ["x", "y", "z"] as const) {
      plate.forceN[axis][i] = force[axis] + offset[axis] + 0.3 * draw.normal();
      plate.momentNm[axis][i] = moment[axis] + 0.2 * offset[axis] + 0.1 * draw.normal();
    }
  }
  return plate;
}

const facts = {
  handed: "right" as const,
  // Ahead of a right-handed player is minus the laboratory's y.
  target: point(1, 0),
  plates: [
    { plate: 1, foot: "lead" as const },
    { plate: 2, foot: "trail" as const },
  ],
};
const ask = (plates: readonly Traced[], more: object = { facts }): PlateCheckOutcome =>
  plateCheck({
    kind: "outlines",
    recording: handMadeRecording(
      plates.map((plate, k) => tracedPlate(0.2 - 0.4 * k, plate)),
      { rateHz: RATE_HZ },
    ),
    ...more,
  } as PlateCheckQuestion);

const FOOT: Traced = { halfM: [0.05, 0.14], atM: [0.01, -0.02], rounds: 1, stanceM: point(0.02, -0.04) };
const outlinesOf = (outcome: Ok) => (outcome.detail as { outlines: readonly FootOutlineFact[] }).outlines;

describe("outlines from a traced edge", () => {
  test("an ellipse of 280 x 100 mm: 40 points within 2 mm of it, heel and toe ahead, both feet", () => {
    const outcome = ok(ask([FOOT, FOOT]));
    expect(outcome.isPassed).toBe(true);
    expect(outcome.parts).toHaveLength(8);
    const [lead, trail] = outlinesOf(outcome);
    expect([lead!.foot, trail!.foot]).toEqual(["lead", "trail"]);
    expect(lead!.outline).toHaveLength(40);
    for (const { x, y } of lead!.outline) {
      // Plate y is minus the laboratory's. Off the ellipse by (f - 1) times the distance to its centre.
      const f = Math.hypot((x - 0.01) / 0.05, (y - 0.02) / 0.14);
      expect(Math.abs(f - 1) * Math.hypot(x - 0.01, y - 0.02)).toBeLessThan(0.002);
    }
    expect(Math.abs(lead!.toe!.y - 0.16)).toBeLessThan(0.004);
    expect(Math.abs(lead!.heel!.y + 0.12)).toBeLessThan(0.004);
    // Smoothing takes off the tip: radius of the ellipse's end is 18 mm, 10² / (6 x 18) = 0.9 mm at each end.
    expect(Math.abs(sizes(outcome).lengthMm - 278)).toBeLessThan(2);
    expect(Math.abs(sizes(outcome).breadthMm - 100)).toBeLessThan(2);
  });

  const sizes = (outcome: Ok) =>
    (outcome.detail as { feet: readonly { lengthMm: number; breadthMm: number; gapMm: number }[] }).feet[0]!;

  test("who goes on past the beginning, or round twice, traces the same foot", () => {
    for (const rounds of [1.15, 2]) {
      const outcome = ok(ask([{ ...FOOT, rounds }]));
      expect(outcome.isPassed).toBe(true);
      expect(sizes(outcome).gapMm).toBeLessThan(6);
      expect(Math.abs(sizes(outcome).lengthMm - 278)).toBeLessThan(3);
    }
  });

  test("a lift in between is bridged where it is short", () => {
    expect(ok(ask([{ ...FOOT, isLifted: true }])).isPassed).toBe(true);
  });

  test("an outline that stays open, a stance outside, and sizes that are no foot's fail with their numbers", () => {
    const open = ok(ask([{ ...FOOT, rounds: 0.93 }]));
    // 7 % of a turn at the long side: 0.07 x 2 pi x 140 mm = 62 mm.
    expect(open.isPassed).toBe(false);
    expect(open.sentence).toMatch(/stays open by 6\d\.\d mm; 10 mm allowed/);
    const outside = ok(ask([{ ...FOOT, stanceM: point(0.08, -0.02) }]));
    expect(outside.sentence).toMatch(/lies (19|20|21)\.\d mm outside its outline; 5 mm allowed/);
    const small = ok(ask([{ halfM: [0.03, 0.08], atM: [0, 0], rounds: 1 }]));
    expect(small.parts.filter(({ isPassed }) => !isPassed).map(({ name }) => name)).toEqual([
      "Length, lead foot",
      "Breadth, lead foot",
    ]);
    expect(small.cautions.join(" ")).toContain("was not checked");
  });

  test("nobody traced, nobody said which foot; one plate under both feet is told by the question", () => {
    const codeOf = (outcome: PlateCheckOutcome) =>
      outcome.status === "ok" ? "ok" : `${outcome.status} ${outcome.code}`;
    expect(codeOf(ask([FOOT], {}))).toBe("needs-facts plates-missing");
    expect(codeOf(ask([FOOT], { foot: "trail" }))).toBe("ok");
    const still = handMadeRecording([emptyPlate(point(0, 0), 3 * RATE_HZ)], { rateHz: RATE_HZ });
    expect(codeOf(plateCheck({ kind: "outlines", recording: still, facts }))).toBe("error no-trace");
  });
});

describe("an outline from five points", () => {
  // A right foot that points along y, 270 mm long and 98 mm broad, on plates whose y is ahead; the inner side is at smaller x.
  const right = {
    foot: "trail",
    frame: "plate",
    heel: point(0, -0.13, 0),
    innerBall: point(-0.045, 0.05),
    outerBall: point(0.053, 0.03),
    bigToe: point(-0.025, 0.138),
    littleToe: point(0.04, 0.095),
  } as const;

  test("goes through all five to rounding, has a heel, and is a foot's size", () => {
    const fact = outlineFromPoints(right);
    expect(fact.outline).toHaveLength(40);
    const turf = ({ x, y }: Vector) => ({ targetM: x, aheadM: y });
    const sole = { outline: fact.outline.map(turf), heel: turf(fact.heel!), toe: turf(fact.toe!) };
    for (const name of ["heel", "innerBall", "outerBall", "bigToe", "littleToe"] as const) {
      expect(Math.abs(marginM(sole.outline, turf(right[name])))).toBeLessThan(1e-9);
    }
    const middle = footCoordinates(sole, "trail", { targetM: 0, aheadM: 0 });
    expect(middle.heelToe).toBeGreaterThan(40);
    expect(middle.heelToe).toBeLessThan(60);
    expect(middle.marginMm).toBeGreaterThan(25);
    const atHeel = fact.outline.filter(({ y }) => y < -0.08).map(({ x }) => x);
    expect(Math.max(...atHeel) - Math.min(...atHeel)).toBeGreaterThan(0.05);
  });

  test("the mirrored foot is the mirror of it", () => {
    const flipped = (v: Vector): Vector => point(-v.x, v.y, v.z);
    const left = outlineFromPoints({
      foot: "lead",
      frame: "plate",
      heel: flipped(right.heel),
      innerBall: flipped(right.innerBall),
      outerBall: flipped(right.outerBall),
      bigToe: flipped(right.bigToe),
      littleToe: flipped(right.littleToe),
    });
    const own = outlineFromPoints(right).outline;
    for (const [k, p] of left.outline.entries()) {
      expect(p.x).toBeCloseTo(-own[k]!.x, 12);
      expect(p.y).toBeCloseTo(own[k]!.y, 12);
    }
  });

  test("points on one spot or crossed over are refused", () => {
    expect(() => outlineFromPoints({ ...right, bigToe: right.littleToe, littleToe: right.bigToe })).toThrow(
      /crosses itself/,
    );
    const at = right.heel;
    expect(() => outlineFromPoints({ ...right, bigToe: at, littleToe: at, innerBall: at, outerBall: at })).toThrow(
      /cm²/,
    );
  });
});

describe("closed curves", () => {
  const circle = (n: number): readonly SurfacePoint[] =>
    Array.from({ length: n }, (_, k) => [
      0.04 * Math.cos((2 * Math.PI * k) / n),
      0.04 * Math.sin((2 * Math.PI * k) / n),
    ]);

  test("a spline through 12 points of a circle goes through them, stays within 0.3 mm of it and is spread evenly", () => {
    const curve = closedCurve(circle(12));
    for (const [x, y] of curve) expect(Math.abs(Math.hypot(x, y) - 0.04)).toBeLessThan(0.0003);
    expect(curve).toHaveLength(40);
    for (const [k, p] of circle(12).entries())
      expect(
        curve.some((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-12),
        `point ${k}`,
      ).toBe(true);
    // 3 or 4 steps a span.
    const steps = curve.map(([x, y], k) => {
      const [u, v] = curve[(k + 1) % curve.length]!;
      return Math.hypot(x - u, y - v);
    });
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(1.4);
  });

  test("smoothing over 10 mm either side takes half² / (6 R) off a circle's radius", () => {
    for (const [x, y] of smoothed(circle(720), 40, 0.01)) {
      expect(Math.abs(0.04 - Math.hypot(x, y) - 0.01 ** 2 / (6 * 0.04))).toBeLessThan(0.0001);
    }
  });
});
