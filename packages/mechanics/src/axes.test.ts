import { cross, dot, type Handed, type Vector } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
// Closed forms by two programs written apart; see reference/mechanics.py.
import reference from "../../../reference/mechanics.json" with { type: "json" };
import { againstGravity, gradePercent, levelFromTurf, levelVector, lieFromUp, turfAxes, turfFromLab } from "./axes.ts";

const vector = ([x, y, z]: readonly number[]): Vector => ({ x: x!, y: y!, z: z! });
const list = (v: { target: number; ahead: number; up: number }): number[] => [v.target, v.ahead, v.up];
const close = (found: readonly number[], wanted: readonly number[], tolerance = 1e-12): void => {
  found.forEach((value, i) => {
    expect(Math.abs(value - wanted[i]!)).toBeLessThan(tolerance);
  });
};

describe("turf and level axes", () => {
  it("give the tabled level axes and direction against gravity", () => {
    for (const row of reference.axes.rows) {
      const lie = { pitchDeg: row.pitch, rollDeg: row.roll };
      close(list(againstGravity(lie)), row.up_in_turf);
      const level = levelFromTurf(lie);
      [level.target, level.ahead, level.up].forEach((axis, i) => {
        close(list(axis), row.level_from_turf[i]!);
      });
    }
  });

  it("give the tabled turf axes of both hands from normal and target", () => {
    for (const row of reference.axes.player_axes) {
      const axes = turfAxes(vector(row.normal), vector(row.target), row.hand as Handed);
      [axes.target, axes.ahead, axes.up].forEach((axis, i) => {
        close([axis.x, axis.y, axis.z], row.axes[i]!);
      });
    }
  });

  it("turn a laboratory vector into turf and level components as the second program does", () => {
    expect(reference.second.axes.cases.length).toBeGreaterThan(10);
    for (const row of reference.second.axes.cases) {
      const axes = turfAxes(vector(row.normal), vector(row.target), row.handed as Handed);
      const turf = turfFromLab(axes, vector(row.vectorLab));
      close(list(turf), row.vectorTurf);
      close(list(levelVector(levelFromTurf({ pitchDeg: row.pitch, rollDeg: row.roll }), turf)), row.vectorLevel);
    }
  });

  it("make a left-handed triad for right-handed players and a right-handed one for left-handed players", () => {
    for (const [handed, sign] of [
      ["right", -1],
      ["left", 1],
    ] as const) {
      const { target, ahead, up } = turfAxes({ x: 0.1, y: 0.2, z: 1 }, { x: 1, y: -2, z: 0.3 }, handed);
      expect(dot(cross(target, ahead), up)).toBeCloseTo(sign, 12);
    }
  });

  it("give the lie back from the direction against gravity", () => {
    const axes = turfAxes({ x: 0.05, y: -0.08, z: 1 }, { x: 1, y: 0.5, z: 0 }, "right");
    const lie = lieFromUp(axes, { x: 0, y: 0, z: 3 });
    const k = againstGravity(lie);
    const up = turfFromLab(axes, { x: 0, y: 0, z: 1 });
    close(list(k), list(up));
  });

  it("refuse a lie beyond 30 degrees or without a number", () => {
    for (const lie of [
      { pitchDeg: 30.1, rollDeg: 0 },
      { pitchDeg: 0, rollDeg: -31 },
      { pitchDeg: Number.NaN, rollDeg: 0 },
    ]) {
      expect(() => levelFromTurf(lie)).toThrow(expect.objectContaining({ code: "lie-too-steep" }));
    }
    expect(() => levelFromTurf({ pitchDeg: 30, rollDeg: -30 })).not.toThrow();
  });

  it("refuse a target along the normal or of no length", () => {
    for (const target of [
      { x: 0, y: 0, z: 2 },
      { x: 0, y: 0, z: 0 },
    ]) {
      expect(() => turfAxes({ x: 0, y: 0, z: 1 }, target, "right")).toThrow(
        expect.objectContaining({ code: "target-along-normal" }),
      );
    }
  });

  it("call a lie of 5 to 6 degrees nine to ten percent of grade, as the trade does (common practice, no source)", () => {
    expect(gradePercent(5)).toBeCloseTo(8.748866, 6);
    expect(gradePercent(6)).toBeCloseTo(10.510424, 6);
    expect(Math.round(gradePercent(5))).toBe(9);
    expect(Math.floor(gradePercent(6))).toBe(10);
  });
});
