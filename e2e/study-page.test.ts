// Study: several invented players, then too few, then nobody. Outcome: dots of one player's shots, and how closely they go with a measure.
import { mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

const pictures = join(tmpdir(), "underfoot-study-pictures");
/** The server computes a library's shots before it holds them against each other for the first time. */
const FIRST_ANSWER_MS = 60_000;

interface Player {
  readonly id: string;
  readonly code: string;
  readonly consent: string;
}

async function studied(page: Page): Promise<void> {
  await page.waitForSelector('.study[aria-busy="false"] .study-players', { timeout: FIRST_ANSWER_MS });
  await settled(page);
}

async function outcomeShown(page: Page): Promise<void> {
  await page.waitForSelector('.outcome[aria-busy="false"] .outcome-head p', { timeout: FIRST_ANSWER_MS });
  await settled(page);
}

const words = (page: Page, selector: string): Promise<string> =>
  page
    .locator(selector)
    .first()
    .evaluate((element) => element.childNodes[0]?.textContent ?? "");

describe.skipIf(!hasChromium)("study and outcome", () => {
  let served: ServedPage;
  let players: readonly Player[];
  const idOf = (code: string): string => players.find((player) => player.code === code)?.id ?? "";
  const outcomeOf = (code: string, outcome: string, more = ""): string =>
    `#/outcome?of=${encodeURIComponent(`playerId=${idOf(code)}${more}`)}&outcome=${outcome}`;

  beforeAll(async () => {
    mkdirSync(pictures, { recursive: true });
    served = await servedPage();
    players = (await (await fetch(`${served.address}api/players`)).json()) as Player[];
  });
  afterAll(() => served?.stop());

  test(
    "a study says first what holds, who is in and how it was made; players are sorted by estimate; each measure looked at counts",
    async () => {
      const { page, complaints } = await served.open({ hash: "#/study" });
      await studied(page);
      expect(await page.locator("h1").textContent()).toBe(
        "Does it hold across players? Peak up force: high against low, both flat, turf axes",
      );
      expect(await page.locator(".study-answer .sentence").textContent()).toMatch(
        /^Over 6 players: high \d+ N more peak up force than low \(.*\); 6 of 6 in that direction\./,
      );
      const head = (await page.locator(".study-head").textContent()) ?? "";
      expect(head).toContain("Mixed model by REML");
      expect(head).toContain(
        "Player I (6 players). Left out: 2 whose consent is not to studies, 1 without a kept shot",
      );
      const estimates = await page
        .locator(".study-players li .study-numbers b")
        .evaluateAll((all) => all.map((one) => Number.parseFloat((one.textContent ?? "").replace("−", "-"))));
      expect(estimates).toHaveLength(6);
      expect(estimates).toEqual(estimates.toSorted((x, y) => y - x));
      expect(await page.locator(".study-own-curve").count()).toBe(6);
      // A player's row brings out the player's curve, by keys alone.
      await page.locator('.study-players li[data-player="Player G"] button').focus();
      await page.keyboard.press("Enter");
      expect(await page.locator(".study-pointed").count()).toBe(1);
      // One measure more is one look more.
      await page.getByText("Choose what is asked").click();
      await page.getByLabel("Measure").selectOption({ label: "Lead foot load share at impact (%)" });
      await page.waitForFunction(() =>
        document.querySelector("h1")?.textContent?.includes("Lead foot load share at impact"),
      );
      await studied(page);
      expect(new URL(page.url()).hash).toContain("measures=both.up.peak%2Clead.share.at.impact");
      expect(await page.locator(".study").textContent()).toContain("2 measures, 1 comparison");
      await page.getByRole("link", { name: "Peak up force" }).click();
      await studied(page);
      await page.getByRole("button", { name: "level axes" }).click();
      await page.waitForFunction(() => document.querySelector("h1")?.textContent?.endsWith("level axes"));
      await studied(page);
      // The table behind it, to the last digit.
      await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
      await page.getByText("The exact table behind it").click();
      await page.getByRole("button", { name: "Copy players as CSV" }).click();
      await page.getByText("Copied.").waitFor();
      const lines = (await page.evaluate(() => navigator.clipboard.readText())).trim().split(/\r?\n/);
      expect(lines).toHaveLength(1 + 6 + 1);
      expect(lines[1]).toMatch(/^both\.up\.peak level,N,high minus low,Player D,5,5,\d+\.\d{6,},/);
      expect(complaints).toEqual([]);
      // An address that names no measure of ours is said, with a way on.
      await page.goto(`${served.address}#/study?measure=both.nothing`);
      await page.getByText("There is no measure “both.nothing”.").waitFor();
      await page.getByRole("link", { name: "Begin with peak up force" }).click();
      await studied(page);
      await page.close();
    },
    2 * FIRST_ANSWER_MS,
  );

  test(
    "results: a dot a shot that opens it, mishits hollow; what may be said, never a cause; too few are dots only",
    async () => {
      const { page, complaints } = await served.open({ hash: outcomeOf("Player C", "mishit") });
      await outcomeShown(page);
      expect(await words(page, ".outcome-answer .sentence")).toMatch(/^Mishits tended to have more lead foot pressure/);
      expect(await page.locator(".outcome-head").textContent()).toContain(
        "That does not show that one causes the other.",
      );
      expect(await page.locator(".outcome-dot").count()).toBe(106);
      const hollow = page.locator('.outcome-dot[data-mishit="true"]');
      expect(await hollow.count()).toBe(await page.locator(".outcome-dot .outcome-mishit").count());
      expect(await page.locator(".outcome-shapes li").count()).toBe(4);
      expect(await page.locator(".link-scale").textContent()).toMatch(
        /mishit has the larger value \d+ % \(\d+ to \d+ %\)/,
      );
      await page.getByLabel("Result").selectOption({ label: "strike place, heel to toe" });
      await page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("Strike place"));
      await outcomeShown(page);
      expect(await page.locator(".link-scale").textContent()).toMatch(/Rank correlation within conditions −0\.\d/);
      await page.locator(".outcome-dot").first().focus();
      await page.keyboard.press("Enter");
      await page.waitForFunction(() => location.hash.startsWith("#/shot/"));
      await page.close();
      // Five shots: dots, and how many are missing.
      const few = await served.open({ hash: outcomeOf("Player D", "carry", ";intent=low") });
      await outcomeShown(few.page);
      expect(await few.page.locator(".outcome-head").textContent()).toContain(
        "5 shots with a known result: only the dots are shown. A number needs 3 more shots, words need 5 more shots.",
      );
      expect(await few.page.locator(".outcome-dot").count()).toBe(5);
      expect(await few.page.locator(".link-scale").count()).toBe(0);
      await few.page.close();
      // Carry is never pooled over lies.
      const lies = await served.open({ hash: outcomeOf("Player C", "carry") });
      await outcomeShown(lies.page);
      expect(await words(lies.page, ".outcome-answer .sentence")).toMatch(/^Carry is not pooled across lies/);
      expect(await lies.page.locator(".link-scale").count()).toBe(0);
      await lies.page.close();
      expect([...complaints, ...few.complaints, ...lies.complaints]).toEqual([]);
    },
    2 * FIRST_ANSWER_MS,
  );

  test(
    "both screens in all widths: nothing runs out sideways, axe finds nothing; on a phone the study is read only",
    async () => {
      const themes = ["desk", "dusk", "sun"] as const;
      for (const [k, width] of [1280, 820, 390].entries()) {
        const theme = themes[k] ?? "desk";
        const { page } = await served.open({ hash: "#/study", width, theme });
        await studied(page);
        expect(await page.locator(".study-choose").isVisible()).toBe(width > 560);
        await page.screenshot({ path: join(pictures, `study-${width}-${theme}.png`), fullPage: true });
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        expect(await axeViolations(page)).toEqual([]);
        await page.goto(`${served.address}${outcomeOf("Player C", "strikeToe")}`);
        await outcomeShown(page);
        await page.screenshot({ path: join(pictures, `outcome-${width}-${theme}.png`), fullPage: true });
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        expect(await axeViolations(page)).toEqual([]);
        await page.close();
      }
    },
    3 * FIRST_ANSWER_MS,
  );

  test(
    "who takes consent back leaves at once: four players stand side by side without a word on players, none is an empty screen",
    async () => {
      const { page } = await served.open({ hash: "#/study" });
      await studied(page);
      const takeBack = async (codes: readonly string[]): Promise<void> => {
        for (const code of codes) {
          const response = await fetch(`${served.address}api/players/${idOf(code)}`, {
            method: "PATCH",
            body: JSON.stringify({ consent: "none" }),
            headers: { "Content-Type": "application/json" },
          });
          expect(response.ok).toBe(true);
        }
      };
      await takeBack(["Player D", "Player E"]);
      await page.waitForFunction(() => document.querySelectorAll(".study-players li").length === 4, undefined, {
        timeout: FIRST_ANSWER_MS,
      });
      await studied(page);
      expect(await words(page, ".study-answer .sentence")).toMatch(/^4 players: each by itself/);
      expect(await page.locator(".study-group").count()).toBe(0);
      expect(await page.locator(".study-players .study-filled").count()).toBe(0);
      expect(await page.locator(".study-curves .study-heavy").count()).toBe(0);
      expect(await page.locator(".study").textContent()).not.toContain("Over 4 players");
      await takeBack(players.filter(({ consent }) => consent === "study").map(({ code }) => code));
      await page.getByText("Add players with consent for study use.").waitFor();
      expect(await axeViolations(page)).toEqual([]);
      await page.close();
    },
    2 * FIRST_ANSWER_MS,
  );
});
