// The board: which shots, on which lies, are really different.
import { mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

const pictures = join(tmpdir(), "underfoot-board-pictures");
/** The server computes the shots of a board first. */
const COMPUTED_MS = 60_000;

interface Line {
  readonly id: string;
  readonly code: string;
}

const cell = (page: Page, row: number, column: number) =>
  page.locator(`.cell-face[data-row="${row}"][data-column="${column}"]`);
const shown = async (page: Page): Promise<void> => {
  await page.waitForSelector(".board[aria-busy='false'] .board-cell", { timeout: COMPUTED_MS });
  await settled(page);
};
const atHash = (page: Page, part: string) => page.waitForFunction((wanted) => location.hash.includes(wanted), part);

describe.skipIf(!hasChromium)("the board", () => {
  let served: ServedPage;
  let idOf: (code: string) => string;

  beforeAll(async () => {
    mkdirSync(pictures, { recursive: true });
    served = await servedPage();
    const players = (await (await fetch(`${served.address}api/players`)).json()) as Line[];
    idOf = (code) => players.find((one) => one.code === code)?.id ?? "";
  });
  afterAll(() => served?.stop());

  test("opens with what is beyond scatter, one cell a lie over all days; two pressed cells are compared", async () => {
    const { page, complaints } = await served.open({ hash: "#/board" });
    await shown(page);
    expect(await page.locator("h1").textContent()).toMatch(/stock on upslope/);
    expect(await page.locator(".looks").textContent()).toContain("1 measure, 1 comparison, looked at once");
    // Eight days on two lies: the inclinometer read them differently each day, and they are two columns all the same.
    expect(await page.locator(".lie-heads p").allInnerTexts()).toEqual([
      "flat",
      expect.stringMatching(/^upslope 5\.\d°$/),
    ]);
    expect(await page.locator(".board-cell").count()).toBe(2);
    expect(await cell(page, 0, 1).locator("[data-mark='beyond']").count()).toBe(1);
    expect(await cell(page, 0, 1).textContent()).toMatch(/points from flat/);
    expect(await cell(page, 0, 1).locator(".flat-ghost").count()).toBe(1);
    expect(await cell(page, 0, 0).locator(".allowed").count()).toBe(1);
    expect(await page.locator(".safety").textContent()).toContain("Stop at pain");

    await page.getByLabel("Measure").selectOption({ label: "Peak target force (N)" });
    await atHash(page, "both.target.peak");
    await page.waitForFunction(() => document.querySelector(".looks")?.textContent?.includes("looked at 2 times"));
    await shown(page);
    expect(await cell(page, 0, 1).textContent()).toMatch(/slope \+\d+ N besides/);
    await page.keyboard.press("l");
    await atHash(page, "axes=level");
    await page.waitForFunction(() => document.querySelector(".slope-words") === null);
    await shown(page);

    await page.locator("summary", { hasText: "Table of all numbers" }).click();
    expect(await page.locator(".board-table tbody tr").count()).toBe(2);
    expect(await page.locator(".board-table tbody tr").first().textContent()).toMatch(/\d+ N/);

    await cell(page, 0, 0).click();
    expect(await cell(page, 0, 0).getAttribute("aria-pressed")).toBe("true");
    expect(await page.locator(".chosen-cell").textContent()).toContain("Press a second cell");
    await cell(page, 0, 1).click();
    await atHash(page, "#/compare?");
    const query = await page.evaluate(() => Object.fromEntries(new URLSearchParams(location.hash.split("?")[1])));
    expect(query["a"]).toContain("lieName=flat");
    expect(query["b"]).toContain("lieName=upslope");
    expect(query).toMatchObject({ axes: "level" });
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("says what was not hit, what is too few and what has mishits only; keys choose, let go and compare", async () => {
    const { page, complaints } = await served.open({ hash: `#/board?playerId=${idOf("Player A")}` });
    await shown(page);
    expect(await page.locator("h1").textContent()).toMatch(/^Too few to tell/);
    const states = await page
      .locator(".board-cell")
      .evaluateAll((all) => all.map((one) => (one as HTMLElement).dataset["state"]));
    expect(states).toHaveLength(20);
    expect([...new Set(states)].sort()).toEqual(["not-hit", "only-mishits", "too-few"]);
    const firstOf = (state: string) => page.locator(`.board-cell[data-state="${state}"]`).first();
    expect(await firstOf("not-hit").textContent()).toMatch(/Not hit yet.*not planned either/);
    expect(await firstOf("too-few").textContent()).toMatch(/1 of 5 shots, too few to tell/);
    expect(await firstOf("only-mishits").textContent()).toMatch(/No kept shot.*1 mishit/);
    expect(await firstOf("only-mishits").locator(".curve").count()).toBe(0);

    await cell(page, 0, 0).focus();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    expect(await cell(page, 0, 3).evaluate((one) => one === document.activeElement)).toBe(true);
    await page.keyboard.press("Enter");
    await page.waitForSelector(".chosen-cell");
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => document.querySelector(".chosen-cell") === null);
    await page.keyboard.press("c");
    await atHash(page, "#/compare?");
    expect(await page.evaluate(() => decodeURIComponent(location.hash))).toMatch(
      /a=.*lieName=flat.*b=.*lieName=upslope/,
    );

    await page.goBack();
    await shown(page);
    await page.locator("a.cell-shots").first().click();
    await atHash(page, "#/shots?");
    expect(await page.evaluate(() => location.hash)).toContain("intent=stock");
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("at every width nothing runs off the screen, and axe finds nothing", async () => {
    for (const [width, theme, player] of [
      [1280, "desk", "Player A"],
      [820, "dusk", "Player A"],
      [390, "sun", "Player A"],
      [1280, "dusk", "Player C"],
      [320, "desk", "Player C"],
    ] as const) {
      const { page } = await served.open({ hash: `#/board?playerId=${idOf(player)}`, width, theme });
      await shown(page);
      await cell(page, 0, 1).click();
      await page.waitForSelector(".chosen-cell");
      await settled(page);
      const past = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(past, `${width}`).toBeLessThanOrEqual(0);
      expect(await axeViolations(page), `${width} ${theme}`).toEqual([]);
      await page.screenshot({
        path: join(pictures, `board-${player.slice(-1)}-${width}-${theme}.png`),
        fullPage: true,
      });
      await page.close();
    }
  });
});
