import { random } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import type { ComparedShot } from "./compared-shot.ts";
import { type ComparisonOptions, comparison } from "./comparison.ts";
import { designOf } from "./design.ts";
import { type HandMade, shotsOf } from "./hand-made-shots.ts";

const M = "lead.share.at.impact";
const PUSH = "both.target.peak turf";
const numbers = (count: number, seed: number, mean = 0): number[] => {
  const stream = random(seed, "design");
  return Array.from({ length: count }, () => mean + stream.normal());
};
const side = (name: string, count: number, facts: HandMade & { seed?: number; mean?: number } = {}) => {
  const { seed = 1, mean = 0, ...others } = facts;
  return shotsOf(name, { [M]: numbers(count, seed, mean) }, others);
};
const compared = (a: readonly ComparedShot[], b: readonly ComparedShot[], more: Partial<ComparisonOptions> = {}) =>
  comparison({
    a: { name: "A", shots: a },
    b: { name: "B", shots: b },
    ...{ measures: [M], axes: "turf", seed: 1, streams: random },
    ...more,
  });
const codes = (found: ReturnType<typeof compared>): string[] => found.notices.map(({ code }) => code);
const upTo = (count: number, from = 1): number[] => Array.from({ length: count }, (_, k) => from + k);

describe("who counts", () => {
  test("nothing but mishits on one side: too few, and not of two days, nor of two lies", () => {
    const missed = side("b", 6, { labels: Array.from({ length: 6 }, () => "mishit" as const) });
    const [one, other] = [compared(side("a", 6), missed), compared(missed, side("a", 6))];
    for (const found of [one, other]) {
      expect(codes(found)).toContain("left-out");
      expect(codes(found)).not.toContain("between-sessions");
      expect(found.design).toMatchObject({ isBetweenSessions: false, isBetweenLies: false });
      expect(found.measures[0]).toMatchObject({ verdict: "tooFew" });
    }
    const onTwoDaysAndLies = [...side("a", 3), ...side("a", 3, { sessionId: "s2", day: "2026-03-18", pitchDeg: 5 })];
    const found = compared(onTwoDaysAndLies, missed);
    expect(codes(found).filter((code) => code.includes("sessions") || code === "between-lies")).toEqual([]);
    expect(found.measures[0]?.a.mean).toBeCloseTo(
      onTwoDaysAndLies.reduce((sum, { measures }) => sum + (measures.get(M)?.value ?? 0), 0) / 6,
      10,
    );
    expect(found.measures[0]?.freed).toMatchObject({ kind: "withheld", n: [6, 0] });
  });

  test("shots that are not kept are left out by label, with their numbers, and never by value", () => {
    const a = side("even", 8, { labels: ["kept", "mishit", "set-aside", "invalid", "kept", "kept", "kept", "kept"] });
    const found = compared(a, side("b", 6));
    expect(found.notices.filter(({ code }) => code === "left-out")).toEqual([
      { code: "left-out", label: "mishit", countA: 1, countB: 0 },
      { code: "left-out", label: "set-aside", countA: 1, countB: 0 },
      { code: "left-out", label: "invalid", countA: 1, countB: 0 },
    ]);
    expect(found.measures[0]?.a.n).toBe(5);
    expect(found.a).toMatchObject({ countShots: 8, mishitIds: ["even-s-1"] });
  });

  test("both ways with mishits: where they decide, it is said", () => {
    const kept = [1, 2, 3, 4, 5, 6];
    const b = shotsOf(
      "b",
      { [M]: [...kept.map((value) => value + 9), -40, -45, -50] },
      {
        labels: [...kept.map(() => "kept" as const), "mishit", "mishit", "mishit"],
      },
    );
    const found = compared(shotsOf("even", { [M]: kept }), b);
    expect(found.measures[0]).toMatchObject({ verdict: "beyondScatter", mishitsDecide: true });
    expect(found.measures[0]?.withMishits).toMatchObject({ countA: 6, countB: 9, verdict: "withinScatter" });
    expect(found.notices).toContainEqual({ code: "mishits-decide", columns: [M] });
  });

  test("shots of two players, of nobody, or on both sides are refused in a sentence", () => {
    expect(() => compared(side("even", 5, { player: "P01" }), side("b", 5, { player: "P02" }))).toThrow(
      "These are shots of 2 players (P01, P02)",
    );
    expect(() => compared([], side("b", 5))).toThrow('There is no shot in "A".');
    const same = side("even", 5);
    expect(() => compared(same, same.slice(0, 1))).toThrow("One shot is in both sides");
    expect(() => compared(same, side("b", 5), { measures: ["lead.nothing"] })).toThrow("no measure");
    expect(() => compared(same, side("b", 5), { margins: new Map([[M, 0]]) })).toThrow("a margin lies above 0");
  });
});

describe("what the order allows", () => {
  test("all of A before all of B: no verdict, whatever the difference", () => {
    const found = compared(side("even", 6, { ordinals: upTo(6) }), side("b", 6, { ordinals: upTo(6, 7), mean: 50 }));
    expect(found.notices).toContainEqual({ code: "order-confounded", first: "a" });
    expect(found.measures[0]).toMatchObject({ verdict: "withheld", reasons: ["order-confounded"], lozenge: "none" });
  });

  test("pairs of the plan are compared as pairs: all sign flips, t of the differences", () => {
    // Blocks far apart: what pairs are for.
    const lift = upTo(8, 0).map((k) => 3 * k);
    const lifted = (seed: number, mean: number): number[] =>
      numbers(8, seed, mean).map((one, k) => one + (lift[k] ?? 0));
    const [a, b] = [shotsOf("even", { [M]: lifted(1, 0) }), shotsOf("b", { [M]: lifted(2, 1) })];
    const blockOf = new Map([...a, ...b].map(({ shotId }) => [shotId, Number(shotId.split("-").at(-1))]));
    const found = compared(a, b, { plan: { order: "blocked", blockOf } });
    expect(found.design.kind).toBe("paired");
    const [row] = found.measures;
    expect(row).toMatchObject({ countArrangements: 256, smallestP: 2 / 256, pMethod: "exact" });
    expect(row?.freed).toMatchObject({ method: "paired-t", nu: 7 });
    const pairs = numbers(8, 1).map((value, k) => (numbers(8, 2, 1)[k] ?? 0) - value);
    const absT = (of: readonly number[]): number => {
      const mean = of.reduce((sum, one) => sum + one, 0) / of.length;
      return Math.abs(mean) / Math.sqrt(of.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 7 / 8);
    };
    const flipped = upTo(256, 0).map((flips) => absT(pairs.map((one, k) => ((flips >> k) & 1 ? -one : one))));
    const extreme = flipped.filter((t) => t >= absT(pairs) - 1e-10).length;
    expect(row?.p).toBeCloseTo(extreme / 256, 12);
  });

  test("blocks of two each: labels are exchanged within blocks only", () => {
    const [a, b] = [side("even", 6), side("b", 6, { seed: 2 })];
    const blockOf = new Map(
      [...a, ...b].map(({ shotId }) => [shotId, Math.floor(Number(shotId.split("-").at(-1)) / 2)]),
    );
    const found = compared(a, b, { plan: { order: "blocked", blockOf } });
    expect(found.design.kind).toBe("blocked");
    expect(found.measures[0]).toMatchObject({ countArrangements: 6 ** 3, smallestP: 2 / 216 });
  });

  test("a session with both sides is compared by itself; one with A alone is left out and said", () => {
    const a = [...side("even", 6), ...side("even", 4, { sessionId: "t", day: "2026-04-01", mean: 90 })];
    const found = compared(a, side("b", 6, { seed: 2 }));
    expect(found.notices).toContainEqual({ code: "several-sessions", countSessions: 1, countA: 4, countB: 0 });
    expect(found.measures[0]?.a.n).toBe(6);
  });

  test("several sessions with both sides: a day that lifts both moves nothing", () => {
    const of = (lift: number) => {
      const second = { sessionId: "t", day: "2026-04-01" };
      const a = [...side("even", 6), ...side("even", 6, { ...second, seed: 3, mean: lift })];
      return compared(a, [
        ...side("b", 6, { seed: 2, mean: 3 }),
        ...side("b", 6, { ...second, seed: 4, mean: 3 + lift }),
      ]);
    };
    const [plain, lifted] = [of(0).measures[0], of(70).measures[0]];
    expect(lifted?.verdict).toBe("beyondScatter");
    expect(lifted?.p).toBe(plain?.p);
    if (plain?.freed.kind === "withheld" || lifted?.freed.kind === "withheld") throw new RangeError("withheld");
    expect(lifted?.freed.value).toBeCloseTo(plain?.freed.value ?? Number.NaN, 9);
    expect(lifted?.countArrangements).toBe(10_000);
    expect(lifted?.raw).toEqual(lifted?.freed);
    // The middle of one session was taken off: ν of two times eleven, less one.
    expect(lifted.freed.nu).toBeLessThanOrEqual(21 + 1e-9);
  });

  test("two days are two days: the error that a set-up shares must be exceeded too", () => {
    const day = { sessionId: "t", day: "2026-04-01" };
    const of = (sigmaShared: number) =>
      compared(side("even", 8, { sigmaShared }), side("b", 8, { ...day, seed: 2, mean: 4, sigmaShared }));
    expect(codes(of(0))).toContain("between-sessions");
    expect(of(0).measures[0]?.verdict).toBe("beyondScatter");
    expect(of(2).measures[0]).toMatchObject({ verdict: "withinScatter", reasons: ["shared-error"] });
    expect(of(2).measures[0]?.sigmaShared).toBeCloseTo(2 * Math.SQRT2, 12);
  });

  test("several sessions, none with both sides: no verdict", () => {
    const days = [
      { sessionId: "t", day: "2026-04-01" },
      { sessionId: "u", day: "2026-05-01" },
    ] as const;
    const b = days.flatMap((day) => side("b", 6, { ...day, seed: 2, mean: 30 }));
    const found = compared(side("even", 6), b);
    expect(codes(found)).toContain("sessions-not-shared");
    expect(found.measures[0]).toMatchObject({ verdict: "withheld", reasons: ["dependent"] });
  });

  test("other clubs, shoes or plates are named on both sides", () => {
    const found = compared(side("even", 5, { club: "wedge 56" }), side("b", 5, { club: "wedge 58" }));
    expect(found.notices).toContainEqual({ code: "different-clubs", a: ["wedge 56"], b: ["wedge 58"] });
    expect(codes(found)).not.toContain("different-shoes");
  });
});

describe("between lies", () => {
  const up = { pitchDeg: 4 };

  test("a lie visited once: said in a lesson, withheld in a study", () => {
    const [flat, slope] = [
      side("even", 6, { ordinals: upTo(6) }),
      side("b", 6, { ordinals: upTo(6, 7), ...up, mean: 9 }),
    ];
    const lesson = compared(flat, slope);
    expect(lesson.notices).toContainEqual({ code: "lie-once", sides: ["a", "b"] });
    expect(codes(lesson)).not.toContain("order-confounded");
    expect(lesson.measures[0]?.verdict).toBe("beyondScatter");
    expect(compared(flat, slope, { purpose: "study" }).measures[0]).toMatchObject({
      verdict: "withheld",
      reasons: ["lie-once"],
    });
  });

  test("two visits to each lie: the difference must exceed that between visits to one", () => {
    const twice = [1, 2, 3, 10, 11, 12];
    const flat = shotsOf("even", { [M]: [0, 0.1, 0.2, 6, 6.1, 6.2] }, { ordinals: twice });
    const slope = shotsOf("b", { [M]: [8, 8.1, 8.2, 8.1, 8.2, 8.3] }, { ...up, ordinals: twice.map((n) => n + 3) });
    const [row] = compared(flat, slope).measures;
    expect(row?.visitDifference).toBeCloseTo(6, 9);
    expect(row).toMatchObject({ verdict: "withinScatter", reasons: ["visits"] });
  });

  test("four visits to each: whole visits are exchanged, C(8, 4) = 70", () => {
    const places = upTo(16).filter((n) => Math.floor((n - 1) / 2) % 2 === 0);
    const flat = side("even", 8, { ordinals: places });
    const slope = side("b", 8, { ...up, ordinals: places.map((n) => n + 2), seed: 2, mean: 9 });
    const found = compared(flat, slope);
    expect(found.design.kind).toBe("visits");
    expect(found.measures[0]).toMatchObject({ countArrangements: 70, smallestP: 2 / 70, verdict: "beyondScatter" });
  });

  test("lies are one where their angles are, whatever their names; where nobody gave angles, by name", () => {
    const of = (a: HandMade, b: HandMade) =>
      designOf(side("even", 5, a), side("b", 5, b), { purpose: "lesson" }).isBetweenLies;
    expect(of({ lieName: "tee" }, { lieName: "flat" })).toBe(false);
    expect(of({ pitchDeg: 0.004 }, { pitchDeg: -0.004 })).toBe(false);
    expect(of({}, { pitchDeg: 0.5 })).toBe(true);
  });

  test("level axes: nothing is taken off, since a level measure has no slope's share", () => {
    const level = "both.target.peak level";
    const [flat, slope] = [
      shotsOf("even", { [PUSH]: numbers(6, 1), [level]: numbers(6, 1) }),
      shotsOf("b", { [PUSH]: numbers(6, 2, 50), [level]: numbers(6, 2, 3) }, { ...up }),
    ];
    const found = compared(flat, slope, { measures: [level], axes: "level" });
    expect(found.measures[0]?.slopeShare).toBe(0);
    expect(found.measures[0]?.raw).toEqual({ ...found.measures[0]?.freed });
  });
});

describe("families and counts", () => {
  test("one primary measure is not corrected; others are, and chance is counted", () => {
    const rows = Object.fromEntries([M, PUSH, "both.turn.peak"].map((column, m) => [column, numbers(7, m + 1)]));
    const found = compared(
      shotsOf("even", rows),
      shotsOf("b", Object.fromEntries(Object.entries(rows).map(([c, v]) => [c, v.map((x) => x + 2)]))),
      {
        measures: Object.keys(rows),
        primary: [M],
      },
    );
    expect(found.measures.map(({ family, adjustedBy }) => [family, adjustedBy])).toEqual([
      ["primary", "none"],
      ["rest", "max-t"],
      ["rest", "max-t"],
    ]);
    expect(found.measures[0]?.adjustedP).toBe(found.measures[0]?.p);
    expect(found.measures[0]?.q).toBeNaN();
    expect(found.summary.expectedByChance).toBeCloseTo(0.15, 12);
  });

  test("a measure with a missing value leaves the common labellings, is corrected by Holm, and that is said", () => {
    const a = { [M]: numbers(6, 1), [PUSH]: [Number.NaN, ...numbers(5, 2)] };
    const b = { [M]: numbers(6, 3, 5), [PUSH]: numbers(6, 4, 5) };
    const found = compared(shotsOf("even", a), shotsOf("b", b), { measures: [M, PUSH] });
    expect(found.notices).toContainEqual({ code: "missing-values", columns: [PUSH] });
    expect(found.measures[1]).toMatchObject({ adjustedBy: "holm", a: { n: 5, countMissing: 1 } });
    // C(11, 5) = 462 labellings of its own; two measures share the level.
    expect(found.measures[1]?.smallestP).toBeCloseTo(2 / 462, 12);
  });

  test("counts that cannot show it are called that, and few shots too few", () => {
    const blockOf = new Map(
      upTo(5, 0).flatMap(
        (k) =>
          [
            [`even-s-${k}`, k],
            [`b-s-${k}`, k],
          ] as [string, number][],
      ),
    );
    const pairs = compared(side("even", 5), side("b", 5, { seed: 2, mean: 60 }), {
      plan: { order: "blocked", blockOf },
    });
    expect(pairs.measures[0]).toMatchObject({ verdict: "unreachable", lozenge: "too-few", smallestP: 0.0625 });
    const few = compared(side("even", 4), side("b", 6, { seed: 2, mean: 60 }));
    expect(few.measures[0]).toMatchObject({ verdict: "tooFew", lozenge: "too-few" });
  });

  test("a margin set before: equivalent, not merely within", () => {
    const found = compared(side("even", 10), side("b", 10, { seed: 2 }), { margins: new Map([[M, 3]]) });
    expect(found.measures[0]).toMatchObject({ verdict: "equivalent", equivalence: { margin: 3, isEquivalent: true } });
  });

  test("looked at again and again, the level falls", () => {
    const [a, b] = [side("even", 6), side("b", 6, { seed: 2, mean: 2.2 })];
    const once = compared(a, b).measures[0];
    expect(once?.verdict).toBe("beyondScatter");
    expect(compared(a, b, { looks: { times: 100, kind: "unplanned" } }).measures[0]?.verdict).not.toBe("beyondScatter");
  });
});
