import { afterAll, beforeAll, expect, test } from "vitest";
import { type ServerForTests, sampleShots, serverForTests, shotForm } from "../server-for-tests.ts";

let at: ServerForTests;
let playerId: string;
let shotIds: string[];

const get = (status: number, path: string, query: Readonly<Record<string, string>>) =>
  at.got(status, "GET", `${path}?${new URLSearchParams(query)}`);

beforeAll(async () => {
  at = await serverForTests();
  const player = { code: "Player A", handed: "right", pronoun: "they", consent: "study" };
  playerId = (await at.got(201, "POST", "/api/players", player)).id;
  const session = { playerId, day: "2026-03-09" };
  const { id: sessionId } = await at.got(201, "POST", "/api/sessions", session);
  shotIds = [];
  for (const shot of sampleShots(7)) {
    const { shots } = await at.got(201, "POST", "/api/recordings", shotForm(shot, { sessionId }));
    shotIds.push(shots[0].shotId);
  }
}, 60_000);
afterAll(() => at.end());

test("two conditions: every measure, the curves asked for, the seed; null for what is not known", async () => {
  const query = { a: `playerId=${playerId};lieName=flat`, b: `playerId=${playerId};lieName=upslope` };
  const said = await get(200, "/api/comparison", { ...query, curves: "both.target,lead.share", seed: "7" });
  expect(said).toMatchObject({
    kind: "conditions",
    a: { name: "flat" },
    b: { name: "upslope" },
    seed: 7,
    axes: "turf",
  });
  expect(said.a).toMatchObject({ countShots: 6, mishitIds: [shotIds[5]] });
  expect(said.design).toMatchObject({ isBetweenLies: true, countSessions: 1 });
  expect(said.measures).toHaveLength(said.summary.countMeasures);
  const push = said.measures.find(({ column }: { column: string }) => column === "both.target.peak turf");
  expect(push).toMatchObject({ unit: "N", a: { n: 5 } });
  expect(push.slopeShare).not.toBe(0);
  expect(push.freed.kind === "withheld" || push.freed.value !== null).toBe(true);
  expect(said.curves.curves.map(({ column }: { column: string }) => column)).toEqual([
    "both.target turf",
    "lead.share",
  ]);
  const again = await get(200, "/api/comparison", { ...query, curves: "both.target,lead.share", seed: "7" });
  expect(again).toEqual(said);
  const level = await get(200, "/api/comparison", { ...query, axes: "level", measures: "both.target.peak" });
  expect(level.measures).toMatchObject([{ column: "both.target.peak level", slopeShare: 0 }]);
});

test("one shot against its usual, and two single shots: never a verdict", async () => {
  const [first = "", second = ""] = shotIds;
  const usual = await get(200, "/api/comparison", { a: `playerId=${playerId};lieName=flat`, b: `shot=${first}` });
  expect(usual).toMatchObject({ kind: "shot-usual", shotId: first, usual: { name: "flat" } });
  expect(usual.usual.shotIds).not.toContain(first);
  const pair = await get(200, "/api/comparison", { a: `shot=${first}`, b: `shot=${second}`, curves: "lead.share" });
  expect(pair).toMatchObject({ kind: "shot-pair", a: first, b: second, verdict: "none" });
  expect(pair.curves[0].a).toHaveLength(pair.curves[0].b.length);
});

test("usual band, board, outcome and study", async () => {
  const of = `playerId=${playerId};lieName=flat`;
  const usual = await get(200, "/api/usual", { of, measures: "lead.share.at.impact", without: shotIds[0] ?? "" });
  expect(usual).toMatchObject({ kind: "usual", measures: [{ column: "lead.share.at.impact" }], looks: { times: 1 } });
  const board = await get(200, "/api/board", { of: `playerId=${playerId}`, measure: "lead.share.at.impact" });
  expect(board.lies.map(({ name }: { name: string }) => name)).toEqual(["flat", "upslope"]);
  expect(board.cells).toHaveLength(board.intents.length * 2);
  const outcome = await get(200, "/api/outcome", { of, outcome: "carry", measures: "lead.share.at.impact" });
  expect(outcome).toMatchObject({ kind: "outcome", unit: "m", measures: [{ say: "too-few" }] });
  const study = await get(200, "/api/study", {
    ...{ a: "lieName=flat", b: "lieName=upslope", measures: "lead.share.at.impact", shotNumber: "true" },
  });
  expect(study).toMatchObject({ kind: "study", players: ["Player A"], measures: [{ say: "too-few" }] });
});

test.each([
  ["/api/comparison", { a: "colour=red", b: "intent=low" }, 400, 'there is no fact "colour"'],
  ["/api/comparison", { a: "lieName=flat" }, 400, "b"],
  ["/api/comparison", { a: "lieName=flat", b: "lieName=flat" }, 422, "in both sides"],
  ["/api/comparison", { a: "lieName=flat", b: "lieName=moon" }, 422, 'no shot in "moon"'],
  ["/api/comparison", { a: "lieName=flat", b: "shot=nothing" }, 404, "no shot nothing"],
  ["/api/comparison", { a: "lieName=flat", b: "lieName=upslope", measures: "both.joy" }, 422, 'no measure "both.joy"'],
  ["/api/comparison", { a: "lieName=flat", b: "lieName=upslope", curves: "both.joy" }, 422, 'no curve "both.joy"'],
  ["/api/comparison", { a: "lieName=flat", b: "lieName=upslope", margins: "both.target.peak" }, 400, "and a number"],
  ["/api/board", { of: "" }, 400, "measure"],
  ["/api/outcome", { of: "", outcome: "luck" }, 400, "outcome"],
])("%s with %j is refused in one sentence", async (path, query, status, why) => {
  const { sentence } = await get(status, path, query as Record<string, string>);
  expect(sentence).toContain(why);
});

test("nothing went wrong on the way", () => expect(at.faults).toEqual([]));
