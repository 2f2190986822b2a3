import type { ShotFacts } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { givenEvents, withMarks, withoutMarks } from "./marks.ts";
import { DEFAULT_SETTINGS } from "./settings.ts";

const options = { lengthS: 6, settings: DEFAULT_SETTINGS };
const FACTS: ShotFacts = {
  handed: "right",
  target: { x: 1, y: 0, z: 0 },
  plates: [],
  feet: [],
  keep: "kept",
  events: [
    { event: "impact", timeS: 3.7, source: "signal" },
    { event: "top", timeS: 3.3, source: "estimated", sdMs: 40 },
  ],
};

describe("given events", () => {
  it("are signals and marks, not stored estimates; marks beat signals", () => {
    expect([...givenEvents(FACTS, options).given.keys()]).toEqual(["impact"]);
    expect(givenEvents(FACTS, options).given.get("impact")).toMatchObject({ source: "signal", sigmaMs: 1 });
    const marked = withMarks(FACTS, [{ event: "impact", timeS: 3.65 }]);
    const impact = givenEvents(marked, options).given.get("impact");
    expect(impact).toMatchObject({ timeS: 3.65, source: "marked", sigmaMs: DEFAULT_SETTINGS.markSigmaMs });
  });

  it("leave out a mark that is out of order or outside, with the reason; impact is believed first", () => {
    const events = [
      { event: "impact" as const, timeS: 3.7, source: "marked" as const },
      { event: "top" as const, timeS: 3.8, source: "marked" as const },
      { event: "finish" as const, timeS: 7, source: "marked" as const },
    ];
    const { given, findings } = givenEvents({ events }, options);
    expect([...given.keys()]).toEqual(["impact"]);
    expect(findings.map((f) => f.code)).toEqual(["mark-out-of-order", "mark-out-of-order"]);
    expect(findings[0]?.sentence).toBe(
      "The mark for top was not used: top at 3.800 s must come before impact at 3.700 s.",
    );
    expect(findings[1]?.sentence).toMatch(/outside the recording of 6\.000 s/);
  });
});

describe("marks put into facts", () => {
  it("replace earlier marks of the same event and keep signals", () => {
    const once = withMarks(FACTS, [{ event: "top", timeS: 3.2, sdMs: 5 }]);
    const twice = withMarks(once, [{ event: "top", timeS: 3.25, sdMs: 5 }]);
    expect(twice.events.filter((e) => e.event === "top" && e.source === "marked")).toEqual([
      { event: "top", timeS: 3.25, sdMs: 5, source: "marked" },
    ]);
    expect(twice.events.filter((e) => e.source === "signal")).toHaveLength(1);
    expect(FACTS.events).toHaveLength(2);
    expect(withoutMarks(twice, ["top"]).events).toEqual(FACTS.events);
  });

  it("are refused out of order, with the reason", () => {
    const refused = () => withMarks(FACTS, [{ event: "delivery", timeS: 3.9 }]);
    expect(refused).toThrow(/delivery at 3.900 s must come before impact at 3.700 s/);
    expect(refused).toThrow(expect.objectContaining({ code: "mark-out-of-order" }));
    expect(() => withMarks(FACTS, [{ event: "top", timeS: Number.NaN }])).toThrow(/not a number/);
    // Moving both at once is no conflict.
    const moved = withMarks(FACTS, [
      { event: "impact", timeS: 4 },
      { event: "delivery", timeS: 3.9 },
    ]);
    expect(moved.events).toHaveLength(4);
  });
});
