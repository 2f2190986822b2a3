// Compare: two conditions, a shot with its usual, two shots, too few; by keys alone as well.
import { mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

const pictures = join(tmpdir(), "underfoot-compare-pictures");
/** The server computes a library's shots before it compares them for the first time. */
const FIRST_ANSWER_MS = 60_000;

interface Line {
  readonly id: string;
  readonly label: string;
}

/** Until the comparison of this address is drawn. */
async function compared(page: Page): Promise<void> {
  await page.waitForSelector('.compared[aria-busy="false"] .by-measure li', { timeout: FIRST_ANSWER_MS });
  await settled(page);
}

const marks = (page: Page): Promise<readonly (string | null)[]> =>
  page.locator(".by-measure li [data-mark]").evaluateAll((all) => all.map((mark) => mark.getAttribute("data-mark")));

const pairOf = (page: Page, name: string) => page.locator(`[data-curve^="${name}"]`);

describe.skipIf(!hasChromium)("compare", () => {
  let served: ServedPage;
  let conditions: string;
  let kept: readonly Line[];
  let playerOf: (code: string) => string;

  const json = async (path: string): Promise<unknown> => (await fetch(`${served.address}api/${path}`)).json();

  beforeAll(async () => {
    mkdirSync(pictures, { recursive: true });
    served = await servedPage();
    const players = (await json("players")) as { id: string; code: string }[];
    playerOf = (code) => players.find((player) => player.code === code)?.id ?? "";
    const sessions = (await json(`sessions?playerId=${playerOf("Player C")}`)) as { rows: { id: string }[] };
    const session = sessions.rows[0]?.id ?? "";
    const side = (lie: string): string =>
      encodeURIComponent(`playerId=${playerOf("Player C")};sessionId=${session};lieName=${lie}`);
    conditions = `#/compare?a=${side("flat")}&b=${side("upslope")}`;
    const shots = (await json(`shots?sessionId=${session}&lieName=flat&label=kept&order=session`)) as { rows: Line[] };
    kept = shots.rows;
    expect(kept.length).toBeGreaterThanOrEqual(5);
  });
  afterAll(() => served?.stop());

  test(
    "two conditions: the sentence first, then pairs and measures, the slope's share named and gone on level axes",
    async () => {
      const { page, complaints } = await served.open({ hash: conditions });
      await compared(page);
      expect(await page.locator(".side-head b").allInnerTexts()).toEqual(["A: flat", "B: upslope"]);
      const headline = (await page.locator("h1").textContent()) ?? "";
      expect(headline).toMatch(/Upslope.*of 12/);
      // On the slope gravity alone pushes to the target: hachured, with its share in words.
      expect(await pairOf(page, "both.target").locator(".slope-edge").count()).toBe(1);
      const push = page.locator('li[data-column="both.target.peak turf"]');
      expect(await push.textContent()).toMatch(/slope \+\d+ N/);
      expect(await push.locator(".slope-bar").count()).toBe(1);
      expect(await page.locator(".excess").count()).toBeGreaterThan(0);
      expect((await marks(page)).length).toBeGreaterThan(0);
      // L by key: everything is asked anew on level axes, and the slope's share is gone from curves and measures.
      await page.keyboard.press("l");
      await page.waitForFunction(() => location.hash.includes("axes=level"));
      await page.waitForSelector('li[data-column="both.target.peak level"]', { timeout: FIRST_ANSWER_MS });
      await compared(page);
      expect(await page.locator(".slope-edge, .slope-bar").count()).toBe(0);
      expect(await page.locator(".pairs .caption").textContent()).toContain("On level axes there is no slope share");
      // The rule of a sentence on focus.
      await page.locator("h1 .sentence").focus();
      expect(await page.locator("h1 .rule").isVisible()).toBe(true);
      await page.getByText("Table of all numbers").click();
      expect(await page.locator(".all-numbers table").first().locator("tbody tr").count()).toBe(12);
      expect(complaints).toEqual([]);
      await page.close();
    },
    FIRST_ANSWER_MS,
  );

  test(
    "keys alone: swap turns every sign, the ruler walks by steps and events, G shows the paths",
    async () => {
      const { page } = await served.open({ hash: conditions });
      await compared(page);
      const first = page.locator(".by-measure li b").first();
      const before = (await first.textContent()) ?? "";
      await page.keyboard.press("s");
      await page.waitForFunction(() => document.querySelector(".side-head b")?.textContent === "A: upslope");
      await compared(page);
      const after = (await first.textContent()) ?? "";
      expect(after).not.toBe(before);
      expect(after.replace(/^[+−]/, "")).toBe(before.replace(/^[+−]/, ""));
      const slider = page.getByRole("slider", { name: "Ruler: time from impact" });
      const now = async (): Promise<number> => Number(await slider.getAttribute("aria-valuenow"));
      expect(await now()).toBe(0);
      await page.keyboard.press("ArrowRight");
      await page.waitForFunction(() => document.querySelector(".ruler-handle")?.getAttribute("aria-valuenow") === "2");
      await page.keyboard.press("Shift+ArrowLeft");
      await page.waitForFunction(
        () => document.querySelector(".ruler-handle")?.getAttribute("aria-valuenow") === "-18",
      );
      await page.keyboard.press(",");
      await page.waitForFunction(() =>
        document.querySelector(".ruler-handle")?.getAttribute("aria-valuetext")?.includes("delivery"),
      );
      expect(await slider.getAttribute("aria-valuetext")).toMatch(
        /milliseconds, delivery, Push to target A .*newtons, B .*newtons/,
      );
      await slider.focus();
      await page.keyboard.press("Home");
      await page.waitForFunction(
        () => document.querySelector(".ruler-handle")?.getAttribute("aria-valuenow") === "-700",
      );
      await page.keyboard.press("g");
      await page.waitForSelector(".from-above .picture", { timeout: FIRST_ANSWER_MS });
      expect(await page.locator(".from-above .picture").getAttribute("aria-label")).toContain("impact: A");
      await page.close();
    },
    FIRST_ANSWER_MS,
  );

  test(
    "every other way of looking counts as a look",
    async () => {
      const { page } = await served.open({ hash: conditions });
      await compared(page);
      expect(await page.locator(".measures-beside").textContent()).toContain("looked at once");
      await page.getByText("Look in another way").click();
      await page.getByLabel("Curves laid over each other by").selectOption("events");
      await page.waitForFunction(() =>
        document.querySelector(".pairs .caption")?.textContent?.includes("timing is taken out"),
      );
      await compared(page);
      expect(await page.locator(".measures-beside").textContent()).toContain("looked at 2 times");
      await page.getByLabel("Curves laid over each other by").selectOption("impact");
      await page.waitForFunction(() => document.querySelector(".pairs .caption")?.textContent?.includes("from impact"));
      await compared(page);
      expect(await page.locator(".measures-beside").textContent()).toContain("looked at 2 times");
      await page.close();
    },
    FIRST_ANSWER_MS,
  );

  test(
    "a shot with its usual, two shots without any lozenge, too few to tell",
    async () => {
      const [a, b] = [kept[0]?.id ?? "", kept[1]?.id ?? ""];
      const { page } = await served.open({ hash: `#/compare?a=usual%3D${b}&b=shot%3D${b}` });
      await compared(page);
      expect(await page.locator(".side-head b").first().textContent()).toMatch(/^A: usual stock, flat/);
      expect((await marks(page)).every((mark) => mark === "within" || mark === "beyond-alone")).toBe(true);
      expect(await page.getByRole("button", { name: /Swap/ }).count()).toBe(0);
      await page.goto(`${served.address}#/compare?a=shot%3D${a}&b=shot%3D${b}`);
      await page.waitForFunction(() =>
        document.querySelector("h1")?.textContent?.startsWith("Two shots cannot show a difference"),
      );
      await compared(page);
      expect(new Set(await marks(page))).toEqual(new Set(["bar"]));
      expect(await page.locator(".pairs .allowed").count()).toBe(0);
      const few = (intent: string): string => encodeURIComponent(`playerId=${playerOf("Player A")};intent=${intent}`);
      await page.goto(`${served.address}#/compare?a=${few("stock")}&b=${few("low")}`);
      await page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("Too few to tell"));
      await compared(page);
      expect(new Set(await marks(page))).toEqual(new Set(["too-few"]));
      expect(await page.locator(".measure-mark .allowed").count()).toBe(0);
      expect(await page.locator(".side-a.thin").count()).toBeGreaterThan(0);
      // Different clubs are named before the headline.
      expect(await page.locator(".before").textContent()).toMatch(/^Different clubs: .*wedge 56.*wedge 50/);
      const missed = encodeURIComponent(`playerId=${playerOf("Player A")};intent=high;lieName=downslope`);
      await page.goto(`${served.address}#/compare?a=${few("low")}&b=${missed}`);
      await page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("only mishits"));
      expect(await page.locator(".by-measure, .pairs").count()).toBe(0);
      await page.close();
    },
    FIRST_ANSWER_MS,
  );

  test(
    "sides are chosen with counts; a long wait has words and a way out; an address that cannot be read is said",
    async () => {
      const { page } = await served.open({ hash: "#/compare" });
      await compared(page);
      await page.getByRole("button", { name: "Choose", exact: true }).click();
      const lieOfB = page.getByRole("group", { name: "B" }).getByLabel("Lie");
      expect(await lieOfB.locator("option").allInnerTexts()).toContainEqual(expect.stringMatching(/^flat \(\d+\)$/));
      await page.route("**/api/comparison?*", async (route) => {
        await new Promise((resolve) => setTimeout(resolve, 1500));
        await route.continue().catch(() => undefined);
      });
      await page.getByLabel("Player").selectOption({ label: "Player A" });
      await page.getByRole("button", { name: "Cancel" }).click();
      await page.waitForSelector("text=Stopped.");
      await page.unrouteAll({ behavior: "ignoreErrors" });
      await page.getByRole("button", { name: "Compare", exact: true }).click();
      await compared(page);
      await page.goto(`${served.address}#/compare?a=mood%3Dgood&b=shot%3Dx`);
      await page.waitForSelector("text=A of this address cannot be read");
      await page.close();
    },
    FIRST_ANSWER_MS,
  );

  test(
    "two chosen shots, or all that were found, come here from the list of shots",
    async () => {
      const { page } = await served.open({
        hash: `#/shots?playerId=${playerOf("Player C")}&intent=stock&lieName=flat`,
      });
      for (const k of [0, 1]) await page.locator("tbody .row-box input").nth(k).check();
      await page.locator(".chosen-bar").getByRole("link", { name: "Compare" }).click();
      await page.waitForFunction(() =>
        document.querySelector("h1")?.textContent?.startsWith("Two shots cannot show a difference"),
      );
      await page.goBack();
      await page.getByRole("link", { name: "Compare these" }).click();
      await page.waitForSelector("text=Choose two sides.");
      expect(await page.getByRole("group", { name: "A" }).getByLabel("Lie").inputValue()).toBe("flat");
      await page.getByRole("group", { name: "B" }).getByLabel("Lie").selectOption("upslope");
      await compared(page);
      expect(await page.locator(".side-head b").first().textContent()).toBe("A: stock, flat");
      await page.close();
    },
    FIRST_ANSWER_MS,
  );

  test(
    "at every width nothing runs off the screen, and axe finds nothing",
    async () => {
      for (const [width, theme] of [
        [1280, "desk"],
        [1280, "dusk"],
        [820, "sun"],
        [390, "dusk"],
        [320, "desk"],
      ] as const) {
        const { page } = await served.open({ hash: conditions, width, theme });
        await compared(page);
        await page.getByRole("button", { name: "Choose", exact: true }).click();
        for (const summary of await page.locator("main summary").all()) await summary.click();
        await settled(page);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect(over, `${width}`).toBeLessThanOrEqual(0);
        expect(await axeViolations(page), `${width} ${theme}`).toEqual([]);
        await page.screenshot({ path: join(pictures, `compare-${width}-${theme}.png`), fullPage: true });
        await page.close();
      }
    },
    2 * FIRST_ANSWER_MS,
  );
});
