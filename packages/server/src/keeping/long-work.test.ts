// Long work over its addresses: one at a time, progress as changes, cancel, and what came of it kept.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { type Library, openLibrary } from "@underfoot/library";
import type { ChangeMessage } from "@underfoot/protocol";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { changeHub } from "../change-hub.ts";
import { librarySeat } from "../library-seat.ts";
import { type ServerForTests, sampleShots, serverForTests, shotForm } from "../server-for-tests.ts";
import { type Job, jobs } from "./jobs.ts";
import { watching } from "./watch.ts";

const samples = sampleShots(2);

describe("long work over its addresses", () => {
  let at: ServerForTests;
  beforeEach(async () => {
    at = await serverForTests();
    for (const sample of samples) await at.got(201, "POST", "/api/recordings", shotForm(sample));
  });
  afterEach(() => at.end());

  const ended = async (id: string): Promise<Job> => {
    for (let k = 0; k < 500; k++) {
      const job = (await at.got(200, "GET", `/api/jobs/${id}`)) as Job;
      if (job.state !== "running") return job;
      await wait(20);
    }
    throw new Error("It does not end.");
  };
  const worked = async (ask: object): Promise<Job> => ended((await at.got(201, "POST", "/api/jobs", ask)).id);

  test("a backup, its restoring into a new folder, and the library that comes of it", async () => {
    const file = join(at.root, "day.tar");
    const made = await worked({ kind: "backup", file });
    expect(made).toMatchObject({ state: "done", done: 2, total: 2 });
    expect(made.sentence).toMatch(/^Backup written: 2 recordings, 2 shots, [\d.]+ (kB|MB), in .*day\.tar\.$/);
    expect((await at.got(409, "POST", "/api/jobs", { kind: "backup", file })).code).toBe("file-there");
    const folder = join(at.root, "restored");
    const restored = await worked({ kind: "restore", file, folder });
    expect(restored.sentence).toBe(
      `Restored: 2 recordings and all that is said of them, as of 2026-03-09, in ${folder}.`,
    );
    const library = await openLibrary({ folder });
    expect((await library.shots.find()).total).toBe(2);
    await library.close();
    const again = await worked({ kind: "restore", file, folder });
    expect(again).toMatchObject({ state: "failed" });
    expect(again.sentence).toContain("is not empty");
    writeFileSync(join(at.root, "letter.tar"), "Dear all");
    expect(
      await worked({ kind: "restore", file: join(at.root, "letter.tar"), folder: join(at.root, "x") }),
    ).toMatchObject({ state: "failed" });
    expect(existsSync(join(at.root, "x"))).toBe(false);
    expect(
      (await at.got(422, "POST", "/api/jobs", { kind: "restore", file: join(at.root, "none"), folder })).code,
    ).toBe("no-file-there");
    expect((await at.got(422, "POST", "/api/jobs", { kind: "backup", file: "day.tar" })).code).toBe("not-whole-path");
    expect((await at.got(200, "GET", "/api/jobs")).map(({ kind }: Job) => kind)).toEqual([
      "restore",
      "restore",
      "restore",
      "backup",
    ]);
  });

  test("a backup without a name lies among the backups", async () => {
    expect(await at.got(200, "GET", "/api/backups")).toEqual([]);
    mkdirSync(join(at.root, "library", "backups"));
    const { outcome } = await worked({ kind: "backup" });
    const [first, ...others] = await at.got(200, "GET", "/api/backups");
    expect(others).toEqual([]);
    expect(first).toMatchObject({ file: (outcome as { file: string }).file });
    expect(first.byteCount).toBe(readFileSync(first.file).length);
  });

  test("checking and computing say what came of them", async () => {
    expect((await worked({ kind: "verify" })).sentence).toBe("Checked: 2 recordings and 2 shots; nothing is wrong.");
    const stale = await worked({ kind: "recompute" });
    expect(stale.sentence).toBe("0 shots computed, 2 up to date already.");
    await at.got(200, "PATCH", "/api/settings", { mechanics: { filter: { kind: "butterworth", cutoffHz: 15 } } });
    const moved = await worked({ kind: "recompute" });
    expect(moved.sentence).toMatch(/^2 shots computed, 0 up to date already, \d+ measures moved\.$/);
    const { rows } = await at.got(200, "GET", "/api/shots?limit=1");
    const sha256 = rows[0].recordingSha256 as string;
    writeFileSync(join(at.root, "library", "recordings", sha256.slice(0, 2), sha256), "damaged");
    const wrong = await worked({ kind: "verify" });
    expect(wrong.sentence).toBe("Checked: 2 recordings and 2 shots; 1 fault left.");
    expect((await at.got(503, "GET", `/api/shots/${rows[0].id}/recording`)).sentence).toContain(sha256.slice(0, 12));
  });

  test("no such work, and work that has ended", async () => {
    expect((await at.got(404, "GET", "/api/jobs/none")).code).toBe("no-job");
    const { id } = await worked({ kind: "verify" });
    expect((await at.got(409, "DELETE", `/api/jobs/${id}`)).code).toBe("job-ended");
  });
});

describe("the work itself", () => {
  const told: Job[] = [];
  const faults: Error[] = [];
  let nowMs = 0;
  const work = () => jobs({ tell: (job) => told.push(job), log: (fault) => faults.push(fault), clock: () => nowMs });
  beforeEach(() => {
    told.length = 0;
    faults.length = 0;
  });
  const until = { kind: "verify", title: "Checking", counted: "recordings" } as const;

  test("one at a time; progress is told five times a second at most; cancelling stops it", async () => {
    const all = work();
    const { id } = all.start({
      ...until,
      run: async ({ signal, onProgress }) => {
        for (let k = 1; !signal.aborted; k++) {
          nowMs += 10;
          onProgress({ done: k, total: 1000 });
          await wait(1);
        }
        return { sentence: "Stopped as asked.", outcome: undefined };
      },
    });
    await wait(60);
    expect(() => all.start({ ...until, run: () => Promise.reject(new Error()) })).toThrow(
      /One thing at a time: Checking: \d+ of 1,000/,
    );
    const steps = all.byId(id).done;
    expect(steps).toBeGreaterThan(5);
    expect(told.length).toBeLessThanOrEqual(2 + (steps * 10) / 200 + 1);
    expect(all.cancel(id)).toMatchObject({ state: "running", sentence: "Stopping after what is in hand." });
    await all.close();
    expect(all.byId(id)).toMatchObject({ state: "cancelled", sentence: "Stopped as asked." });
    expect(told.at(-1)).toMatchObject({ state: "cancelled" });
  });

  test("a fault of ours is said as ours, and told to whoever keeps the log", async () => {
    const all = work();
    const { id } = all.start({ ...until, run: () => Promise.reject(new Error("broken")) });
    await all.close();
    expect(all.byId(id)).toMatchObject({ state: "failed", sentence: expect.stringContaining("our fault") });
    expect(faults.map(({ message }) => message)).toEqual(["broken"]);
  });
});

describe("what the server does by itself", () => {
  test("today's backup at once; one that fails is said, and ends nothing", async () => {
    const at = await serverForTests();
    const library = await openLibrary({ folder: join(at.root, "library") });
    const seat = librarySeat(library, { open: (folder) => openLibrary({ folder }), remember: async () => undefined });
    const said: string[] = [];
    const heard: ChangeMessage[] = [];
    const hub = changeHub();
    hub.join({ waitingBytes: () => 0, send: (text) => heard.push(JSON.parse(text)), drop: () => undefined });
    const options = { seat, hub, isBackedUp: true, warn: (sentence: string) => void said.push(sentence) };
    await watching(options)();
    const backups = await library.backups();
    expect(backups).toHaveLength(1);
    expect(heard).toMatchObject([{ kind: "job", deed: `wrote today's backup, ${backups[0]?.file}` }]);
    await watching(options)();
    expect(await library.backups()).toEqual(backups);
    writeFileSync(join(at.root, "file"), "");
    await library.settings.set("backupFolder", join(at.root, "file", "backups"));
    await watching(options)();
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^Today's backup could not be written: .*\. .*\.$/);
    expect(heard.at(-1)).toMatchObject({ kind: "job", deed: said[0] });
    await seat.close();
    await at.end();
  });

  test("a page that does not take what it is told is dropped; the others hear on", () => {
    const hub = changeHub();
    let dropped = 0;
    const heard: string[] = [];
    hub.join({ waitingBytes: () => 2_000_000, send: () => expect.fail("it is full"), drop: () => dropped++ });
    hub.join({ waitingBytes: () => 0, send: (text) => heard.push(text), drop: () => expect.fail("it follows") });
    for (const id of ["1", "2"]) hub.tell({ kind: "shot", id, deed: "kept the shot" });
    expect([dropped, heard.length, hub.size()]).toEqual([1, 2, 1]);
  });

  test("the library before is closed once the last request on it has ended", async () => {
    const at = await serverForTests();
    const first = await openLibrary({ folder: join(at.root, "first") });
    let closed = 0;
    const watched: Library = { ...first, close: () => first.close().then(() => void closed++) };
    const seat = librarySeat(watched, { open: (folder) => openLibrary({ folder }), remember: async () => undefined });
    let end = (): void => undefined;
    const slow = seat.use(async (library) => {
      await new Promise<void>((resolve) => {
        end = resolve;
      });
      return (await library.players.list()).length;
    });
    await seat.moveTo(join(at.root, "second"));
    expect(await seat.use(async ({ folder }) => folder)).toBe(join(at.root, "second"));
    await wait(20);
    expect(closed).toBe(0);
    end();
    expect(await slow).toBe(0);
    await seat.close();
    expect(closed).toBe(1);
    await at.end();
  });
});
