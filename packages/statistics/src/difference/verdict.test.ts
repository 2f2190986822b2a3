import { describe, expect, it } from "vitest";
import { equivalence } from "./equivalence.ts";
import { bothWays, type VerdictInput, verdictOf } from "./verdict.ts";
import { type Difference, welch } from "./welch.ts";

const a = [10, 11, 9, 10.5, 9.5, 10];
const far = welch(
  a,
  a.map((value) => value + 3),
) as Difference;
const near = welch(
  a,
  a.map((value) => value + 0.2),
) as Difference;
const beyond: VerdictInput = { difference: far, p: 0.002, adjustedP: 0.01, smallestP: 0.0022 };
const verdict = (changes: Partial<VerdictInput>) => verdictOf({ ...beyond, ...changes });

describe("the verdict", () => {
  it("is beyond scatter only where labels, interval, shared error and visits all say so", () => {
    expect(verdict({})).toEqual({ verdict: "beyondScatter", reasons: [] });
    expect(verdict({ adjustedP: 0.05 }).verdict).toBe("beyondScatter");
    expect(verdict({ sigmaShared: 1.6 })).toEqual({ verdict: "withinScatter", reasons: ["shared-error"] });
    expect(verdict({ sigmaShared: 1.4 }).verdict).toBe("beyondScatter");
    expect(verdict({ visitDifference: 3.1 })).toEqual({ verdict: "withinScatter", reasons: ["visits"] });
    // Labels alone claim too much where one condition scatters more: the interval must agree.
    expect(verdict({ difference: near })).toEqual({ verdict: "withinScatter", reasons: ["interval"] });
  });
  it("names what is beyond alone but not after allowing for looks", () => {
    expect(verdict({ p: 0.01, adjustedP: 0.2 })).toEqual({ verdict: "beyondAlone", reasons: ["labels"] });
    expect(verdict({ p: 0.2, adjustedP: 0.3 })).toEqual({ verdict: "withinScatter", reasons: ["labels"] });
    expect(verdict({ p: 0.01, adjustedP: 0.2, sigmaShared: 5 }).verdict).toBe("withinScatter");
    expect(verdict({ p: 0.01, adjustedP: 0.02, alphaOfOne: 0.0125 }).verdict).toBe("beyondAlone");
  });
  it("is unreachable where the counts cannot show anything, which is not the same as no difference", () => {
    expect(verdict({ smallestP: 0.0625, p: 0.0625, adjustedP: 0.0625 }).verdict).toBe("unreachable");
    expect(verdict({ smallestP: 0.05 }).verdict).toBe("beyondScatter");
  });
  it("is equivalent only by a margin set before", () => {
    const small = { difference: near, p: 0.6, adjustedP: 0.9 };
    expect(verdict({ ...small, equivalence: equivalence(near, 2) }).verdict).toBe("equivalent");
    expect(verdict({ ...small, equivalence: equivalence(near, 0.3) }).verdict).toBe("withinScatter");
    expect(verdict(small).verdict).toBe("withinScatter");
  });
  it("is not given below five shots, without scatter, or where the plan forbids it", () => {
    const four = welch([1, 2, 3, 4], [5, 6, 7, 8, 9]);
    expect(verdict({ difference: four })).toEqual({ verdict: "tooFew", reasons: ["too-few"] });
    expect(verdict({ difference: welch([1, 2], [3, 4]) }).verdict).toBe("tooFew");
    expect(verdict({ difference: welch([1, 1, 1], [2, 2, 2]) })).toEqual({
      verdict: "withheld",
      reasons: ["no-scatter"],
    });
    expect(verdict({ withheldFor: ["lie-once"] })).toEqual({ verdict: "withheld", reasons: ["lie-once"] });
  });
  it("judges against what explains nothing", () => {
    const explained = { ...far, nullDifference: 2.9 };
    expect(verdict({ difference: explained, sigmaShared: 0.1 }).reasons).toContain("shared-error");
  });
});

describe("both ways with mishits", () => {
  const judge = (shots: readonly number[]) => ({
    verdict: shots.length > 3 ? "beyondScatter" : "withinScatter",
    shots,
  });
  it("compares without and with them, and says when they decide", () => {
    const found = bothWays([0, 1, 0, 0], judge);
    expect(found.without.shots).toEqual([0, 2, 3]);
    expect(found.with.shots).toEqual([0, 1, 2, 3]);
    expect(found.mishitsDecide).toBe(true);
  });
  it("is one comparison where there are none", () => {
    let calls = 0;
    const found = bothWays([0, 0, 0, 0], (shots) => {
      calls++;
      return judge(shots);
    });
    expect(calls).toBe(1);
    expect(found.mishitsDecide).toBe(false);
    expect(found.with).toBe(found.without);
  });
});
