import type { Foot, TurfPoint } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import reference from "../../../reference/mechanics.json" with { type: "json" };
import { checkedSole, footCoordinates, soleFault } from "./foot-coordinates.ts";
import type { Sole } from "./shot.ts";

const point = ([targetM, aheadM]: readonly number[]): TurfPoint => ({ targetM: targetM!, aheadM: aheadM! });
const soleOf = (row: { outline: number[][]; heel: number[]; toe: number[] }): Sole => ({
  outline: row.outline.map(point),
  heel: point(row.heel),
  toe: point(row.toe),
});
const RECTANGLE: Sole = {
  outline: [point([0.15, -0.14]), point([0.25, -0.14]), point([0.25, 0.14]), point([0.15, 0.14])],
  heel: point([0.2, -0.14]),
  toe: point([0.2, 0.14]),
};

describe("foot coordinates", () => {
  it("agree with the table at five flares, one of 90 degrees", () => {
    for (const row of reference.foot.rows) {
      const found = footCoordinates(soleOf(row), row.foot as Foot, point(row.point));
      expect(Math.abs(found.heelToe - row.heel_toe)).toBeLessThan(1e-6);
      expect(Math.abs(found.innerOuter - row.inner_outer)).toBeLessThan(1e-6);
      expect(Math.abs(found.marginMm - row.margin_mm)).toBeLessThan(1e-6);
    }
  });

  it("agree with the second program, rectangles by hand among them (1e-9)", () => {
    for (const row of reference.second.feet.cases) {
      for (const one of row.points) {
        const found = footCoordinates(soleOf(row), row.foot as Foot, point(one.point));
        expect(Math.abs(found.heelToe - one.heelToe)).toBeLessThan(1e-9);
        expect(Math.abs(found.innerOuter - one.innerOuter)).toBeLessThan(1e-9);
        expect(Math.abs(found.marginMm - one.marginMm)).toBeLessThan(1e-9);
      }
    }
  });

  it("are missing for a missing point", () => {
    const found = footCoordinates(RECTANGLE, "lead", point([Number.NaN, 0]));
    expect(Object.values(found).every(Number.isNaN)).toBe(true);
  });
});

describe("an outline", () => {
  it("is refused when it crosses itself, covers under 50 cm², has two points or lacks a number", () => {
    const [a, b, c, d] = RECTANGLE.outline as [TurfPoint, TurfPoint, TurfPoint, TurfPoint];
    const bad: [Sole, RegExp][] = [
      [{ ...RECTANGLE, outline: [a, b, d, c, point([0.2, 0.3])] }, /crosses itself/],
      [{ ...RECTANGLE, outline: [a, b, point([0.2, -0.1])] }, /cm²/],
      [{ ...RECTANGLE, outline: [a, b] }, /2 points/],
      [{ ...RECTANGLE, outline: [a, b, c, point([Number.NaN, 0])] }, /missing/],
      [{ ...RECTANGLE, toe: RECTANGLE.heel }, /apart/],
    ];
    for (const [sole, why] of bad) {
      expect(soleFault(sole)).toMatch(why);
      expect(() => checkedSole(sole, "lead")).toThrow(expect.objectContaining({ code: "outline-invalid" }));
    }
    expect(checkedSole(RECTANGLE, "lead")).toBe(RECTANGLE);
  });

  it("may be hollow", () => {
    const hollow = [...RECTANGLE.outline, point([0.19, 0])];
    expect(soleFault({ ...RECTANGLE, outline: hollow })).toBeUndefined();
  });
});
