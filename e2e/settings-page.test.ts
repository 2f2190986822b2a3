// Settings: back up and bring back into a new folder, prove every file, change what results hang on, another library.
import { appendFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

const pictures = join(tmpdir(), "underfoot-settings-pictures");

const jobSays = (page: Page, words: string): Promise<unknown> =>
  page.waitForFunction((wanted) => document.querySelector(".jobs li")?.textContent?.includes(wanted), words);

describe.skipIf(!hasChromium)("settings", () => {
  let served: ServedPage;
  let folder: string;

  const total = async (): Promise<number> =>
    ((await (await fetch(`${served.address}api/shots?limit=1`)).json()) as { total: number }).total;

  beforeAll(async () => {
    mkdirSync(pictures, { recursive: true });
    folder = mkdtempSync(join(tmpdir(), "underfoot-settings-"));
    served = await servedPage("library");
  });
  afterAll(async () => {
    await served?.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  test("a backup is made, brought back into a new folder, and opened there with every shot", async () => {
    const { page, complaints } = await served.open({ hash: "#/settings" });
    const before = await total();
    await page.getByRole("button", { name: "Back up now" }).click();
    await jobSays(page, "Done.");
    await page.locator("summary", { hasText: "Bring a backup back" }).click();
    const target = join(folder, "brought back");
    await page.getByLabel("Into a new folder").fill(target);
    await page.getByRole("button", { name: "Bring it back there" }).click();
    await page.waitForFunction(
      () => document.querySelectorAll(".jobs li").length === 2 && !document.querySelector(".jobs progress"),
    );
    expect(await page.locator(".jobs li").first().textContent()).toContain("Done.");
    await page.getByLabel("Library", { exact: true }).fill(target);
    await page.getByRole("button", { name: "Open the library there" }).click();
    await expect
      .poll(async () => ((await (await fetch(`${served.address}api/about`)).json()) as { folder: string }).folder)
      .toBe(target);
    expect(await total()).toBe(before);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("verify proves every file, and says which one is no longer what it was", async () => {
    const { page } = await served.open({ hash: "#/settings" });
    const { folder: library } = (await (await fetch(`${served.address}api/about`)).json()) as { folder: string };
    await page.getByRole("button", { name: "Verify every file" }).click();
    await jobSays(page, "Done.");
    const recordings = join(library, "recordings");
    const [name = ""] = readdirSync(recordings, { recursive: true, encoding: "utf8" }).filter((one) =>
      /[0-9a-f]{64}/.test(one),
    );
    appendFileSync(join(recordings, name), "x");
    await page.getByRole("button", { name: "Verify every file" }).click();
    await page.getByRole("button", { name: "Mend what can be mended" }).waitFor();
    await page.close();
  });

  test("a setting that results hang on names its sessions first, and can be set back", async () => {
    const { page } = await served.open({ hash: "#/settings" });
    const cutOff = page.getByLabel("Cut-off", { exact: false }).and(page.locator("input"));
    await cutOff.fill("18");
    await page.getByText(/shots of \d+ sessions would be out of date/).waitFor();
    await page.getByLabel("A foot is loaded from").fill("many");
    await page.getByText('A foot is loaded from: a number from 1 to 500 N is needed, not "many".').waitFor();
    expect(await page.getByRole("button", { name: "Save these settings" }).isDisabled()).toBe(true);
    await page.getByLabel("A foot is loaded from").fill("35");
    await page.getByRole("button", { name: "Save these settings" }).click();
    await page.waitForFunction(() => document.querySelector(".history")?.textContent?.includes("mechanics"));
    const inForce = async () =>
      (
        (await (await fetch(`${served.address}api/settings`)).json()) as {
          mechanics: { loadOnN: number; filter: unknown };
        }
      ).mechanics;
    expect(await inForce()).toMatchObject({ loadOnN: 35, filter: { kind: "butterworth", cutoffHz: 18 } });
    await page.getByRole("button", { name: "Compute what is missing or out of date" }).click();
    await jobSays(page, "Done.");
    await page
      .getByRole("button", { name: /^Undo: .*mechanics/ })
      .first()
      .click();
    await page.waitForFunction(() => document.querySelector(".history")?.textContent?.includes("(undone)"));
    expect(await inForce()).toMatchObject({ loadOnN: 30, filter: { kind: "butterworth", cutoffHz: 25 } });
    await page.close();
  });

  test("a folder that cannot be had leaves everything as it is, in one sentence", async () => {
    const { page } = await served.open({ hash: "#/settings" });
    const { folder: before } = (await (await fetch(`${served.address}api/about`)).json()) as { folder: string };
    await page.getByLabel("Library", { exact: true }).fill("/proc/nowhere");
    await page.getByRole("button", { name: "Open the library there" }).click();
    await page.locator(".folder .fault").waitFor();
    expect(await page.locator(".folder .fault").textContent()).toContain("/proc/nowhere");
    const { folder: after } = (await (await fetch(`${served.address}api/about`)).json()) as { folder: string };
    expect(after).toBe(before);
    await page.close();
  });

  test("at every width nothing runs off the screen, and axe finds nothing", async () => {
    for (const [width, theme] of [
      [1280, "desk"],
      [820, "dusk"],
      [390, "sun"],
      [320, "desk"],
    ] as const) {
      const { page } = await served.open({ hash: "#/settings", width, theme });
      await page.locator(".history li").first().waitFor();
      await settled(page);
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
        `${width}`,
      ).toBeLessThanOrEqual(0);
      expect(await axeViolations(page), `${width} ${theme}`).toEqual([]);
      await page.screenshot({ path: join(pictures, `settings-${width}-${theme}.png`), fullPage: true });
      await page.close();
    }
  });
});
