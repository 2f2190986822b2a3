// A folder brought in as a person does it: looked at, a mapping said, bad files told, known files known, all taken back out.
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { writeBringInFolder } from "./bring-in-files.ts";
import { dropFiles, hasChromium, type ServedPage, servedPage } from "./served-page.ts";

const pictures = join(tmpdir(), "underfoot-bring-in-pictures");

/** These screens have more for the checker to look at than the others: over 15 rules. */
const violations = (page: Page): Promise<readonly string[]> => axeViolations(page, 16);

const scrollsSideways = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
/** A refused file is an answer of 4xx, which the browser writes into its console. */
const unexpected = (complaints: readonly string[]): readonly string[] =>
  complaints.filter((text) => !text.startsWith("Failed to load resource"));
const bringButton = (page: Page) => page.getByRole("button", { name: /^Bring \d+ recordings? in$/ });
const groups = (page: Page): Promise<string[]> => page.locator(".group h3").allInnerTexts();

describe.skipIf(!hasChromium)("bring in", () => {
  let served: ServedPage;
  let parent: string;
  let folder: string;
  let shotsBefore: number;
  const total = async (): Promise<number> => {
    const answer = await fetch(`${served.address}api/shots?limit=1`);
    return ((await answer.json()) as { total: number }).total;
  };
  const withFolder = async (width = 1280): Promise<{ page: Page; complaints: readonly string[] }> => {
    const { page, complaints } = await served.open({ hash: "#/bring-in", width });
    await page.locator("input[type=file]").nth(1).setInputFiles(folder);
    await page.waitForFunction(() => document.querySelectorAll(".group[aria-busy=false]").length === 3);
    return { page, complaints };
  };

  beforeAll(async () => {
    mkdirSync(pictures, { recursive: true });
    parent = mkdtempSync(join(tmpdir(), "underfoot-bring-in-"));
    folder = join(parent, "day one");
    writeBringInFolder(folder);
    served = await servedPage();
    shotsBefore = await total();
  }, 240_000);
  afterAll(async () => {
    await served?.stop();
    rmSync(parent, { recursive: true, force: true });
  });

  let first: { page: Page; complaints: readonly string[] };

  test("shows every kind of file once, with what each column is taken for and the stance that follows", async () => {
    first = await withFolder();
    const { page } = first;
    expect(await page.locator(".folder-head").textContent()).toContain(
      "12 recordings, 9 with a sidecar, 1 other file passed over.",
    );
    expect(await groups(page)).toEqual([
      "7 files with the same 13 channels",
      "3 files with the same 13 channels",
      "1 file with 11 columns",
    ]);
    expect(await page.locator(".problems").textContent()).toContain("notes.txt");
    const c3d = page.locator(".group").first();
    expect(await c3d.locator(".columns li").count()).toBe(13);
    expect(await c3d.locator(".columns li").nth(2).textContent()).toContain("plate 1, force along its z, N");
    // The demo's first player weighs 92 to 97 kg with shoes and club; a wrong unit or sign is out by far more.
    expect(await c3d.locator(".stance figcaption").textContent()).toMatch(/9[0-9]\.\d\skg with the club/);
    expect(await page.locator(".folder-head .answer").textContent()).toBe(
      "3 kinds of columns; 1 of them waits for you to say what the columns are.",
    );
    expect(await bringButton(page).textContent()).toBe("Bring 10 recordings in");
    expect(await violations(page)).toEqual([]);
  }, 60_000);

  test("a table is understood once its units are said, and the mapping is kept by a name", async () => {
    const { page } = first;
    const text = page.locator(".group").nth(2);
    expect(await text.locator(".no-stance").textContent()).toContain("gives no unit");
    await text.getByLabel("Unit of Fx1").selectOption("N");
    await text.getByLabel("Unit of Px2").selectOption("mm");
    await text.locator(".stance").waitFor();
    // 700 N by construction, swaying by 2 N: 71.2 to 71.6 kg at 9.80665 m/s² (standard gravity).
    expect(await text.locator(".stance figcaption").textContent()).toMatch(/(69[89]|70[012])\sN, 71\.[2-6]\skg/);
    await text.getByLabel("Unit of Fx1").selectOption("kN");
    await expect.poll(() => text.locator(".findings").textContent()).toContain("a person weighs 200 to 2000 N");
    await text.getByLabel("Unit of Fx1").selectOption("N");
    await text.getByLabel("Unit of Fx1").press("Tab");
    await text.getByLabel("Keep this mapping as").fill("two plates, no units");
    await text.getByRole("button", { name: "Keep" }).click();
    await expect.poll(() => text.locator(".keep-mapping").textContent()).toContain("Kept as “two plates, no units”.");
    await expect.poll(() => bringButton(page).textContent()).toBe("Bring 11 recordings in");
    await page.screenshot({ path: join(pictures, "look-1280.png"), fullPage: true });
  }, 60_000);

  test("look only says what would come in and stores nothing", async () => {
    const { page } = first;
    await page.getByRole("button", { name: "Look only" }).click();
    const end = page.locator(".bringing-end");
    await end.waitFor();
    expect(await end.textContent()).toBe("10 shots could be brought in; 2 files could not be. Nothing was stored.");
    expect(await total()).toBe(shotsBefore);
  }, 60_000);

  test("one button brings the folder in; each bad file has its sentence, and what is cut off can be taken", async () => {
    const { page, complaints } = first;
    await page.getByLabel("Target lies").selectOption("+x");
    await page.getByRole("button", { name: "Use for 2 files" }).click();
    expect(await page.locator(".said-facts").textContent()).toContain("For 2 files without a sidecar: right-handed");
    await bringButton(page).click();
    await expect
      .poll(() => page.locator(".bringing-end").textContent(), { timeout: 60_000 })
      .toBe("10 shots brought in; 2 files could not be.");
    expect(await total()).toBe(shotsBefore + 10);
    const problems = await page.locator(".problem-list li").allInnerTexts();
    expect(problems.map((text) => text.split(" ").slice(0, 2).join(" ")).sort()).toEqual(
      ["day one/cut.c3d", "day one/notes.txt"].map((path) => path),
    );
    expect(problems.find((text) => text.includes("cut.c3d"))).toMatch(/cut off: .*frames.*Copy or export it again/);
    await page.getByRole("button", { name: "Take what is there of 1 cut-off file" }).click();
    await expect
      .poll(() => page.locator(".bringing-end").textContent(), { timeout: 30_000 })
      .toBe("11 shots brought in; 1 file could not be.");
    expect(await total()).toBe(shotsBefore + 11);
    expect(await page.getByRole("link", { name: "Show the shots" }).getAttribute("href")).toContain("#/shots");
    expect(await violations(page)).toEqual([]);
    expect(unexpected(complaints)).toEqual([]);
    await page.screenshot({ path: join(pictures, "end-1280.png"), fullPage: true });
  }, 120_000);

  test("a second time all of it is known, the table by its kept mapping; one column at 390", async () => {
    const { page, complaints } = await withFolder(390);
    await expect
      .poll(() => page.locator(".group").nth(2).textContent())
      .toContain("kept mapping “two plates, no units”");
    expect(await scrollsSideways(page)).toBe(0);
    expect(await violations(page)).toEqual([]);
    await bringButton(page).click();
    await expect
      .poll(() => page.locator(".bringing-end").textContent(), { timeout: 60_000 })
      .toBe("0 shots brought in; 11 files were known already; 1 file could not be.");
    expect(await total()).toBe(shotsBefore + 11);
    expect(await scrollsSideways(page)).toBe(0);
    expect(unexpected(complaints)).toEqual([]);
    await page.screenshot({ path: join(pictures, "known-390.png"), fullPage: true });
    await page.close();
  }, 120_000);

  test("what was brought in can be taken back out", async () => {
    const { page } = first;
    await page.getByRole("button", { name: "Take these back out" }).click();
    await expect
      .poll(() => page.locator(".bringing").textContent(), { timeout: 60_000 })
      .toContain("11 shots taken back out.");
    expect(await total()).toBe(shotsBefore);
    await page.close();
    const again = await served.open({ hash: "#/bring-in" });
    await dropFiles(again.page, [{ name: "shot-2.c3d", bytes: readFileSync(join(folder, "shot-2.c3d")) }]);
    expect(await bringButton(again.page).isDisabled()).toBe(true);
    await again.page.locator(".place-choice").getByRole("combobox", { name: "Player" }).selectOption({ index: 1 });
    await again.page.getByRole("button", { name: "Bring 1 recording in" }).click();
    await expect
      .poll(() => again.page.locator(".bringing-end").textContent(), { timeout: 30_000 })
      .toBe("1 shot brought in; it had been taken out and is back as it was.");
    expect(await total()).toBe(shotsBefore + 1);
    await again.page.close();
  }, 90_000);

  test("leaving in the middle asks first, and Cancel leaves the rest where it is", async () => {
    const { page } = await served.open({ hash: "#/bring-in", width: 820 });
    const files = ["shot-1.c3d", "shot-2.c3d", "shot-3.c3d", "shot-1.shot.json"];
    await dropFiles(
      page,
      files.map((name) => ({ name, bytes: readFileSync(join(folder, name)) })),
    );
    await page.waitForFunction(() => document.querySelectorAll(".group[aria-busy=false]").length > 0);
    // Requests that never answer: the page waits until somebody cancels.
    await page.route("**/api/recordings", () => undefined);
    await bringButton(page).click();
    await page.getByRole("button", { name: "Cancel" }).waitFor();
    const asked = page.waitForEvent("dialog").then(async (dialog) => {
      const message = dialog.message();
      await dialog.dismiss();
      return message;
    });
    await page.getByRole("link", { name: "Shots" }).click();
    expect(await asked).toContain("What is in stays");
    expect(page.url()).toContain("#/bring-in");
    await page.getByRole("button", { name: "Cancel" }).focus();
    await page.keyboard.press("Enter");
    await expect
      .poll(() => page.locator(".bringing-end").textContent())
      .toBe("0 shots brought in; 3 files not looked at.");
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("bringing-end");
    expect(await page.getByRole("button", { name: "Go on with 3 files" }).count()).toBe(1);
    await page.screenshot({ path: join(pictures, "cancelled-820.png"), fullPage: true });
    await page.close();
  }, 60_000);
});
