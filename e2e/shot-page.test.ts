import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { dropFiles, hasChromium, openShot, type ServedPage, servedPage, settled } from "./served-page.ts";

// Places in the demo library: its story is fixed (simulator, demo-shots.ts).
const RIGHT_UPSLOPE = 7;
const RIGHT_WITHOUT_MARKS = 16;
const LEFT_FLAT = 17;
const LEFT_UPSLOPE = 20;
const LEFT_WITH_GAP = 21;

const RECORDINGS = join(import.meta.dirname, "../../shared/data/recordings");

interface ExpectedFiles {
  readonly files: Readonly<
    Record<string, { readonly plates: readonly { readonly index: number; readonly mean_force: readonly number[] }[] }>
  >;
}

const slider = (page: Page) => page.getByRole("slider");
const spoken = async (page: Page): Promise<string> => (await slider(page).getAttribute("aria-valuetext")) ?? "";
const rulerMs = async (page: Page): Promise<number> => Number(await slider(page).getAttribute("aria-valuenow"));
const eventWords = (page: Page): Promise<string> => page.locator("[data-name='delivery']").textContent().then(String);
const frame = (page: Page): Promise<unknown> =>
  page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
const press = async (page: Page, ...keys: readonly string[]): Promise<void> => {
  for (const key of keys) await page.keyboard.press(key);
  await frame(page);
};

describe.skipIf(!hasChromium)("the shot page in a real browser, served by the real command", () => {
  let served: ServedPage;
  beforeAll(async () => {
    served = await servedPage();
  });
  afterAll(() => served?.stop());

  test("opens with a sentence, the sheet and the invented demo, and complains of nothing", async () => {
    const { page, complaints, requests } = await served.open();
    expect(await page.locator("h1").textContent()).toMatch(/^Shot 1, /);
    expect(await page.locator(".demo-note").textContent()).toContain("Invented");
    expect(await page.locator(".result").textContent()).toMatch(/^Kept\. .*17 Mar 2026\./);
    expect(await page.locator(".beside h2").textContent()).not.toBe("");
    expect(await page.locator(".picture").getAttribute("aria-label")).toContain("Sheet of the shot.");
    await press(page, "l", "d", "?");
    expect(complaints).toEqual([]);
    expect(requests.every(({ method, url }) => method === "GET" && url.startsWith(served.address))).toBe(true);
    await page.close();
  });

  test("the ruler is a slider that keys move by frames, to events and to the ends", async () => {
    const { page } = await served.open({ shot: RIGHT_UPSLOPE });
    await slider(page).focus();
    const atOpening = await rulerMs(page);
    expect(await spoken(page)).toMatch(/milliseconds, delivery, lead share .* percent, push .* newtons/);
    await press(page, "ArrowRight");
    expect(await rulerMs(page)).toBe(atOpening + 1);
    await press(page, "Shift+ArrowLeft");
    expect(await rulerMs(page)).toBe(atOpening - 9);
    await press(page, "ArrowDown", "ArrowDown", "ArrowUp");
    expect(await rulerMs(page)).toBe(atOpening - 8);
    await press(page, ".", ".");
    expect(await spoken(page)).toContain("impact");
    expect(await rulerMs(page)).toBe(0);
    await press(page, ",", ",");
    expect(await spoken(page)).toContain("top");
    await press(page, "Home");
    expect(await rulerMs(page)).toBe(Number(await slider(page).getAttribute("aria-valuemin")));
    await press(page, "End");
    expect(await rulerMs(page)).toBe(Number(await slider(page).getAttribute("aria-valuemax")));
    await page.close();
  });

  test("a press in the falling columns sets the ruler there, and the numbers by the feet follow", async () => {
    const { page } = await served.open({ shot: RIGHT_UPSLOPE });
    const share = () => page.locator("[data-at='share lead']").textContent();
    const before = await share();
    const box = (await page.locator(".surface").boundingBox())!;
    await page.mouse.click(box.x + box.width / 2, box.y + box.height - 440);
    await frame(page);
    expect(await share()).not.toBe(before);
    await page.close();
  });

  test("the ruler is dragged by its handle, with the mouse and with a finger", async () => {
    const { page } = await served.open({ shot: RIGHT_UPSLOPE });
    const from = await rulerMs(page);
    const box = (await slider(page).boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x, y - 60, { steps: 4 });
    await page.mouse.up();
    await frame(page);
    const dragged = await rulerMs(page);
    expect(dragged).toBeLessThan(from - 100);
    await page.mouse.move(x, y + 100);
    await frame(page);
    expect(await rulerMs(page)).toBe(dragged);
    await page.evaluate(
      ([left, top]) => {
        const handle = document.querySelector("[role=slider]")!;
        const touch = (kind: string, clientY: number) =>
          handle.dispatchEvent(
            new PointerEvent(kind, {
              pointerId: 1,
              pointerType: "touch",
              clientX: left!,
              clientY,
              button: 0,
              bubbles: true,
            }),
          );
        // A made-up finger cannot be captured by the browser: the handle pretends it was.
        handle.setPointerCapture = () => undefined;
        handle.hasPointerCapture = () => true;
        touch("pointerdown", top!);
        touch("pointermove", top! + 90);
        touch("pointerup", top! + 90);
      },
      [x, y] as const,
    );
    await frame(page);
    expect(await rulerMs(page)).toBeGreaterThan(from);
    await page.close();
  });

  test("while the ruler moves only what follows it changes, and nothing is laid out anew", async () => {
    const { page } = await served.open({ shot: RIGHT_UPSLOPE });
    await slider(page).focus();
    await press(page, "Home");
    await page.evaluate(() => {
      const seen = { elsewhere: [] as string[], overlay: 0, shift: 0 };
      Object.assign(globalThis, { seen });
      const isFollower = (node: Node): boolean => {
        const element = node instanceof Element ? node : node.parentElement;
        return element?.closest(".overlay, .ruler-handle, .at-ruler") != null;
      };
      new MutationObserver((changes) => {
        for (const { target } of changes) {
          if (isFollower(target)) seen.overlay++;
          else seen.elsewhere.push(target.nodeName);
        }
      }).observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) seen.shift += (entry as unknown as { value: number }).value;
      }).observe({ type: "layout-shift", buffered: false });
    });
    for (let k = 0; k < 60; k++) await press(page, "Shift+ArrowRight");
    const seen = await page.evaluate(() => (globalThis as unknown as { seen: SeenChanges }).seen);
    expect(seen.elsewhere).toEqual([]);
    expect(seen.overlay).toBeGreaterThan(60);
    expect(seen.shift).toBe(0);
    await page.close();
  });

  test("on level axes the slope share vanishes and the caption says so", async () => {
    const { page } = await served.open({ shot: RIGHT_UPSLOPE });
    const hachured = page.locator(".picture rect[fill='url(#hachure)']");
    expect(await hachured.count()).toBe(1);
    await press(page, "l");
    expect(await hachured.count()).toBe(0);
    expect(await page.locator(".caption").first().textContent()).toContain("Level axes");
    await page.getByRole("button", { name: "turf" }).click();
    expect(await hachured.count()).toBe(1);
    await page.close();
  });

  test("a mark replaces the estimate, everything is computed again, and undo brings back exactly what was", async () => {
    const { page } = await served.open({ shot: RIGHT_WITHOUT_MARKS });
    const measures = () => page.locator(".measures table").textContent();
    const [wordsBefore, measuresBefore] = [await eventWords(page), await measures()];
    expect(wordsBefore).toContain("est. ±30");
    const atBefore = await rulerMs(page);
    await press(page, "e", "Shift+ArrowLeft", "Shift+ArrowLeft", "Enter");
    await settled(page);
    const marked = await eventWords(page);
    expect(marked).toContain("marked ±4");
    expect(marked).toMatch(/was −\d+ ms/);
    expect(await measures()).not.toBe(measuresBefore);
    expect(Math.abs((await rulerMs(page)) - (atBefore - 20))).toBeLessThanOrEqual(1);
    await press(page, "u");
    await settled(page);
    expect(await eventWords(page)).toBe(wordsBefore);
    expect(await measures()).toBe(measuresBefore);
    await press(page, "e", "Shift+ArrowRight", "Enter");
    await settled(page);
    await press(page, "Control+z");
    await settled(page);
    expect(await eventWords(page)).toBe(wordsBefore);
    expect(await page.getByRole("button", { name: /^Undo/ }).isDisabled()).toBe(true);
    await page.close();
  });

  test.each([
    ["against other marks", RIGHT_UPSLOPE, "This mark is refused. The mark for top"],
    ["against the trigger", RIGHT_WITHOUT_MARKS, /must come (before|after)/],
  ])(
    "a mark out of order %s is answered with the reason, the shot stays in view, and undo clears it",
    async (_, shot, words) => {
      const { page } = await served.open({ shot });
      await slider(page).focus();
      await press(page, "End", "e");
      await page.getByRole("combobox", { name: "Event" }).selectOption("top");
      await page.getByRole("button", { name: /^Mark top/ }).click();
      const alert = page.getByRole("alert").filter({ hasText: words });
      await alert.waitFor();
      expect(await page.locator(".picture").count()).toBe(1);
      await press(page, "u");
      await settled(page);
      expect(await alert.count()).toBe(0);
      await page.close();
    },
  );

  test("the lead foot is nearer the flag for both hands; toes point down for right-handed, up for left-handed", async () => {
    for (const [shot, toesDown] of [
      [RIGHT_UPSLOPE, true],
      [LEFT_FLAT, false],
      [LEFT_UPSLOPE, false],
    ] as const) {
      const { page } = await served.open({ shot });
      const centre = async (foot: string): Promise<number> => {
        const box = (await page.locator(`[data-sole='${foot}']`).boundingBox())!;
        return box.x + box.width / 2;
      };
      const flag = (await page.locator("[data-flag]").boundingBox())!;
      expect(await centre("lead")).toBeGreaterThan(await centre("trail"));
      expect(flag.x + flag.width).toBeGreaterThan(await centre("lead"));
      const caption = await page.locator(".plan .plan-caption").first().textContent();
      expect(caption).toBe(toesDown ? "seen from above, from the ball side" : "seen from above, from behind the heels");
      await page.close();
    }
  });

  test("each sole keeps its own big toe side: the two feet of a player are narrower apart at the toes' inner edge", async () => {
    // Anatomy, common knowledge: the big toe, the longest for these soles, is on the side of the other foot.
    for (const shot of [RIGHT_UPSLOPE, LEFT_UPSLOPE]) {
      const { page } = await served.open({ shot });
      const bigToeOffsets = await page.evaluate(() =>
        ["lead", "trail"].map((foot) => {
          const path = document.querySelector<SVGPathElement>(`[data-sole='${foot}']`)!;
          const points = [...path.getAttribute("d")!.matchAll(/([\d.-]+) ([\d.-]+)/g)].map((m) => [+m[1]!, +m[2]!]);
          return points.map(([x, y]) => [x!, y!] as const);
        }),
      );
      const [lead, trail] = bigToeOffsets.map((outline) => forefootBias(outline, shot === RIGHT_UPSLOPE));
      // The forefoot bulges to the inner side: left of its axis for the lead foot, right of it for the trail foot.
      expect(Math.sign(lead!)).toBe(-Math.sign(trail!));
      await page.close();
    }
  });

  test("a gap in the recording is drawn as a gap, said, and what crosses it is not given", async () => {
    const { page } = await served.open({ shot: LEFT_WITH_GAP });
    const curve = await page.locator("[data-column='push'] .curve[stroke]").getAttribute("d");
    expect(curve!.match(/M/g)!.length).toBeGreaterThan(1);
    expect(await page.locator(".caption").first().textContent()).toContain("No data from the trail plate");
    expect(await page.locator(".measures").textContent()).toContain("not given");
    await page.close();
  });

  test("columns are swapped, five at most", async () => {
    const { page } = await served.open();
    await page.getByRole("button", { name: "Columns" }).click();
    const torque = page.getByLabel("Turning torque");
    expect(await torque.isDisabled()).toBe(true);
    await page.getByLabel("Travel").uncheck();
    await torque.check();
    await page.getByRole("button", { name: "Done" }).click();
    expect(await page.locator("[data-column='turn']").count()).toBe(1);
    expect(await page.locator("[data-column='travel']").count()).toBe(0);
    await page.close();
  });

  test("keys step through the shots, and letters can be switched off", async () => {
    const { page } = await served.open();
    await press(page, "]");
    await settled(page);
    expect(await page.locator("h1").textContent()).toMatch(/^Shot 2, /);
    await press(page, "?");
    await page.getByLabel("Single letters and signs act as keys").uncheck();
    await page.keyboard.press("Escape");
    expect(await page.locator("dialog[open]").count()).toBe(0);
    await press(page, "[");
    expect(await page.locator("h1").textContent()).toMatch(/^Shot 2, /);
    await page.close();
  });

  test("a dropped C3D with its sidecar is computed in the page; nothing is sent anywhere", async () => {
    const { page, requests } = await served.open();
    const { name, recording, sidecar } = await served.story(8);
    const files = [
      { name: `${name}.c3d`, bytes: await recording() },
      { name: `${name}.shot.json`, bytes: await sidecar() },
    ];
    await openShot(page, 8);
    const table = () => page.locator(".measures table").textContent();
    const served8 = await table();
    const before = requests.length;
    await dropFiles(page, files);
    await page.waitForFunction(() => document.querySelector(".result")?.textContent?.includes("Your file"));
    await settled(page);
    expect(await table()).toBe(served8);
    // The browser itself asks for the page's icon again when the address changes.
    const others = requests.slice(before).filter(({ url }) => url !== `${served.address}icon.svg`);
    expect(others).toEqual([]);
    await page.close();
  });

  test("without a sidecar: loads per plate first, and the shot once hand, feet, target and lie are said", async () => {
    const { page } = await served.open();
    const bytes = await (await served.story(8)).recording();
    await dropFiles(page, [{ name: "mine.c3d", bytes }]);
    await page.getByRole("heading", { name: "What can be said without target and hand" }).waitFor();
    const leadPlate = await page.getByLabel("Lead foot (nearer the target)").inputValue();
    const trailPlate = await page.getByLabel("Trail foot").inputValue();
    expect(leadPlate).not.toBe(trailPlate);
    await page.getByLabel("Pitch in degrees").fill("5");
    await page.getByRole("button", { name: "Compute the shot" }).click();
    await page.waitForSelector(".picture");
    expect(await page.locator(".ctx .lie").textContent()).toContain("5.0°");
    await press(page, "u");
    await page.getByRole("heading", { name: "Say who stood where" }).waitFor();
    await page.close();
  });

  test("each file that cannot be read says why and what to do, and the shots stay", async () => {
    const { page, complaints } = await served.open();
    const broken: readonly (readonly [string, Uint8Array])[] = [
      ["empty.c3d", new Uint8Array(0)],
      ["words.c3d", new TextEncoder().encode("This is a letter and not a recording.\n".repeat(40))],
      ["cut.c3d", (await (await served.story(8)).recording()).subarray(0, 900)],
    ];
    for (const [name, bytes] of broken) {
      await dropFiles(page, [{ name, bytes }]);
      const alert = page.getByRole("alert").filter({ hasText: name });
      await alert.waitFor();
      expect((await alert.locator("p").allTextContents()).every((text) => text.length > 20)).toBe(true);
    }
    await dropFiles(page, [{ name: "lost.shot.json", bytes: new TextEncoder().encode("{}") }]);
    await page.getByRole("alert").filter({ hasText: "sidecar without its recording" }).waitFor();
    await openShot(page, 1);
    expect(await page.locator(".picture").count()).toBe(1);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("long work says what it does and can be cancelled and taken up again", async () => {
    const { page } = await served.open();
    let isHeld = true;
    await page.route("**/api/shots/*/recording", async (route) => {
      while (isHeld) await new Promise((resolve) => setTimeout(resolve, 20));
      await route.continue();
    });
    await press(page, "]");
    await page.getByText(/^Reading demo-02.* in this page\./).waitFor();
    await page.getByRole("button", { name: "Cancel" }).click();
    await page.getByText(/^Cancelled\. demo-02/).waitFor();
    isHeld = false;
    await page.getByRole("button", { name: "Compute it" }).click();
    await page.waitForSelector(".picture");
    await page.close();
  });

  test("marks are offered as a sidecar, which brings them back when it is dropped with the recording", async () => {
    const { page } = await served.open({ shot: RIGHT_WITHOUT_MARKS });
    await press(page, "e", "Shift+ArrowLeft", "Enter");
    await settled(page);
    const words = await eventWords(page);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as sidecar" }).click(),
    ]);
    const { name, recording } = await served.story(RIGHT_WITHOUT_MARKS);
    expect(download.suggestedFilename()).toBe(`${name}.shot.json`);
    const sidecar = readFileSync(await download.path());
    expect(JSON.parse(sidecar.toString())).toMatchObject({
      underfoot: "shot",
      version: 1,
      events: expect.arrayContaining([expect.objectContaining({ event: "delivery", source: "marked", sd: 4 })]),
    });
    await dropFiles(page, [
      { name: `${name}.c3d`, bytes: await recording() },
      { name: `${name}.shot.json`, bytes: sidecar },
    ]);
    await page.waitForFunction(() => document.querySelector(".result")?.textContent?.includes("Your file"));
    await settled(page);
    expect(words).toContain((await eventWords(page)).slice(0, 20));
    expect(await eventWords(page)).toContain("marked ±4");
    // The library is everybody's here: it is left as it was found.
    await openShot(page, RIGHT_WITHOUT_MARKS);
    await press(page, "u");
    await settled(page);
    expect(await eventWords(page)).toContain("est. ±30");
    await page.close();
  });

  test("a real recording that nobody made for golf is read, and what can be said of it is said", async () => {
    const { page, complaints } = await served.open();
    for (const file of ["type-2-one-plate.c3d", "type-4-one-plate.c3d"]) {
      // golden/c3d/README.md says where they come from.
      await dropFiles(page, [{ name: file, bytes: readFileSync(join(import.meta.dirname, "../golden/c3d", file)) }]);
      await page.waitForFunction((name) => document.querySelector("h1")?.textContent?.includes(name), file);
      await page.getByRole("heading", { name: "What can be said without target and hand" }).waitFor();
      expect(await page.locator(".unsaid tbody").textContent()).toMatch(/\d N/);
    }
    expect(complaints).toEqual([]);
    await page.close();
  });

  // Real recordings with values made by another reader (shared/data/recordings, expected.json). Not in every checkout.
  test.skipIf(!existsSync(RECORDINGS))(
    "a real recording of two plates shows the mean load another reader found",
    async () => {
      const { page } = await served.open();
      const file = "standing-two-plates.c3d";
      const expected = JSON.parse(readFileSync(join(RECORDINGS, "expected.json"), "utf8")) as ExpectedFiles;
      await dropFiles(page, [{ name: file, bytes: readFileSync(join(RECORDINGS, file)) }]);
      await page.getByRole("heading", { name: "What can be said without target and hand" }).waitFor();
      for (const plate of expected.files[file]!.plates) {
        const row = page.locator(".unsaid tbody tr").nth(plate.index - 1);
        const shownN = Number((await row.locator("td").first().textContent())!.match(/^\d+/)![0]);
        // Written in whole newtons; the plate is loaded throughout and lies level, so the load is the upward force.
        expect(Math.abs(shownN - plate.mean_force[2]!)).toBeLessThan(1);
      }
      await page.close();
    },
  );

  test("a sidecar that cannot be used is named, what could be read is shown, and the form stands in for it", async () => {
    const { page } = await served.open();
    const { name, recording } = await served.story(8);
    const bytes = await recording();
    await dropFiles(page, [
      { name: `${name}.c3d`, bytes },
      { name: `${name}.shot.json`, bytes: new TextEncoder().encode('{ "underfoot": "shot", "version": 1 }') },
    ]);
    expect(await page.getByRole("alert").textContent()).toContain("handed");
    await page.getByRole("heading", { name: "What could be read" }).waitFor();
    await page.getByRole("button", { name: "Compute the shot" }).click();
    await page.waitForSelector(".picture");
    await page.close();
  });

  test("print leaves the tools out and says player, lie, axes and version at the foot", async () => {
    const { page } = await served.open({ shot: RIGHT_UPSLOPE, theme: "dusk" });
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".page-tools").isVisible()).toBe(false);
    expect(await page.locator(".shot-deeds").isVisible()).toBe(false);
    expect(await page.locator(".print-foot").textContent()).toMatch(
      /^Player A, upslope 5\.\d°.*, turf axes, Underfoot \d/,
    );
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    expect(await page.locator("html").getAttribute("data-theme")).toBe("sun");
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
    expect(await page.locator("html").getAttribute("data-theme")).toBe("dusk");
    await page.close();
  });

  test("a recording the server no longer gives is said in one sentence with what to do", async () => {
    const { page } = await served.open();
    await page.route("**/api/shots/*/recording", (route) => route.abort());
    await page.locator(".strip select").selectOption({ index: 12 });
    await page.getByText("could not be read: the server does not answer.").waitFor();
    await page.unroute("**/api/shots/*/recording");
    await page.locator("[role=status]").getByRole("button", { name: "Try again" }).last().click();
    await page.waitForSelector(".picture");
    await page.close();
  });
});

interface SeenChanges {
  readonly elsewhere: readonly string[];
  readonly overlay: number;
  readonly shift: number;
}

/** How far the middle of the toes' third lies from the heel's middle line, px, positive to the right. */
function forefootBias(outline: readonly (readonly [number, number])[], isToesDown: boolean): number {
  const along = (y: number): number => (isToesDown ? y : -y);
  const sorted = [...outline].sort((a, b) => along(a[1]) - along(b[1]));
  const middle = (points: readonly (readonly [number, number])[]): number => {
    const xs = points.map(([x]) => x);
    return (Math.min(...xs) + Math.max(...xs)) / 2;
  };
  const third = Math.floor(sorted.length / 3);
  return middle(sorted.slice(-third)) - middle(sorted.slice(0, third));
}
