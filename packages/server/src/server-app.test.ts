import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { listening } from "./listening.ts";
import { recordingFolder } from "./recording-folder.ts";
import { serverApp } from "./server-app.ts";

let folder: string;
const host = { headers: { host: "127.0.0.1:5050" } };
const app = () =>
  serverApp({
    folder: recordingFolder(folder),
    page: new Map([["/", { bytes: new TextEncoder().encode("<p>page</p>"), type: "text/html" }]]),
    isDemo: true,
  });

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "underfoot-server-"));
  await writeFile(join(folder, "chip-2.c3d"), "bytes");
  await writeFile(join(folder, "chip-10.c3d"), "bytes");
  await writeFile(join(folder, "chip-10.shot.json"), "{ not json");
  await writeFile(join(folder, "notes.md"), "private");
});
afterAll(() => rm(folder, { recursive: true }));

describe("the server", () => {
  test("lists recordings in the order of their numbers, and says what is wrong with a sidecar", async () => {
    const shots = (await (await app().request("/api/shots", host)).json()) as { id: string; sentence?: string }[];
    expect(shots.map(({ id }) => id)).toEqual(["chip-2.c3d", "chip-10.c3d"]);
    expect(shots[0]?.sentence).toBeUndefined();
    expect(shots[1]?.sentence).toContain("chip-10.shot.json");
  });

  test("gives a listed recording and nothing else of the disk", async () => {
    expect((await app().request("/api/shots/chip-2.c3d/recording", host)).status).toBe(200);
    for (const path of ["notes.md", "..%2F..%2Fetc%2Fpasswd", "%2Fetc%2Fpasswd", "chip-3.c3d"]) {
      expect((await app().request(`/api/shots/${path}/recording`, host)).status, path).toBe(404);
    }
    expect((await app().request("/../../etc/passwd", host)).status).toBe(404);
  });

  test("refuses another Host, another Origin and any writing", async () => {
    expect((await app().request("/api/shots", { headers: { host: "evil.example" } })).status).toBe(421);
    expect(
      (await app().request("/api/shots", { headers: { host: "127.0.0.1:5050", origin: "http://evil.example" } }))
        .status,
    ).toBe(403);
    expect((await app().request("/api/shots", { ...host, method: "POST", body: "x" })).status).toBe(405);
  });

  test("sends a strict policy with every answer", async () => {
    const answer = await app().request("/", host);
    expect(answer.headers.get("content-security-policy")).toContain("default-src 'none'");
    expect(answer.headers.get("x-content-type-options")).toBe("nosniff");
  });

  test("a missing folder is one sentence", async () => {
    const gone = serverApp({ folder: recordingFolder(join(folder, "gone")), page: new Map(), isDemo: false });
    const answer = await gone.request("/api/shots", host);
    expect(answer.status).toBe(400);
    expect(((await answer.json()) as { sentence: string }).sentence).toContain("gone");
  });

  test("listens on loopback, and a taken port is one sentence", async () => {
    const first = await listening(app(), 0);
    expect(first.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
    expect((await fetch(first.address)).status).toBe(200);
    await expect(listening(app(), Number(new URL(first.address).port))).rejects.toThrow(/is taken by another program/);
    await first.close();
  });
});
