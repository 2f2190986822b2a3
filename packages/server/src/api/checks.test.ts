import { c3dBytes } from "@underfoot/formats";
import { afterEach, beforeEach, expect, test } from "vitest";
import { demoShots, simulateShot } from "../../../simulator/src/index.ts";
import { type ServerForTests, serverForTests } from "../server-for-tests.ts";

let at: ServerForTests;
let sessionId: string;
const lies = [{ name: "flat", pitchDeg: 0, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 }];

beforeEach(async () => {
  at = await serverForTests();
  const player = { code: "P01", handed: "right", pronoun: "she", consent: "study" };
  const { id: playerId } = await at.got(201, "POST", "/api/players", player);
  const plates = [
    { plate: 1, foot: "trail" },
    { plate: 2, foot: "lead" },
  ];
  const { id: layoutId } = await at.got(201, "POST", "/api/layouts", { name: "Bay", plates });
  const plan = { order: "as-given", seed: 1, lies, conditions: [], asked: [], drawn: [] };
  sessionId = (await at.got(201, "POST", "/api/sessions", { playerId, layoutId, day: "2026-03-09", plan })).id;
});
afterEach(async () => {
  await at.end();
  expect(at.faults).toEqual([]);
});

const { raw } = simulateShot(demoShots({ seed: 1 })[0] as ReturnType<typeof demoShots>[number]);

/** Both plates of the demo as they lie, with nothing on them but this, N, along each plate's own third axis. */
function recordingOf(thirdN: (timeS: number) => number): FormData {
  const bytes = c3dBytes({
    rateHz: 500,
    plates: raw.map(({ type, cornersM, columns, originM, fullScale, matrix, unit }) => ({
      ...{ type, cornersM, originM, fullScale },
      ...(matrix ? { matrix } : {}),
      ...(unit === undefined ? {} : { unit }),
      columns: columns.map((_, k) => Float64Array.from({ length: 1500 }, (__, i) => (k === 2 ? thirdN(i / 500) : 0))),
    })),
    extras: [],
    events: [],
  });
  const form = new FormData();
  form.set("recording", new File([bytes], "check.c3d"));
  return form;
}

function asking(form: FormData, ask: object): FormData {
  form.set("ask", JSON.stringify(ask));
  return form;
}

const path = (): string => `/api/sessions/${sessionId}/checks`;

test("a check is computed, kept with its recording, and listed", async () => {
  const check = await at.got(
    201,
    "POST",
    path(),
    asking(
      recordingOf(() => 0.5),
      { kind: "zero" },
    ),
  );
  expect(check).toMatchObject({ kind: "zero", isPassed: true, wentOn: false });
  expect(check.detail.parts.length).toBeGreaterThan(1);
  expect(check.detail.sentence).toMatch(/\.$/);
  expect(await at.got(200, "GET", path())).toEqual([check]);
  expect(
    (await at.got(422, "POST", `/api/checks/${check.id}/go-on`, { note: "x" }).catch(() => null)) ?? null,
  ).toBeNull();
  expect((await at.got(200, "GET", "/api/shots")).total).toBe(0);
});

test("one that fails is kept too; going on needs a note, which is kept with it", async () => {
  const check = await at.got(
    201,
    "POST",
    path(),
    asking(
      recordingOf(() => 5),
      { kind: "zero" },
    ),
  );
  expect(check).toMatchObject({ isPassed: false });
  expect(check.detail.remedy).toMatch(/\.$/);
  expect((await at.got(400, "POST", `/api/checks/${check.id}/go-on`, { note: " " })).code).toBe("library-wrong");
  const gone = await at.got(200, "POST", `/api/checks/${check.id}/go-on`, { note: "rain" });
  expect(gone).toMatchObject({ wentOn: true, note: "rain" });
  expect(await at.got(200, "GET", path())).toEqual([gone]);
});

test("what cannot be checked is said, and neither check nor recording is kept", async () => {
  const loaded = await at.got(
    422,
    "POST",
    path(),
    asking(
      recordingOf(() => 400),
      { kind: "zero" },
    ),
  );
  expect(loaded).toMatchObject({ code: "check-plate-loaded" });
  expect(
    (
      await at.got(
        422,
        "POST",
        path(),
        asking(
          recordingOf(() => 0),
          { kind: "quiet-lean" },
        ),
      )
    ).code,
  ).toMatch(/^check-/);
  const noLie = asking(
    recordingOf(() => 0),
    { kind: "quiet-lean", lieName: "upslope" },
  );
  expect((await at.got(422, "POST", path(), noLie)).sentence).toContain('"upslope"');
  const noMass = asking(
    recordingOf(() => 0),
    { kind: "known-mass" },
  );
  expect((await at.got(400, "POST", path(), noMass)).sentence).toContain("massKg");
  const noKind = asking(
    recordingOf(() => 0),
    {},
  );
  expect((await at.got(400, "POST", path(), noKind)).sentence).toContain('"kind"');
  expect(await at.got(200, "GET", path())).toEqual([]);
  const verified = await at.got(201, "POST", "/api/jobs", { kind: "verify" });
  await expect
    .poll(async () => (await at.got(200, "GET", `/api/jobs/${verified.id}`)).sentence)
    .toContain("0 recordings");
});

test("a mass of 20 kg on a flat plate weighs 196.1 N; the lie comes from the plan, the target from what is asked", async () => {
  // 20 kg times 9.80665 m/s² (standard gravity, CGPM 1901), pressing for the last second and a half.
  const weightN = 20 * 9.80665;
  const pressed = recordingOf((timeS) => (timeS > 1.5 ? -weightN : 0));
  const ask = { kind: "known-mass", massKg: 20, lieName: "flat", target: [0, 1, 0] };
  const heavy = await at.ask("POST", path(), asking(pressed, ask));
  const said = (await heavy.json()) as { detail?: { parts: { name: string; found: number }[]; factsFrom: string } };
  expect(heavy.status, JSON.stringify(said)).toBe(201);
  const loads = said.detail?.parts.filter(({ name }) => /load/i.test(name)) ?? [];
  expect(loads.length).toBeGreaterThan(0);
  for (const { found } of loads) expect(found).toBeLessThan(0.5);
  expect(said.detail?.factsFrom).toContain("plan");
});
