import { dayNumber, type YearRow } from "@underfoot/report";
import { describe, expect, test } from "vitest";
import { forgottenText } from "./forgotten-text.ts";
import { massesByDay } from "./masses-by-day.ts";
import { solePath } from "./sole-path.ts";
import { niceStep, yearScale } from "./year-scale.ts";

describe("a player's page, its pure parts", () => {
  test("a foot is turned upright, never mirrored: the point on its right stays there", () => {
    // Heel at the origin, toe 280 mm along +x (the target of a left-hander's lab): the big toe's side is at -y, which is right of +x.
    const outline = [
      { x: 0, y: 0 },
      { x: 0.28, y: 0 },
      { x: 0.2, y: -0.06 },
      { x: 0.2, y: 0.03 },
    ];
    const { d, lengthMm } = solePath(outline);
    expect(lengthMm).toBe(280);
    const [heel, toe, right, left] = d
      .slice(1, -1)
      .split("L")
      .map((pair) => pair.split(" ").map(Number));
    expect(toe?.[1]).toBeLessThan(heel?.[1] ?? 0);
    expect(right?.[0]).toBeGreaterThan(toe?.[0] ?? 0);
    expect(left?.[0]).toBeLessThan(toe?.[0] ?? 0);
  });

  test("a day's mass is the mean of its stances, set-aside shots left out", () => {
    const point = (day: string, value: number | null, label: "kept" | "set-aside" = "kept") => ({
      shotId: "s",
      day,
      ordinal: 1,
      label,
      value,
      sigma: 1,
    });
    const masses = massesByDay([
      point("2026-01-01", 784.532),
      point("2026-01-01", 980.665),
      point("2026-01-01", 5000, "set-aside"),
      point("2026-01-01", null),
      point("2026-02-01", 784.532),
    ]);
    // Standard gravity 9.80665 m/s² (3rd CGPM 1901): 784.532 N is 80 kg, 980.665 N 100 kg.
    expect(masses.map(({ day, massKg }) => [day, Math.round(massKg * 1e9) / 1e9])).toEqual([
      ["2026-02-01", 80],
      ["2026-01-01", 90],
    ]);
    expect(masses[1]?.sdKg).toBeCloseTo(10, 9);
    expect(masses[0]?.sdKg).toBeUndefined();
  });

  test("ticks are 1, 2 or 5 times a power of ten", () => {
    expect([niceStep(10, 4), niceStep(0.7, 4), niceStep(1000, 5), niceStep(4.1, 4)]).toEqual([5, 0.2, 200, 2]);
  });

  test("dates never stand on each other, however many days there are", () => {
    const points = Array.from({ length: 40 }, (_, k) => {
      const day = `2026-${String(1 + Math.floor(k / 4)).padStart(2, "0")}-${String(1 + (k % 4) * 7).padStart(2, "0")}`;
      return { day, dayNumber: dayNumber(day) };
    });
    const row = { points, domain: { low: 0, high: 1 } } as unknown as YearRow;
    for (const width of [320, 640, 900]) {
      const extents = yearScale(row, width, 200)
        .dayTicks.map(({ x, text, anchor }) => {
          const px = text.length * 6.8;
          const left = anchor === "start" ? x : anchor === "end" ? x - px : x - px / 2;
          return { left, right: left + px };
        })
        .sort((a, b) => a.left - b.left);
      expect(extents.length).toBeGreaterThan(1);
      for (const [k, { left }] of extents.entries())
        expect(left).toBeGreaterThan(extents[k - 1]?.right ?? Number.NEGATIVE_INFINITY);
    }
  });

  test("what was forgotten is said with what still holds the person", () => {
    const gone = {
      sessions: 1,
      shots: 12,
      results: 12,
      findings: 3,
      footOutlines: 2,
      plateChecks: 0,
      historyEntries: 20,
      settings: [],
      recordings: 12,
      recordingsShared: 0,
      backups: ["underfoot-2026-03-09.tar"],
      backupsElsewhere: ["a.tar"],
      isScrubbed: true,
      elsewhere: "",
    };
    expect(forgottenText("P01", gone)).toBe(
      "P01 is forgotten: 1 session, 12 shots, 12 recordings, 2 foot outlines, 20 lines of the history. These backups still hold the player and have to be removed by hand: a.tar.",
    );
  });
});
