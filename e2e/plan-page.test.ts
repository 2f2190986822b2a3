// A session planned from nothing, its plates proved on recordings with a known answer, a foot traced: as a person does it.
import { mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import {
  massOnFirst,
  quietStance,
  shotFiles,
  struckBoard,
  unloaded,
  upslopeShot,
  walkedEdges,
} from "./check-recordings.ts";
import { hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

const folder = join(tmpdir(), "underfoot-plan-pictures");

/** These screens have more for the checker to look at than the others: over 15 rules. */
const violations = (page: Page): Promise<readonly string[]> => axeViolations(page, 16);

const scrollsSideways = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
const shotsOf = (page: Page): Promise<string[]> => page.locator(".drawn li").allTextContents();
const file = (name: string, bytes: Uint8Array) => ({
  name,
  mimeType: "application/octet-stream",
  buffer: Buffer.from(bytes),
});

describe.skipIf(!hasChromium)("plan and checks", () => {
  const shot = upslopeShot();
  const corners = shot.raw.map(({ cornersM }) => cornersM);
  let served: ServedPage;
  let page: Page;
  let complaints: readonly string[];

  const count = async (intent: string, lie: string, shots: number): Promise<void> => {
    const field = page.getByLabel(`${intent} on ${lie}, shots`);
    await field.fill(String(shots));
    await field.press("Enter");
  };
  const check = (kind: string) => page.locator(`[data-check="${kind}"]`);
  const makeCheck = async (kind: string, bytes: Uint8Array): Promise<void> => {
    const before = await check(kind).locator(".check-found").count();
    if (before > 0) await check(kind).locator("details.repeat > summary").click();
    await check(kind)
      .locator("input[type=file]")
      .setInputFiles(file(`${kind}.c3d`, bytes));
    await check(kind).getByRole("button", { name: "Make the check" }).click();
    await check(kind).getByRole("button", { name: "Make the check" }).waitFor({ state: "detached" });
  };
  const sentence = (part: string) => page.locator("h1", { hasText: part }).waitFor();

  beforeAll(async () => {
    mkdirSync(folder, { recursive: true });
    served = await servedPage();
    const opened = await served.open({ hash: "#/plan" });
    page = opened.page;
    complaints = opened.complaints;
  });
  afterAll(() => served?.stop());

  test("a session is planned from nothing: player, plates, lies, intents, a drawn order", async () => {
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Add a player" }).click();
    await page.getByLabel("Code (leaves this machine)").fill("P77");
    await page.getByLabel("Pronoun").selectOption("she");
    await page.getByLabel("Mass, kg").fill("72");
    await page.getByLabel("Shoes").fill("brown spikes");
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Add the player" }).click();
    await page.getByRole("button", { name: "Add a layout" }).click();
    await page.getByLabel("Name of the layout").fill("Mound, two plates");
    await page.getByLabel("Rated tilt, °").first().fill("4");
    await page.getByLabel("Take the place from a recording").setInputFiles(file("plates.c3d", unloaded(corners, 0)));
    await page.getByText("Place of 2 plates taken from plates.c3d.").waitFor();
    await page.getByRole("button", { name: "Add the layout" }).click();
    await page.getByLabel("Place", { exact: true }).fill("Bay 2");
    await page.getByRole("button", { name: "Open the session" }).click();
    await sentence("No check has been made yet");
    await page.getByText("Next: write down the lie that is hit from.").waitFor();

    await page.getByRole("button", { name: "Add a lie" }).click();
    await page.getByRole("button", { name: "Add a lie" }).click();
    await page.getByLabel("Name of the lie").fill("up");
    await page.getByLabel("Pitch, °, + rises to the target").fill("5");
    await page.getByLabel("Pitch, °, + rises to the target").press("Enter");
    await page.getByText(/^up tilts the plates by 5\.0°, and plate 1 is rated to 4°/).waitFor();
    await page.getByText("Stop at pain").waitFor();

    await page.getByRole("button", { name: "Add low" }).click();
    await page.getByRole("button", { name: "Add high" }).click();
    for (const intent of ["low", "high"]) for (const lie of ["flat", "up"]) await count(intent, lie, 6);
    await page.locator(".total.whole", { hasText: "24" }).waitFor();
    await page.getByRole("combobox", { name: "Order" }).selectOption("split");
    await page.getByText(/^Next: shot 1 of 24, (low|high) on (flat|up)\.$/).waitFor();
    const first = await shotsOf(page);
    expect(first).toHaveLength(24);
    await page.getByRole("button", { name: "Draw again" }).click();
    await page.waitForFunction((before) => document.querySelector(".drawn")?.textContent !== before, first.join(""));
    expect(await shotsOf(page)).not.toEqual(first);
    await page.getByRole("button", { name: /^Undo/ }).click();
    await page.getByRole("button", { name: "Bring it back" }).waitFor();
    await page.waitForFunction(
      (wanted) => [...document.querySelectorAll(".drawn li")].map((li) => li.textContent).join("") === wanted,
      first.join(""),
    );
    await page.getByRole("button", { name: "Bring it back" }).click();
    await page.waitForFunction((before) => document.querySelector(".drawn")?.textContent !== before, first.join(""));
    await page.locator("h1").click();
    await page.keyboard.press("Control+z");
    await page.getByRole("button", { name: "Bring it back" }).waitFor();
    await page.reload();
    await sentence("No check has been made yet");
    await page.locator(".drawn li").first().waitFor();
    expect(await shotsOf(page)).toEqual(first);
    await page.getByText("P77, right-handed").waitFor();
  });

  test("the checks are made from recordings; a failed one is gone past with a note that travels with a later shot", async () => {
    await makeCheck("zero", unloaded(corners, 6));
    await sentence("0 of 5 checks passed. The zero is 6 N off");
    expect(await check("zero").locator(".lozenge").first().getAttribute("data-state")).toBe("beyond");
    await check("zero").getByText("6 N found, 2 N allowed, beyond.").waitFor();
    await page.screenshot({ path: join(folder, "failed-1280.png"), fullPage: true });
    await check("zero").getByRole("button", { name: "Go on anyway" }).click();
    await check("zero")
      .getByLabel(/^Why go on\?/)
      .fill("cold morning, amplifier changed");
    await check("zero").getByRole("button", { name: "Go on with this note" }).click();
    await sentence("You went on although the zero failed");

    await check("known-mass").getByLabel("The mass, kg").fill("20");
    await check("known-mass").getByLabel("On the lie").selectOption("flat");
    await makeCheck("known-mass", massOnFirst(corners, 20));
    await check("quiet-lean").getByLabel("On the lie").selectOption("up");
    await makeCheck("quiet-lean", quietStance(shot));
    await makeCheck("clocks", struckBoard(corners));
    await makeCheck("outlines", walkedEdges(corners));
    await sentence("4 of 5 checks passed.");
    // The plates are tilted by 5 degrees; on the flat the same stance leans by that much more than it should.
    await check("quiet-lean").locator("details.repeat > summary").click();
    await check("quiet-lean").getByLabel("On the lie").selectOption("flat");
    await check("quiet-lean")
      .locator("input[type=file]")
      .setInputFiles(file("again.c3d", quietStance(shot)));
    await check("quiet-lean").getByRole("button", { name: "Make the check" }).click();
    await sentence("The lean of the quiet stance is 5 degrees off: check the inclinometer or the plates.");
    await check("quiet-lean")
      .getByText(/1 earlier$/)
      .waitFor();

    const sessionId = page.url().split("/").at(-1) ?? "";
    const { c3d, sidecar } = shotFiles(shot);
    const form = new FormData();
    form.set("recording", new File([c3d.slice()], "up-the-slope.c3d"));
    form.set("sidecar", sidecar);
    form.set("ask", JSON.stringify({ sessionId }));
    const brought = await fetch(new URL("/api/recordings", served.address), { method: "POST", body: form });
    expect(brought.status, await brought.clone().text()).toBe(201);
    const { shots } = (await brought.json()) as { shots: readonly { shotId: string }[] };
    const stored = await fetch(new URL(`/api/shots/${shots[0]?.shotId}`, served.address));
    const { findings } = (await stored.json()) as { findings: readonly { code: string; sentence: string }[] };
    expect(findings.find(({ code }) => code === "plate-check-failed")?.sentence).toContain(
      "cold morning, amplifier changed",
    );
    await page.getByText("Next: shot 2 of 24").waitFor();
  });

  test("a foot is traced with keys and with the pointer, kept, and taken over from the walk round its edge", async () => {
    // So high that nothing lies under the line at the top or the one at the bottom while it is looked at.
    for (const width of [390, 1280]) {
      await page.setViewportSize({ width, height: 6000 });
      if (width === 390) await page.getByRole("button", { name: "Trace the lead foot" }).click();
      await settled(page);
      expect(await scrollsSideways(page), `${width} px scrolls sideways`).toBeLessThanOrEqual(0);
      expect(await violations(page), `${width}`).toEqual([]);
      await page.screenshot({ path: join(folder, `tracing-${width}.png`), fullPage: true });
    }
    const toe = page.locator('.tracing [data-point="bigToe"]');
    await toe.focus();
    const before = await toe.getAttribute("aria-label");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Shift+ArrowRight");
    expect(await toe.getAttribute("aria-label")).not.toBe(before);
    const heel = page.locator('.tracing [data-point="heel"]');
    await heel.scrollIntoViewIfNeeded();
    const box = await heel.boundingBox();
    if (box === null) throw new Error("the heel's point is not on the screen");
    const heelBefore = await heel.getAttribute("aria-label");
    await page.mouse.move(box.x + 24, box.y + 24);
    await page.mouse.down();
    await page.mouse.move(box.x + 30, box.y + 14, { steps: 4 });
    await page.mouse.up();
    expect(await heel.getAttribute("aria-label")).not.toBe(heelBefore);
    const moved = await heel.boundingBox();
    expect(moved?.x).toBeCloseTo(box.x + 6, 0);
    expect(moved?.y).toBeCloseTo(box.y - 10, 0);
    await page.getByRole("button", { name: "Keep the lead foot" }).click();
    await page.getByText("One foot traced.").waitFor();
    await page.getByRole("button", { name: "Take the walked trail foot over" }).click();
    await page.getByText("Both feet traced.").waitFor();
    const left = await page.locator('.tracing [data-point="heel"]').getAttribute("aria-label");
    await page.reload();
    await page.getByText("Both feet traced.").waitFor();
    await page.getByRole("button", { name: "Trace the lead foot" }).click();
    expect(await page.locator('.tracing [data-point="heel"]').getAttribute("aria-label")).toBe(left);
  });

  test("how many shots: says what is missing, and with the demo's player how many", async () => {
    await page.getByText("How many shots do I need?").click();
    await page.getByText(/^There is no earlier shot of this player/).waitFor();
    const sessions = await fetch(new URL("/api/sessions?limit=50", served.address));
    const { rows } = (await sessions.json()) as {
      rows: readonly { id: string; playerCode: string; shotCount: number }[];
    };
    const earlier = rows.find(({ playerCode }) => playerCode === "Player C");
    const json = JSON.stringify({ playerId: await playerOf(earlier?.id ?? ""), day: "2027-01-05" });
    const added = await fetch(new URL("/api/sessions", served.address), {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: json,
    });
    const { id } = (await added.json()) as { id: string };
    await page.goto(`${served.address}#/plan/${id}`);
    await page.getByRole("button", { name: "Add a lie" }).click();
    await page.getByRole("button", { name: "Add low" }).click();
    await page.getByRole("button", { name: "Add high" }).click();
    await count("low", "flat", 4);
    await count("high", "flat", 4);
    await page.getByText("How many shots do I need?").click();
    await page.getByLabel(/^Difference that would matter/).fill("5");
    await page.getByLabel(/^Difference that would matter/).press("Enter");
    const use = page.getByRole("button", { name: /^Use \d+ of each/ });
    await use.waitFor();
    const wanted = Number(/\d+/.exec((await use.textContent()) ?? "")?.[0]);
    await use.click();
    await page.locator(".total.whole", { hasText: String(2 * wanted) }).waitFor();
    await page.screenshot({ path: join(folder, "shots-needed-1280.png"), fullPage: true });
  });

  test("no accessibility violation, nothing scrolls sideways; all folds open", async () => {
    for (const width of [1280, 820, 390, 320]) {
      // So high that nothing lies under the line at the top or the one at the bottom while it is looked at.
      await page.setViewportSize({ width, height: 6000 });
      await settled(page);
      await page.evaluate(() => {
        for (const fold of document.querySelectorAll("details")) fold.open = true;
      });
      await settled(page);
      expect(await scrollsSideways(page), `${width} px scrolls sideways`).toBeLessThanOrEqual(0);
      if (width === 1280 || width === 390) expect(await violations(page), `${width}`).toEqual([]);
      await page.screenshot({ path: join(folder, `all-open-${width}.png`), fullPage: true });
    }
    expect(complaints).toEqual([]);
  });

  async function playerOf(sessionId: string): Promise<string> {
    const answer = await fetch(new URL(`/api/sessions/${sessionId}`, served.address));
    return ((await answer.json()) as { playerId: string }).playerId;
  }
});
