// A player's year: what changed over the sessions, the record, forgetting.
import { mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

const pictures = join(tmpdir(), "underfoot-player-pictures");

interface Line {
  readonly id: string;
  readonly code: string;
}

describe.skipIf(!hasChromium)("a player over the sessions", () => {
  let served: ServedPage;
  let player: Line;

  beforeAll(async () => {
    mkdirSync(pictures, { recursive: true });
    served = await servedPage();
    const players = (await (await fetch(`${served.address}api/players`)).json()) as Line[];
    const withYear = await Promise.all(
      players.map(async (one) => {
        const list = (await (await fetch(`${served.address}api/sessions?playerId=${one.id}`)).json()) as {
          total: number;
        };
        return { ...one, sessions: list.total };
      }),
    );
    player = withYear.sort((a, b) => b.sessions - a.sessions)[0] as Line;
    expect(withYear[0]?.sessions).toBeGreaterThanOrEqual(8);
  });
  afterAll(() => served?.stop());

  test("the year is said first, drawn by condition, and each day opens its shots", async () => {
    const { page, complaints } = await served.open({ hash: `#/player/${player.id}` });
    await page.waitForSelector(".year-mean");
    expect(await page.locator("h1").textContent()).toMatch(/^8 sessions, 2 conditions: /);
    expect(await page.locator(".year-row h2").allInnerTexts()).toEqual(["stock, flat", "stock, upslope"]);
    expect(await page.locator(".year-row").first().locator(".year-day").count()).toBe(8);
    // The invented player changed clubs once: a rule where it was, said in words.
    expect(await page.locator(".year-row").first().locator(".year-change").count()).toBe(1);
    expect(await page.locator(".year-changes").first().textContent()).toContain("club: wedge 58, before wedge 56");
    await page.getByLabel("Measure").selectOption({ label: "Peak target force (N)" });
    await page.waitForFunction(() => location.hash.includes("both.target.peak"));
    await page.getByRole("button", { name: "level axes" }).click();
    await page.waitForFunction(() => location.hash.includes("axes=level"));
    await page.waitForFunction(() => document.querySelector(".caption")?.textContent?.includes("level axes"));
    await settled(page);
    await page.locator(".year-row summary").first().click();
    expect(await page.locator(".year-row table").first().locator("tbody tr").count()).toBe(8);
    await page.locator(".year-day").first().focus();
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => location.hash.startsWith("#/shots?sessionId="));
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("the record is changed, and what was before comes back by Undo", async () => {
    const { page } = await served.open({ hash: `#/player/${player.id}` });
    await page.getByRole("button", { name: "Change", exact: true }).click();
    await page.getByLabel("Mass, kg").fill("four hundred");
    await page.getByRole("button", { name: "Save" }).click();
    await page.waitForSelector(".record .fault");
    await page.getByLabel("Mass, kg").fill("81,5");
    await page.getByLabel("Shoes").fill("");
    await page.getByRole("button", { name: "Save" }).click();
    await page.waitForFunction(() => document.querySelector(".record dl")?.textContent?.includes("81.5 kg"));
    expect(await page.locator(".record dl").textContent()).not.toContain("soft spikes");
    await page.goto(`${served.address}#/settings`);
    await page
      .getByRole("button", { name: `Undo: changed the player ${player.code}` })
      .first()
      .click();
    await page.waitForFunction(() => document.querySelector(".history")?.textContent?.includes("(undone)"));
    const back = (await (await fetch(`${served.address}api/players/${player.id}`)).json()) as { shoes?: string };
    expect(back.shoes).toBe("soft spikes");
    await page.close();
  });

  test("at every width nothing runs off the screen, and axe finds nothing", async () => {
    for (const [width, theme] of [
      [1280, "desk"],
      [820, "dusk"],
      [390, "sun"],
      [320, "desk"],
    ] as const) {
      const { page } = await served.open({ hash: `#/player/${player.id}`, width, theme });
      await page.waitForSelector(".year-mean");
      await settled(page);
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
        `${width}`,
      ).toBeLessThanOrEqual(0);
      expect(await axeViolations(page), `${width} ${theme}`).toEqual([]);
      await page.screenshot({ path: join(pictures, `player-${width}-${theme}.png`), fullPage: true });
      await page.close();
    }
  });

  test("a player is forgotten only by writing the code, and is gone everywhere", async () => {
    const { page } = await served.open({ hash: `#/player/${player.id}` });
    await page.locator("summary", { hasText: "Forget this player" }).click();
    const button = page.getByRole("button", { name: `Forget ${player.code}` });
    expect(await button.isDisabled()).toBe(true);
    await page.getByLabel(`Write ${player.code} to confirm`).fill(player.code);
    await button.click();
    await page.waitForFunction(() => document.body.textContent?.includes("There is no player of this address"));
    expect((await fetch(`${served.address}api/players/${player.id}`)).status).toBe(404);
    const left = (await (await fetch(`${served.address}api/shots?playerId=${player.id}`)).json()) as { total: number };
    expect(left.total).toBe(0);
    await page.close();
  });
});
