// What is usual for the player, on the page of one shot.
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./axe-violations.ts";
import { dropFiles, hasChromium, type ServedPage, servedPage, settled } from "./served-page.ts";

const COMPUTED_MS = 60_000;

interface Found {
  readonly rows: readonly { readonly id: string }[];
}

describe.skipIf(!hasChromium)("the usual on the shot page", () => {
  let served: ServedPage;
  beforeAll(async () => {
    served = await servedPage();
  });
  afterAll(() => served?.stop());

  test("a shot with five others and more is held against them: words, grey columns, spot on the sole", async () => {
    // The player of the eight days has conditions of five shots and more on each of them.
    const found = (await (
      await fetch(`${served.address}api/shots?lieName=upslope&intent=stock&label=kept`)
    ).json()) as Found;
    const of = await Promise.all(
      found.rows.map(
        async ({ id }) =>
          (await (await fetch(`${served.address}api/shots/${id}`)).json()) as { id: string; playerId: string },
      ),
    );
    const players = (await (await fetch(`${served.address}api/players`)).json()) as { id: string; code: string }[];
    const shot = of.find(({ playerId }) => players.find(({ id }) => id === playerId)?.code === "Player C");
    const { page, complaints } = await served.open({ hash: `#/shot/${shot?.id}` });
    await page.waitForFunction(
      () => /measures outside the usual band/.test(document.querySelector(".usual-words")?.textContent ?? ""),
      undefined,
      { timeout: COMPUTED_MS },
    );
    await settled(page);
    expect(await page.locator(".usual-words").textContent()).toMatch(/usual (for this player|band)/);
    expect(await page.locator(".usual-words").textContent()).toMatch(/\d of 5 measures outside the usual band/);
    expect(await page.locator(".usual-band").count()).toBe(5);
    expect(await page.locator(".usual-spot").count()).toBe(1);
    expect(await page.locator(".usual-mark").count()).toBe(4);
    expect(await page.locator(".proof .caption").first().textContent()).toMatch(
      /Grey is where .* from \d+ others of this session/,
    );
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("with fewer than five others it says how many there are; of a file that is only looked at nothing", async () => {
    const { page } = await served.open({ shot: 1 });
    await page.waitForFunction(
      () => /the usual band needs 5/.test(document.querySelector(".usual-words")?.textContent ?? ""),
      undefined,
      { timeout: COMPUTED_MS },
    );
    expect(await page.locator(".usual-band, .usual-spot, .usual-mark").count()).toBe(0);
    const { recording, sidecar, name } = await served.story(1);
    await dropFiles(page, [
      { name: `${name}.c3d`, bytes: await recording() },
      { name: `${name}.shot.json`, bytes: await sidecar() },
    ]);
    await page.waitForFunction(() => location.hash.includes("file="));
    await page.waitForFunction(() => document.querySelector(".result")?.textContent?.includes("Not stored"));
    await settled(page);
    expect(await page.locator(".usual-words").count()).toBe(0);
    await page.close();
  });
});
