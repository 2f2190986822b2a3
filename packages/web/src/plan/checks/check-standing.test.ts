import type { PlateCheckShape } from "@underfoot/protocol";
import { describe, expect, test } from "vitest";
import { checkStandings, trustSentence } from "./check-standing.ts";
import { amount, CHECK_KINDS, type CheckKind } from "./check-words.ts";

let made = 0;
const check = (kind: CheckKind, part: Partial<PlateCheckShape> = {}): PlateCheckShape => ({
  id: `c${made}`,
  sessionId: "s1",
  kind,
  unit: "N",
  isPassed: true,
  wentOn: false,
  createdMs: made++,
  ...part,
});
const said = (checks: readonly PlateCheckShape[]): string => trustSentence(checkStandings(checks));

describe("the first sentence", () => {
  test("counts what passed and says what is off and what to look at", () => {
    const lean = check("quiet-lean", { isPassed: false, found: 1.9, allowed: 0.5, unit: "°" });
    expect(said([check("zero"), check("known-mass"), check("clocks"), lean])).toBe(
      "3 of 5 checks passed. The lean of the quiet stance is 1.9 degrees off: check the inclinometer or the plates.",
    );
  });

  test("says when nothing was made, what is left to make, and when all passed", () => {
    expect(said([])).toBe("No check has been made yet, so nothing is known about the plates.");
    expect(said([check("zero"), check("clocks")])).toBe(
      "2 of 5 checks passed. Not made yet: known mass, lean of the quiet stance, foot outlines.",
    );
    expect(said(CHECK_KINDS.map((kind) => check(kind)))).toBe("All 5 checks passed.");
  });

  test("says that going on travels with every shot, and a repeat that passes ends it", () => {
    const failed = check("zero", { isPassed: false, found: 12, wentOn: true, note: "cold" });
    expect(said([failed])).toContain("You went on although the zero failed; every shot says so until a repeat passes.");
    expect(said([failed, check("zero")])).not.toContain("went on");
  });
});

test("the latest check of a kind counts, the earlier ones are kept, newest first", () => {
  const [first, second, third] = [
    check("zero", { isPassed: false }),
    check("zero"),
    check("zero", { isPassed: false }),
  ];
  const [zero] = checkStandings([first, second, third]);
  expect(zero).toMatchObject({ state: "failed", latest: third, earlier: [second, first] });
});

test("amounts have a unit and no false digits", () => {
  expect(amount(1.934, "N")).toBe("1.9 N");
  expect(amount(-0.26, "deg")).toBe("−0.26°");
  expect(amount(123.4, "N")).toBe("123 N");
  expect(amount(0, "mm")).toBe("0 mm");
  expect(amount(0.0083, "N")).toBe("0.01 N");
  expect(amount(0.7828, "°")).toBe("0.78°");
  expect(amount(undefined, "N")).toBe("not known");
});
