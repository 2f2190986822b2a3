import { describe, expect, test } from "vitest";
import { COMPARISON_RULES } from "./comparison-rules.ts";
import { textOf } from "./worded-rule.ts";

const RULES = COMPARISON_RULES.flatMap(({ rules }) => rules);

/** What must be sayable, by name. */
const REQUIRED = [
  ...["band", "band-rough", "no-band", "shot-usual", "shot-unusual", "shot-many", "pair-within", "pair-larger"],
  ...["beyond", "beyond-slope", "slope-only", "within", "equivalent", "unreachable", "order"],
  ...["curve-beyond", "curve-cluster", "curve-within", "explore", "assoc", "assoc-none", "miss"],
  ...["players", "players-disagree", "singular", "trend", "trend-step", "two-days", "drift", "looks"],
];

describe("the table of rules", () => {
  test("holds every rule once, each with a condition that is a sentence and a template that ends as one", () => {
    const ids = RULES.map(({ id }) => id);
    expect(ids.length).toBeGreaterThan(60);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toEqual(expect.arrayContaining(REQUIRED));
    for (const { id, condition, templates } of RULES) {
      expect(condition, id).toMatch(/^[A-Z].*\.$/);
      expect(templates.length, id).toBeGreaterThan(0);
      for (const template of templates) expect(template, id).toMatch(/^[A-Z{].*(\.|\{could\})$/);
    }
  });
});

/** Whatever the numbers. A rule that may use such a word, with the reason, stands beside it. */
const FORBIDDEN: readonly { readonly words: RegExp; readonly allowed: readonly string[] }[] = [
  { words: /significan/i, allowed: [] },
  { words: /\bprove[sdn]?\b|\bproof\b/i, allowed: [] },
  { words: /\balways\b|\bnever\b/i, allowed: [] },
  { words: /no difference|unchanged/i, allowed: [] },
  // Time and condition alike, not two conditions; and a margin that was set before.
  { words: /the same/i, allowed: ["equivalent", "order", "lie-once"] },
  {
    words: /improv|\bbetter\b|\bworse\b|\bgood\b|\bbad\b|\boptimal\b|\bideal\b|\bnorms?\b|\brank(ed|ing)\b/i,
    allowed: [],
  },
  // "Does not show that one causes the other", and the intent that does not pose as a cause.
  {
    words: /\bcaus|\bbecause\b|due to|leads? to|thanks to|\bmakes?\b/i,
    allowed: ["assoc", "links", "within-conditions"],
  },
  { words: /p = 0|p 0\.000/i, allowed: [] },
  { words: /%\s*\{?(more|less|higher|lower)|percent/i, allowed: [] },
  { words: /moves? back|going back|goes back|body/i, allowed: [] },
  { words: /injur|\brisk\b/i, allowed: [] },
  { words: /\bpower\b|tendency/i, allowed: [] },
  // Only with five sessions, or to say that there is none.
  { words: /\btrend\b/i, allowed: ["two-days", "between-sessions", "sessions-apart", "runs-apart"] },
  { words: /\bplayers in general\b|all players|every player\b/i, allowed: [] },
];

describe("forbidden claims", () => {
  test.each(FORBIDDEN)("no template says $words", ({ words, allowed }) => {
    const found = RULES.filter(({ templates }) => templates.some((template) => words.test(template)));
    expect(found.map(({ id }) => id).filter((id) => !allowed.includes(id))).toEqual([]);
  });

  test("a cause is only ever denied", () => {
    for (const { templates } of RULES)
      for (const template of templates.filter((one) => /caus/i.test(one)))
        expect(template).toMatch(/does not (show|pose)/);
  });

  test("a cluster has no instant, no size and no direction", () => {
    const cluster = RULES.find(({ id }) => id === "curve-cluster");
    expect(cluster?.templates.join()).not.toMatch(/\{(d|at|interval|higher\|lower)\}/);
    expect(cluster?.templates.join()).toContain("not exact");
  });

  test("a difference between lies names the slope's share wherever it gives a number", () => {
    for (const id of ["beyond-slope", "slope-only"])
      for (const template of RULES.find((rule) => rule.id === id)?.templates ?? [])
        expect(template).toMatch(/the slope alone gives \{share\}/);
  });

  test("two single shots have no word of a verdict", () => {
    const chapter = COMPARISON_RULES.filter(({ title }) => title.startsWith("Two single shots"));
    expect(chapter.length).toBe(2);
    for (const { templates } of chapter.flatMap(({ rules }) => rules))
      expect(templates.join()).not.toMatch(/scatter|beyond|\bp \{p\}/);
  });
});

describe("filling a template", () => {
  test("puts words in, and begins with a capital", () => {
    expect(textOf("{B}: {d} {more|less}.", { B: "high", d: "8 points", "more|less": "less" })).toBe(
      "High: 8 points less.",
    );
  });

  test("refuses a slot that stays empty, and a word that is not of the choice", () => {
    expect(() => textOf("{A} and {B}.", { A: "low" })).toThrow(/\{B\}/);
    expect(() => textOf("{more|less}.", { "more|less": "better" })).toThrow(/better/);
  });
});
