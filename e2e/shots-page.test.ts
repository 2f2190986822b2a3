// Finding a shot in the demo's library, and what is then said of it staying said.
import { mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

interface Stored {
  readonly values: Readonly<Record<string, { readonly value: number | null }>>;
  readonly id: string;
  readonly state: string;
}

const heading = (page: Page): Promise<string> => page.locator("h1").textContent().then(String);
const rows = (page: Page) => page.locator(".shot-table tbody tr");
/** The sentence once the page has asked for what the address says. */
async function said(page: Page, words: RegExp): Promise<void> {
  await page.waitForFunction(
    (source) => new RegExp(source).test(document.querySelector("h1")?.textContent ?? ""),
    words.source,
  );
}
const hash = (page: Page): string => new URL(page.url()).hash;

describe.skipIf(!hasChromium)("the shots page in a real browser, served by the real command", () => {
  let served: ServedPage;
  const folder = join(tmpdir(), "underfoot-pictures");
  beforeAll(async () => {
    mkdirSync(folder, { recursive: true });
    served = await servedPage();
  });
  afterAll(() => served?.stop());

  test("a shot is found by intent and finding, opened, labelled, undone; the history tells both; a mark outlives a reload", async () => {
    const { page, complaints } = await served.open({ hash: "#/shots" });
    await said(page, /^190 shots, 9 players; none set aside\.$/);
    await page.getByLabel("Intent").selectOption("high");
    await said(page, /^35 shots: high; none set aside\.$/);
    await page.getByLabel(/^Finding/).selectOption("gaps");
    await said(page, /^1 shot: high, gaps; none set aside\.$/);
    expect(hash(page)).toBe("#/shots?intent=high&findingCode=gaps");
    // The back button takes the last fact back, forward gives it again.
    await page.goBack();
    await said(page, /^35 shots: high;/);
    await page.goForward();
    await said(page, /^1 shot: high, gaps;/);
    await page.keyboard.press("Escape");
    await page.locator("h1").click();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.waitForSelector(".picture");
    await settled(page);
    // 21 in the demo's story, the fifth of its session.
    expect(await heading(page)).toBe("Shot 5, high");
    expect(hash(page)).toContain(`/${(await served.story(21)).id}?from=`);
    const result = () => page.locator(".result").textContent();
    expect(await result()).toMatch(/^Kept\./);
    await page.keyboard.press("m");
    await page.getByText(/^Mishit\. /).waitFor();
    await settled(page);
    expect(await page.getByRole("button", { name: /^Mishit/ }).getAttribute("aria-pressed")).toBe("true");
    await page.keyboard.press("u");
    await page.getByText(/^Kept\. /).waitFor();
    await settled(page);
    await page.getByText("What was done to this shot (3)").click();
    const done = await page.locator(".shot-history li").allTextContents();
    expect(done[0]).toContain("undid: labelled the shot a mishit");
    expect(done[1]).toMatch(/labelled the shot a mishit \(undone\)/);
    expect(done[2]).toContain("brought in demo-21");
    const finish = () => page.locator("[data-name='finish']").textContent();
    const before = await finish();
    const mark = async (event: string): Promise<void> => {
      await page.keyboard.press("e");
      await page.getByRole("combobox", { name: "Event" }).selectOption(event);
      await page.getByRole("button", { name: new RegExp(`^Mark ${event}`) }).click();
      await settled(page);
    };
    await page.getByRole("slider").focus();
    await page.keyboard.press("End");
    await mark("top");
    // After the marked delivery: the library refuses it, and nothing is left of it.
    const refused = page.getByRole("alert").filter({ hasText: "This mark is refused." });
    expect(await refused.textContent()).toContain("must come before");
    expect(await page.getByText("What was done to this shot (3)").count()).toBe(1);
    await page.keyboard.press("u");
    await settled(page);
    expect(await refused.count()).toBe(0);
    for (let k = 0; k < 30; k++) await page.keyboard.press("Shift+ArrowLeft");
    await mark("finish");
    const marked = await finish();
    expect(marked).toContain("marked ±4");
    expect(marked).not.toBe(before);
    await page.reload();
    await page.waitForSelector(".picture");
    await settled(page);
    expect(await finish()).toContain("marked ±4");
    // The browser itself notes the refusal; there was nothing else to complain of.
    expect(complaints.filter((words) => !words.includes("422"))).toEqual([]);
    await page.close();
  });

  test("the strip walks the list the shot was opened from, and the address alone opens the latest shot", async () => {
    const { page } = await served.open({ hash: "#/shots?intent=steep" });
    await said(page, /^3 shots: steep;/);
    await rows(page).nth(0).getByRole("link").click();
    await page.waitForSelector(".picture");
    await settled(page);
    expect(await page.locator(".strip .shot").count()).toBe(3);
    const first = await page.locator(".who").textContent();
    await page.keyboard.press("]");
    await page.waitForFunction((words) => document.querySelector(".who")?.textContent !== words, first);
    await settled(page);
    expect(await heading(page)).toMatch(/, steep$/);
    expect(hash(page)).toContain("from=intent%3Dsteep");
    await page.goto("about:blank");
    await page.goto(served.address);
    await page.waitForSelector(".picture");
    await settled(page);
    expect(hash(page)).toBe(`#/shot/${(await served.story(24)).id}`);
    await page.close();
  });

  test("the page computes with the library's settings: its numbers are the stored ones, and follow a change", async () => {
    const { id } = await served.story(7);
    const { page } = await served.open({ shot: 7 });
    const api = async (method: string, path: string, body?: object) =>
      (
        await fetch(`${served.address}api/${path}`, {
          method,
          ...(body ? { body: JSON.stringify(body), headers: { "Content-Type": "application/json" } } : {}),
        })
      ).json() as Promise<Stored>;
    const shown = () => page.locator(".measures tr", { hasText: "Lead foot load share" }).locator("td").textContent();
    const stored = async (): Promise<string> => {
      const { values } = await api("GET", `shots/${id}/measures`);
      return `${(values["lead.share.at.delivery"]?.value ?? Number.NaN).toFixed(1)} %`;
    };
    const before = await shown();
    expect(before).toContain(await stored());
    // An invented, far too low cut-off, so that the number must move.
    await api("PATCH", "settings", { mechanics: { filter: { kind: "butterworth", cutoffHz: 3 } } });
    await page.waitForFunction(
      (words) => [...document.querySelectorAll(".measures tr")].every((row) => !row.textContent?.includes(words)),
      before ?? "",
    );
    await settled(page);
    const after = await shown();
    const job = await api("POST", "jobs", { kind: "recompute", scope: "stale" });
    await expect.poll(async () => (await api("GET", `jobs/${job.id}`)).state, { timeout: 60_000 }).toBe("done");
    expect(after).toContain(await stored());
    await api("PATCH", "settings", { mechanics: { filter: null } });
    await page.waitForFunction(
      (words) => document.querySelector(".measures")?.textContent?.includes(words),
      before ?? "",
    );
    await page.close();
  });

  test("a mark is shown before the library has confirmed it, and taken back where it does not", async () => {
    const { page } = await served.open({ shot: 19 });
    const delivery = () => page.locator("[data-name='delivery']").textContent();
    const before = await delivery();
    expect(before).toContain("est.");
    let isHeld = true;
    await page.route("**/marks", async (route) => {
      while (isHeld) await new Promise((resolve) => setTimeout(resolve, 20));
      await route.abort();
    });
    for (const key of ["e", "Shift+ArrowLeft", "Enter"]) await page.keyboard.press(key);
    await page.waitForFunction(() =>
      document.querySelector("[data-name='delivery']")?.textContent?.includes("marked ±4"),
    );
    isHeld = false;
    await page.getByRole("alert").filter({ hasText: "Not stored." }).waitFor();
    await settled(page);
    expect(await delivery()).toBe(before);
    await page.keyboard.press("u");
    expect(await page.getByRole("alert").count()).toBe(0);
    await page.close();
  });

  test("chosen shots are set aside and moved together, each with an undo that stays", async () => {
    const { page } = await served.open({ hash: "#/shots?intent=shallow" });
    await said(page, /^3 shots: shallow; none set aside\.$/);
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Space");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Space");
    const chosen = page.getByRole("region", { name: "The chosen shots" });
    expect(await chosen.textContent()).toContain("2 shots chosen");
    await chosen.getByRole("button", { name: "Set aside" }).click();
    await page.getByText("2 shots set aside.").waitFor();
    await said(page, /; 2 set aside\.$/);
    await page.screenshot({ path: join(folder, "shots-chosen-1280.png") });
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByText("Taken back: 2 shots as before.").waitFor();
    await said(page, /; none set aside\.$/);
    const dayOf = async (k: number) => rows(page).nth(k).locator("td").nth(1).textContent();
    const before = await dayOf(0);
    await chosen.getByLabel("Session to move to").selectOption({ label: "10 Mar 2026, Player C" });
    await chosen.getByRole("button", { name: "Move" }).click();
    await page.getByText("2 shots moved to the session of 10 Mar 2026.").waitFor();
    await page.waitForFunction(
      () => document.querySelectorAll(".shot-table tbody tr td:nth-child(4)")[0]?.textContent === "Player C",
    );
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByText("Taken back: 2 shots as before.").waitFor();
    await page.waitForFunction(
      () => document.querySelectorAll(".shot-table tbody tr td:nth-child(4)")[0]?.textContent === "Player A",
    );
    expect(await dayOf(0)).toBe(before);
    await page.close();
  });

  test("more rows come by a button; a fact that no shot has says so and is taken back by its button; a wrong one is refused", async () => {
    const { page } = await served.open({ hash: "#/shots" });
    await said(page, /^190 shots/);
    expect(await rows(page).count()).toBe(100);
    await page.getByRole("button", { name: "More", exact: true }).last().click();
    await page.waitForFunction(() => document.querySelectorAll(".shot-table tbody tr").length === 190);
    await page.keyboard.press("/");
    expect(await page.evaluate(() => document.activeElement?.closest("label")?.textContent)).toMatch(/^Player/);
    await page.getByLabel("Carry from, m").fill("399");
    await page.keyboard.press("Enter");
    await said(page, /^No shot is all of this: carry at least 399\.0 m\.$/);
    await page.getByRole("button", { name: /^carry at least/ }).click();
    await said(page, /^190 shots/);
    await page.goto(`${served.address}#/shots?fromDay=yesterday`);
    await page.getByRole("alert").filter({ hasText: "YYYY-MM-DD" }).waitFor();
    await page.close();
  });

  test("a server that does not answer is said in one quiet line, which goes when it answers", async () => {
    const { page } = await served.open({ hash: "#/shots" });
    await said(page, /^190 shots/);
    await page.route("**/api/**", (route) => route.abort());
    await page.getByLabel("Intent").selectOption("low");
    const line = page.getByText("Underfoot on this machine does not answer; nothing is lost.");
    await line.waitFor();
    expect(await page.getByRole("alert").count()).toBe(0);
    await page.unroute("**/api/**");
    await page.getByRole("button", { name: "Try again" }).click();
    await said(page, /^35 shots: low/);
    expect(await line.count()).toBe(0);
    await page.close();
  });

  test.each([1280, 820, 390, 320])(
    "at %i px: no accessibility violation, nothing scrolls sideways, More opens by keyboard and Escape closes it",
    async (width) => {
      const theme = width === 390 ? "dusk" : width === 820 ? "sun" : "desk";
      const { page } = await served.open({ hash: "#/shots?fromDay=2026-03-01", width, theme });
      await said(page, /^38 shots/);
      await settled(page);
      const more = page.getByRole("button", { name: "More", exact: true });
      await more.focus();
      await page.keyboard.press("Enter");
      expect(await page.getByRole("link", { name: "Settings" }).isVisible()).toBe(true);
      expect(await axeViolations(page), `More at ${width} px`).toEqual([]);
      await page.keyboard.press("Escape");
      expect(await page.getByRole("link", { name: "Settings" }).isVisible()).toBe(false);
      expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("More");
      await page.locator(".row-box input").nth(2).check();
      // High enough that no row lies half under a line that stays: such a row would count as too small a target.
      await page.setViewportSize({ width, height: 3600 });
      expect(await axeViolations(page), `${width} px`).toEqual([]);
      await page.setViewportSize({ width, height: 900 });
      const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(beyond, `${width} px scrolls sideways`).toBeLessThanOrEqual(0);
      // A row that gets the focus does not come to lie under the line that stays.
      await page.locator(".row-link").nth(20).focus();
      await page.locator(".row-link").nth(2).focus();
      const [row, bar] = [page.locator(".row-link").nth(2), page.locator(".bar")];
      const [rowBox, barBox] = [(await row.boundingBox())!, (await bar.boundingBox())!];
      expect(rowBox.y).toBeGreaterThanOrEqual(barBox.y + barBox.height);
      await page.locator(".row-link").nth(25).focus();
      const low = (await page.locator(".row-link").nth(25).boundingBox())!;
      const chosen = (await page.getByRole("region", { name: "The chosen shots" }).boundingBox())!;
      expect(low.y + low.height).toBeLessThanOrEqual(chosen.y);
      await page.screenshot({ path: join(folder, `shots-${theme}-${width}.png`), fullPage: true });
      await page.close();
    },
  );

  // The last of all: it adds a shot to the library.
  test("a recording brought in without facts is a shot once they are said, and an undo takes them back", async () => {
    const { recording } = await served.story(8);
    const form = new FormData();
    // Another recording by content, so that it is no duplicate: what stands behind the data is read by nobody.
    const bytes = await recording();
    form.append("recording", new Blob([bytes as Uint8Array<ArrayBuffer>, new Uint8Array(512)]), "unsaid.c3d");
    form.append("ask", "{}");
    const brought = await fetch(`${served.address}api/recordings`, { method: "POST", body: form });
    const { shots } = (await brought.json()) as { shots: { shotId: string }[] };
    const { page } = await served.open({ hash: `#/shot/${shots[0]?.shotId}` });
    await page.getByRole("heading", { name: "What can be said without target and hand" }).waitFor();
    expect(await heading(page)).toBe("unsaid.c3d");
    await page.getByLabel("Pitch in degrees").fill("5");
    await page.getByRole("button", { name: "Compute the shot" }).click();
    await page.waitForSelector(".picture");
    await settled(page);
    await page.reload();
    await page.waitForSelector(".picture");
    await settled(page);
    expect(await page.locator(".ctx .lie").textContent()).toContain("5.0°");
    await page.getByLabel("Carry, m").fill("28.5");
    await page.keyboard.press("Enter");
    await page.getByText(/^Kept\. 28\.5 m\./).waitFor();
    await settled(page);
    await page.keyboard.press("Escape");
    await page.locator("h1").click();
    await page.keyboard.press("u");
    await page.getByText(/^Kept\. \d+ /).waitFor();
    await settled(page);
    await page.keyboard.press("u");
    await page.getByRole("heading", { name: "Say who stood where" }).waitFor();
    await page.close();
  });
});
