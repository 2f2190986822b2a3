import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CATALOGUE } from "./catalogue.ts";
import { MEASURE_FAMILIES, QUANTITY_WORDS } from "./catalogue-words.ts";

const ROOT = join(import.meta.dirname, "../../..");
const PAGES = join(ROOT, "docs/method");

describe("the catalogue of measures", () => {
  test("ids are unique, name a foot, a quantity and a statistic, and an event where the statistic is `at`", () => {
    expect(new Set(CATALOGUE.map(({ id }) => id)).size).toBe(CATALOGUE.length);
    for (const { id, event, statistic } of CATALOGUE) {
      expect(id).toMatch(/^(lead|trail|both)\.[a-zA-Z]+\.[a-zA-Z]+(\.(address|start|top|delivery|impact|finish))?$/);
      expect(event !== undefined, id).toBe(statistic === "at");
    }
  });

  test("every quantity that has words has a measure", () => {
    const used = new Set(CATALOGUE.map(({ quantity }) => quantity));
    expect(Object.keys(QUANTITY_WORDS).filter((name) => !used.has(name as keyof typeof QUANTITY_WORDS))).toEqual([]);
  });

  test("titles are unique, begin with a capital; sentences end with a full stop; units are known", () => {
    expect(new Set(CATALOGUE.map(({ title }) => title)).size).toBe(CATALOGUE.length);
    const units = new Set(["%", "N", "N s", "N/s", "mm", "deg", "m/s", "N m", "N m s", "ms", "1", ""]);
    for (const { id, title, sentence, unit } of CATALOGUE) {
      expect(title, id).toMatch(/^[A-Z]/);
      expect(sentence, id).toMatch(/\.$/);
      expect(units, id).toContain(unit);
    }
  });

  test("each family has a page and each page a family", () => {
    const others = ["README.md", "sentences.md"];
    const pages = readdirSync(PAGES).filter((file) => file.endsWith(".md") && !others.includes(file));
    expect(pages.length).toBeGreaterThan(0);
    expect(pages.sort()).toEqual([...MEASURE_FAMILIES].map((family) => `${family}.md`).sort());
    expect(new Set(CATALOGUE.map(({ family }) => family))).toEqual(new Set(MEASURE_FAMILIES));
    for (const { page } of CATALOGUE) expect(existsSync(join(ROOT, page)), page).toBe(true);
  });

  test("each page names every measure of its family and has the headings a reader looks for", () => {
    for (const family of MEASURE_FAMILIES) {
      const text = readFileSync(join(PAGES, `${family}.md`), "utf8");
      for (const heading of [
        "## Definition",
        "## Frame and units",
        "## Uncertainty",
        "## What misleads",
        "## Sources",
      ]) {
        expect(text, `${family}: ${heading}`).toContain(heading);
      }
      for (const { quantity, statistic } of CATALOGUE.filter((entry) => entry.family === family)) {
        const [, name] = quantity.split(".");
        expect(text, `${family}: ${quantity}.${statistic}`).toContain(`${name}.${statistic}`);
      }
    }
  });
});
