// What a person would see: every width and theme, looked at for overlaps, sideways scrolling and accessibility.
import { mkdirSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { dropFiles, hasChromium, openShot, type ServedPage, servedPage, settled } from "./served-page.ts";

const WIDTHS = [1280, 820, 390, 320] as const;
const THEMES = ["sun", "desk", "dusk"] as const;
/** Right-handed up the slope, ball above feet without marks, left-handed with a gap, left-handed down the slope. */
const LOOKED_AT = [1, 7, 12, 16, 20, 21, 24] as const;

/** These screens have more for the checker to look at than the others: over 15 rules. */
const violations = (page: Page): Promise<readonly string[]> => axeViolations(page, 16);

/** Pairs of words of the pictures that cover each other by more than a hair. */
function coveredWords(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const words = [...document.querySelectorAll(".surface svg text")]
      .filter(
        (text) =>
          text.textContent?.trim() && !text.hasAttribute("data-at") && getComputedStyle(text).visibility !== "hidden",
      )
      .map((text) => {
        const { left, right, top, bottom, height } = text.getBoundingClientRect();
        // A text's box has room above and below its letters: what counts is the ink.
        return { text: text.textContent ?? "", left, right, top: top + 0.24 * height, bottom: bottom - 0.22 * height };
      });
    const found: string[] = [];
    words.forEach((a, k) => {
      for (const b of words.slice(k + 1)) {
        const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (wide > 1 && high > 0.5) found.push(`"${a.text}" and "${b.text}"`);
      }
    });
    return found;
  });
}

/** Words of the pictures that leave the window. */
function cutWords(page: Page): Promise<readonly string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll(".surface svg text")]
      .filter((text) => {
        const box = text.getBoundingClientRect();
        return text.textContent?.trim() && (box.left < 0 || box.right > innerWidth);
      })
      .map((text) => text.textContent ?? ""),
  );
}

describe.skipIf(!hasChromium)("the shot page as it is seen", () => {
  let served: ServedPage;
  const folder = join(tmpdir(), "underfoot-pictures");
  beforeAll(async () => {
    mkdirSync(folder, { recursive: true });
    served = await servedPage();
  });
  afterAll(() => served?.stop());

  for (const theme of THEMES) {
    test(`${theme}: no accessibility violation, nothing scrolls sideways, a picture of each width`, async () => {
      for (const width of WIDTHS) {
        const { page } = await served.open({ width, theme, shot: 7 });
        expect(await violations(page), `${theme} ${width}`).toEqual([]);
        const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect(beyond, `${theme} ${width} px scrolls sideways`).toBeLessThanOrEqual(0);
        const path = join(folder, `shot-${theme}-${width}.png`);
        await page.screenshot({ path, fullPage: true });
        expect(statSync(path).size).toBeGreaterThan(20_000);
        await page.close();
      }
    });
  }

  test.each(WIDTHS)("at %i px no word of a picture covers another or leaves the window", async (width) => {
    const { page } = await served.open({ width });
    for (const shot of LOOKED_AT) {
      await openShot(page, shot);
      expect.soft(await coveredWords(page), `shot ${shot}`).toEqual([]);
      expect.soft(await cutWords(page), `shot ${shot}`).toEqual([]);
    }
    await page.close();
  });

  test("marking, the list of keys, the columns and a recording without sidecar have no accessibility violation", async () => {
    const { page } = await served.open({ shot: 16 });
    await page.keyboard.press("e");
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await page.keyboard.press("?");
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Columns" }).click();
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press("Escape");
    const bytes = await (await served.story(8)).recording();
    await dropFiles(page, [{ name: "mine.c3d", bytes }]);
    await page.getByRole("heading", { name: "Say who stood where" }).waitFor();
    await settled(page);
    expect(await violations(page)).toEqual([]);
    await page.screenshot({ path: join(folder, "without-sidecar-1280.png"), fullPage: true });
    await page.close();
  });

  test("the first theme follows the system: dark is dusk, light is desk", async () => {
    for (const [colorScheme, theme] of [
      ["dark", "dusk"],
      ["light", "desk"],
    ] as const) {
      const page = await served.browser.newPage({ colorScheme });
      await page.goto(served.address);
      await page.waitForSelector(".picture");
      expect(await page.locator("html").getAttribute("data-theme")).toBe(theme);
      await page.keyboard.press("d");
      expect(await page.locator("html").getAttribute("data-theme")).toBe(theme === "dusk" ? "sun" : "dusk");
      await page.close();
    }
  });
});
