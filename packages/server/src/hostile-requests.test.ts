// Every address of the protocol under wrong, huge and hostile requests: only 4xx with a sentence, and nothing stored.
import { createHash } from "node:crypto";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { DEFAULT_SETTINGS } from "@underfoot/mechanics";
import { routes } from "@underfoot/protocol";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { bodyExample } from "./docs/curl-text.ts";
import { apiDocument } from "./docs/open-api.ts";
import {
  HOST,
  type SampleShot,
  type ServerForTests,
  sampleShots,
  serverForTests,
  shotForm,
} from "./server-for-tests.ts";

interface Target {
  readonly name: string;
  readonly method: string;
  readonly path: string;
  readonly takes: "json" | "form" | "nothing";
}

/** Made-up requests of each of the two kinds; more with FUZZ_RUNS=20000. */
const RUNS = Number(process.env["FUZZ_RUNS"] ?? 1500);

const targets: readonly Target[] = Object.entries(routes).map(([name, route]) => {
  const content = "request" in route && "body" in route.request ? route.request.body.content : {};
  const takes = "application/json" in content ? "json" : "multipart/form-data" in content ? "form" : "nothing";
  return { name, method: route.method.toUpperCase(), path: route.path, takes };
});

/** An id that could be one and is none. */
const NOBODY = "1kk97ftgz00zzzzzzzz";

let at: ServerForTests;
let ids: Readonly<Record<string, string>>;
let before: string;
let asked = 0;
let done = 0;

/** All rows of the catalogue and all files, as one hash. */
async function stored(): Promise<string> {
  const backup = createHash("sha256");
  const recordings = join(at.root, "library", "recordings");
  for (const name of readdirSync(recordings, { recursive: true, encoding: "utf8" }).sort()) backup.update(name);
  for (const path of ["players", "clubs", "layouts", "sessions", "shots", "mappings", "settings", "history?limit=500"])
    backup.update(JSON.stringify(await at.got(200, "GET", `/api/${path}`)));
  return backup.digest("hex");
}

beforeAll(async () => {
  at = await serverForTests();
  const player = await at.got(201, "POST", "/api/players", {
    ...{ code: "P01", handed: "right", pronoun: "she", consent: "study" },
  });
  const session = await at.got(201, "POST", "/api/sessions", { playerId: player.id, day: "2026-03-09" });
  const [sample] = sampleShots(1) as [SampleShot];
  const { shots } = await at.got(201, "POST", "/api/recordings", shotForm(sample, { sessionId: session.id }));
  ids = { players: player.id, sessions: session.id, shots: shots[0].shotId };
  before = await stored();
});
afterAll(() => at.end());

/** The path with something that is there, or with what is given, in the place of each part. */
const filled = (path: string, part?: string): string =>
  path.replaceAll(/\{\w+\}/g, () => part ?? ids[path.split("/")[2] ?? ""] ?? NOBODY);

/** Refused with a sentence, whatever it was; gives the status. */
async function refused(answer: Response, what: string): Promise<void> {
  asked++;
  const text = await answer.text();
  expect(answer.status, `${what}: ${text.slice(0, 300)}`).toBeGreaterThanOrEqual(400);
  expect(answer.status, `${what}: ${text.slice(0, 300)}`).toBeLessThan(500);
  const said = JSON.parse(text) as { code: string; sentence: string };
  expect(said.code, what).toMatch(/^[a-z0-9-]+$/);
  expect(said.sentence, what).toMatch(/^[A-Za-z"'0-9].*\.$/s);
  expect(said.sentence.length, what).toBeLessThan(700);
  expect(said.sentence, what).not.toMatch(/ at .*\(.*:\d+:\d+\)|node_modules|SQLITE|undefined/);
}

/** Never a fault of ours: done, or refused with a sentence. */
async function survived(answer: Response, what: string): Promise<void> {
  if (answer.status < 400) done++;
  else await refused(answer, what);
}

const deep = (levels: number): string => `${'{"a":'.repeat(levels)}1${"}".repeat(levels)}`;

const JSON_BODIES: Readonly<Record<string, string>> = {
  "no JSON": "{",
  nothing: "",
  "a number": "1",
  null: "null",
  "a list": "[]",
  "deep object": deep(10_000),
  "deep list": "[".repeat(100_000),
  "a prototype": '{"__proto__":{"isAdmin":true},"constructor":{"prototype":{}}}',
  "a null character": '{"code":"P\\u0000","name":"\\u0000","label":"\\u0000","note":"\\u0000"}',
  "a key with a null character": '{"co\\u0000de":1}',
  "numbers without end": '{"massKg":1e999,"timeS":-1e999,"loftDeg":1e400}',
  "wrong kinds": '{"code":[],"name":{},"handed":7,"label":true,"marks":"x","mechanics":[],"folder":{},"kind":"erase"}',
  "half a surrogate and more": '{"code":"\\ud800","nothing":"known"}',
};

const PARTS = [
  "..",
  "..%2F..%2Fetc%2Fpasswd",
  "%2e%2e%2f",
  "%00",
  "a%00b",
  "%ff%fe",
  "__proto__",
  "'%20or%201=1--",
  "a".repeat(5000),
  "%F0%9F%8F%8C",
  ".",
  "%20",
  "%0d%0aX:1",
];

/** A body with one part, anywhere in it, replaced or added. */
function withPart(
  body: unknown,
  change: { readonly k: number; readonly wrong: unknown; readonly name: string; readonly isNew: boolean },
): unknown {
  if (typeof body !== "object" || body === null) return change.wrong;
  const parts = Object.entries(body);
  if (change.isNew || parts.length === 0) return { ...body, [change.name]: change.wrong };
  const [name, old] = parts[change.k % parts.length] ?? ["", undefined];
  const isDeeper = typeof old === "object" && old !== null && change.k % 2 === 0;
  const next = isDeeper ? withPart(old, { ...change, k: Math.floor(change.k / 2) }) : change.wrong;
  return Array.isArray(body) ? body.with(Number(name), next) : { ...body, [name]: next };
}

describe("hostile requests", () => {
  test.each(targets)("$method $path: bodies that do not fit", async ({ name, method, path, takes }) => {
    if (takes === "nothing") return;
    const address = filled(path);
    for (const [what, body] of Object.entries(JSON_BODIES)) {
      // Facts are an open record: an empty or unknown part of them is judged by the sidecar's reader.
      const answer = await at.ask(method, address, body, { "content-type": "application/json" });
      await refused(answer, `${name}, ${what}`);
    }
    for (const type of [
      "text/plain",
      "application/xml",
      "multipart/form-data",
      "multipart/form-data; boundary=x",
      "application/json; charset=",
      "",
      "x".repeat(500),
    ])
      await refused(await at.ask(method, address, "{}", { "content-type": type }), `${name} as ${type.slice(0, 40)}`);
    const big = `{"code":"${"x".repeat(1_000_001)}"}`;
    if (takes === "json")
      await refused(await at.ask(method, address, big, { "content-type": "application/json" }), `${name}, too large`);
    const said = { "content-length": String(600 * 1024 * 1024) };
    const type = takes === "json" ? "application/json" : "multipart/form-data; boundary=x";
    expect((await at.ask(method, address, "{}", { ...said, "content-type": type })).status, name).toBe(413);
  });

  test.each(targets.filter(({ path }) => path.includes("{")))(
    "$method $path: parts that are no ids",
    async (target) => {
      for (const part of PARTS) {
        const body = target.takes === "json" ? {} : undefined;
        const answer = await at.ask(target.method, filled(target.path, part), body);
        // Two dots are resolved before they are sent: then it is another address, which may be a page or a list.
        if (answer.status < 400) expect([".", ".."].includes(part), `${target.name} ${part}`).toBe(true);
        else await refused(answer, `${target.name}, part ${part.slice(0, 40)}`);
      }
      await refused(await at.ask(target.method, filled(target.path, NOBODY)), target.name);
    },
  );

  test.each(targets)("$method $path: other methods, another Host, another Origin", async ({ name, method, path }) => {
    const address = filled(path);
    const known = targets.filter((one) => one.path === path).map((one) => one.method);
    for (const other of ["GET", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "PROPFIND"].filter(
      (one) => !known.includes(one),
    )) {
      const answer = await at.ask(other, address);
      expect(answer.status, `${other} ${path}`).toBe(405);
      expect(answer.headers.get("allow"), path).toContain(method);
      await refused(answer, `${name} by ${other}`);
    }
    for (const host of [
      "evil.example",
      "127.0.0.1.evil.example",
      "localhost.evil.example:5178",
      "",
      "0.0.0.0:5178",
      "[::2]",
    ])
      await refused(await at.ask(method, address, undefined, { host }), `${name} at ${host}`);
    for (const origin of [
      "http://evil.example",
      "null",
      `https://${HOST}`,
      "http://127.0.0.1:1",
      `http://${HOST}.evil.example`,
    ])
      expect((await at.ask(method, address, undefined, { origin })).status, `${name} from ${origin}`).toBe(403);
    const site = { "sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors" };
    expect((await at.ask(method, address, undefined, site)).status, name).toBe(403);
  });

  test.each(targets.filter(({ method }) => method === "GET"))(
    "$path: queries without sense",
    async ({ name, path }) => {
      const queries = [
        "limit=-1",
        "limit=1e9",
        "limit=abc",
        "limit=1;drop table shots",
        "fromDay=2026-02-31T00",
        "after=%00",
        "after=x",
        "playerId='",
        "pitchDeg=1",
        "order=session",
        "show=all",
        "intent=%00",
        "measure=&axes=x",
        `fileName=${"%25".repeat(3000)}`,
        "__proto__=1",
        "limit=5&limit=6",
        "%E0%A4%A",
      ];
      for (const query of queries)
        await survived(await at.ask("GET", `${filled(path)}?${query}`), `${name}?${query.slice(0, 40)}`);
    },
  );

  test("forms that are none", async () => {
    for (const { path } of targets.filter(({ takes }) => takes === "form")) {
      const address = filled(path);
      const form = (parts: Readonly<Record<string, string | File>>): FormData => {
        const made = new FormData();
        for (const [name, part] of Object.entries(parts)) made.set(name, part);
        return made;
      };
      const file = new File([new Uint8Array(10)], "../../etc/passwd");
      const forms = [
        form({}),
        form({ recording: "no file", ask: "{}" }),
        form({ ask: '{"kind":"zero"}' }),
        form({ recording: file, ask: "{" }),
        form({ recording: file, ask: deep(1000) }),
        form({ recording: file, ask: '{"__proto__":{}, "kind":"zero"}' }),
        form({ recording: file, ask: '{"kind":"zero","sessionId":"\\u0000"}' }),
        form({ recording: file, ask: file }),
        form({ recording: file, sidecar: file, ask: '{"kind":"clocks"}' }),
        form({ recording: file, sidecar: deep(5000), ask: '{"kind":"zero"}' }),
        form({ recording: new File(["time,Fz\n0,1\n"], "a\0b.csv"), ask: '{"kind":"zero"}' }),
        form({
          recording: new File([new Uint8Array(600_000).fill(80)], "x.c3d"),
          ask: '{"kind":"known-mass","massKg":20}',
        }),
      ];
      for (const [k, one] of forms.entries()) await refused(await at.ask("POST", address, one), `${path}, form ${k}`);
      const twice = form({ recording: file, ask: "{}" });
      twice.append("recording", file);
      twice.append("ask", "{}");
      await refused(await at.ask("POST", address, twice), `${path}, twice`);
    }
  });

  test("a null character anywhere, and a sidecar as deep as a well", async () => {
    const player = { code: "P09", handed: "right", pronoun: "she", consent: "study" };
    for (const part of [{ name: "a\0b" }, { code: "\0" }, { notes: "\0" }, { "na\0me": "x" }]) {
      const answer = await at.ask("POST", "/api/players", { ...player, ...part });
      expect(((await answer.clone().json()) as { code: string }).code).toBe("null-character");
      await refused(answer, JSON.stringify(part));
    }
    for (const query of ["intent=%00", "fileName=a%00"])
      expect((await at.got(400, "GET", `/api/shots?${query}`)).code).toBe("null-character");
    const [sample] = sampleShots(1) as [SampleShot];
    const facts = JSON.parse(sample.sidecar) as object;
    const sidecars = [
      JSON.stringify({ ...facts, note: "a\0b" }),
      sample.sidecar.replace("{", `{"spare":${deep(20_000)},`),
      sample.sidecar.replace("{", '{"a\0":1,'),
    ];
    for (const sidecar of sidecars)
      for (const { path } of targets.filter(({ takes }) => takes === "form")) {
        const form = shotForm({ ...sample, sidecar }, path.endsWith("checks") ? { kind: "clocks" } : {});
        await refused(await at.ask("POST", filled(path), form), `${path}, sidecar`);
      }
  });

  test("addresses that are none", async () => {
    for (const path of [
      "/api/",
      "/api/nothing",
      "/api/shots/",
      "/api/players/x/y/z",
      "/../../etc/passwd",
      "/..%2f..%2fetc/passwd",
      "/assets/../../../etc/passwd",
      "/%00",
      "//evil.example/",
      "/api//players",
      "/index.php",
      `/${"a/".repeat(4000)}`,
      "/api/openapi.json/x",
    ])
      await refused(await at.ask("GET", path), path.slice(0, 60));
    await refused(await at.ask("GET", "/api/changes"), "changes without a socket");
    await refused(await at.ask("POST", "/"), "posting to the page");
  });

  /** Bodies that would be accepted, by address, from the published description. */
  const document = apiDocument();
  const accepted = targets.flatMap((target) => {
    const operation = document.paths[target.path]?.[target.method.toLowerCase()];
    const isLong = target.name === "startJob" || target.name === "changePlace";
    return target.takes === "json" && operation && !isLong ? [{ target, body: bodyExample(operation, document) }] : [];
  });
  /** With everything that may be left out. */
  const whole = (name: string, body: unknown): typeof accepted =>
    accepted.filter(({ target }) => target.name === name).map(({ target }) => ({ target, body }));
  const shot = { intent: "low", lieName: "flat", club: "wedge 58" };
  const point = { x: 0.1, y: 0.2, z: 0 };
  const sidecar: unknown = JSON.parse((sampleShots(1)[0] as SampleShot).sidecar);
  const bodies = [
    ...accepted,
    ...whole("sayFacts", sidecar),
    ...whole("sayFacts", sidecar),
    ...whole("changeSettings", { mechanics: DEFAULT_SETTINGS, backupFolder: "/nowhere" }),
    ...whole("giveResult", { result: { strikeMm: [1, 2], contact: "thin", startLineDeg: 1, carryM: 9, isGood: true } }),
    ...whole("markShot", { marks: [{ event: "top", timeS: 3.1, sdMs: 9 }] }),
    ...whole("addLayout", {
      name: "Bay",
      note: "dry",
      plates: [{ plate: 1, foot: "lead", cornersM: [point, point, point, point], calibration: { day: "2026-03-09" } }],
    }),
    ...whole("changeSession", {
      day: "2026-03-10",
      place: "bay",
      plan: {
        ...{ order: "blocked", seed: 1, asked: [{ measure: "both.target.peak", least: 1 }], drawn: [shot] },
        lies: [{ name: "flat", pitchDeg: 0, rollDeg: 0, source: "assumed", sdDeg: 1 }],
        conditions: [{ ...shot, count: 1 }],
      },
    }),
  ];
  const value = fc.oneof(
    fc.jsonValue({ maxDepth: 4 }),
    fc.string({ unit: "binary" }),
    fc.double(),
    fc.constantFrom(...["2026-03-09", "2026-02-30", "right", "", "a".repeat(3000), "ID", "\ud800"]),
    fc.constantFrom(...[-1, 0, 1e308, -0, 2 ** 53, 0.1]),
    fc.constantFrom(...[null, true, [], {}, [[]], [{}]]),
  );
  const names = [
    ...["code", "name", "label", "result", "facts", "marks", "note", "plan", "plates", "outline", "mechanics", "day"],
    ...["backupFolder", "handed", "target", "events", "massKg", "slope", "feet", "strike", "underfoot", "version"],
  ];

  test("any JSON at any address is done or refused, never a fault of ours", async () => {
    const body = fc.oneof(fc.jsonValue(), fc.dictionary(fc.constantFrom(...names), value, { maxKeys: 5 }));
    await survivedBy(fc.tuple(fc.constantFrom(...accepted), body).map(([{ target }, sent]) => ({ target, sent })));
  });

  test("what would be accepted, with one part of it wrong, is done or refused", async () => {
    const changed = fc
      .tuple(fc.constantFrom(...bodies), fc.nat(), value, fc.constantFrom(...names), fc.boolean())
      .map(([{ target, body }, k, wrong, name, isNew]) => ({
        target,
        sent: withPart(body, { k, wrong, name, isNew }),
      }));
    await survivedBy(changed);
  });

  async function survivedBy(
    requests: fc.Arbitrary<{ readonly target: Target; readonly sent: unknown }>,
  ): Promise<void> {
    const other = await serverForTests();
    const [sample] = sampleShots(1) as [SampleShot];
    const player = { code: "P01", handed: "right", pronoun: "she", consent: "study" };
    const { id: playerId } = await other.got(201, "POST", "/api/players", player);
    const session = await other.got(201, "POST", "/api/sessions", { playerId, day: "2026-03-09" });
    await other.got(201, "POST", "/api/recordings", shotForm(sample, { sessionId: session.id }));
    await fc.assert(
      fc.asyncProperty(requests, fc.boolean(), async ({ target: { name, method, path }, sent }, isThere) => {
        const address = filled(path, isThere ? undefined : NOBODY);
        await survived(await other.ask(method, address, sent), `${name} ${JSON.stringify(sent)}`);
      }),
      { numRuns: RUNS, seed: 20260309 },
    );
    expect(other.faults).toEqual([]);
    await other.end();
  }

  test("after all of it nothing was stored, nothing changed, and nothing was our fault", async () => {
    expect(await stored()).toBe(before);
    expect(at.faults).toEqual([]);
    expect(({} as { isAdmin?: boolean }).isAdmin).toBeUndefined();
    expect(asked).toBeGreaterThan(4000);
    expect(done).toBeGreaterThan(300);
    process.stdout.write(`${asked} requests refused with a sentence, ${done} done, no fault of ours\n`);
  });
});
