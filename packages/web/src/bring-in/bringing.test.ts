import type { BroughtInShape } from "@underfoot/protocol";
import { expect, test } from "vitest";
import { CallFault } from "../api/call.ts";
import { endText, findingsByCode, newShotIds, progressText, severalShots } from "./bring-words.ts";
import { type BringProgress, type BringTask, bringAll, joinedProgress, type SendRecording } from "./bringing.ts";

const task = (path: string): BringTask => ({ recording: { path, file: new File(["x"], path) }, ask: {}, rateHz: 1000 });
const shot = (id: string, isDuplicate = false): BroughtInShape => ({
  fileName: id,
  recordingSha256: id,
  shots: [{ shotId: id, isDuplicate, stretch: { first: 0, end: 5000 } }],
  findings: [],
});
const refusal = (code: string) => new CallFault({ code, sentence: "It is cut off.", remedy: "Export it again." });
const aborted = () => new DOMException("stopped", "AbortError");

function run(
  tasks: readonly BringTask[],
  send: SendRecording,
  { signal = new AbortController().signal, isDryRun = false } = {},
): { readonly told: BringProgress[]; readonly end: Promise<BringProgress> } {
  const told: BringProgress[] = [];
  return { told, end: bringAll(tasks, send, { signal, isDryRun, tell: (so) => told.push(so) }) };
}

test("a bad file stops none of the others, and is told with its sentence", async () => {
  const tasks = Array.from({ length: 30 }, (_, k) => task(`${k}.c3d`));
  const { end, told } = run(tasks, ({ recording: { path } }) =>
    Number.parseInt(path, 10) % 10 === 3 ? Promise.reject(refusal("bring-in-cut-off")) : Promise.resolve(shot(path)),
  );
  const last = await end;
  expect(last.brought).toHaveLength(27);
  expect(last.problems.map(({ recording }) => recording.path)).toEqual(["3.c3d", "13.c3d", "23.c3d"]);
  expect(endText(last)).toBe("27 shots brought in; 3 files could not be.");
  expect(told).toHaveLength(32);
});

test("never more than two are under way", async () => {
  let underWay = 0;
  let most = 0;
  const { end } = run(
    Array.from({ length: 9 }, (_, k) => task(`${k}`)),
    async ({ recording }) => {
      most = Math.max(most, ++underWay);
      await new Promise((resolve) => setTimeout(resolve, 1));
      underWay--;
      return shot(recording.path);
    },
  );
  await end;
  expect(most).toBe(2);
});

test("when it is stopped what is in stays, and the rest is left", async () => {
  const abort = new AbortController();
  const { end } = run(
    Array.from({ length: 10 }, (_, k) => task(`${k}`)),
    ({ recording }) => {
      if (recording.path === "4") abort.abort();
      return abort.signal.aborted ? Promise.reject(aborted()) : Promise.resolve(shot(recording.path));
    },
    { signal: abort.signal },
  );
  const last = await end;
  expect(last.brought.length + last.left.length).toBe(10);
  expect(last.problems).toEqual([]);
  expect(endText(last)).toBe("4 shots brought in; 6 files not looked at.");
});

test("a full disk ends it at once, and every file that is not in can be gone on with", async () => {
  const { end } = run(
    Array.from({ length: 10 }, (_, k) => task(`${k}`)),
    ({ recording }) =>
      Number(recording.path) < 4 ? Promise.resolve(shot(recording.path)) : Promise.reject(refusal("library-disk-full")),
  );
  const last = await end;
  expect(last.stoppedBy?.sentence).toBe("It is cut off.");
  expect(last.left.map(({ recording }) => recording.path).sort()).toEqual(["4", "5", "6", "7", "8", "9"]);
});

test("progress says how far, what was known and what has problems", () => {
  const brought = Array.from({ length: 809 }, (_, k) => ({
    recording: task(`${k}`).recording,
    rateHz: 1000,
    brought: shot(`${k}`, k < 14),
  }));
  const problems = ["a", "b", "c"].map((path) => ({ ...task(path), code: "x", sentence: "", remedy: "" }));
  const progress = { total: 2000, brought, problems, isDryRun: false, isRunning: true, left: [] };
  expect(progressText(progress)).toBe("812 of 2,000, 14 known already, 3 with problems");
  expect(newShotIds(progress)).toHaveLength(795);
});

test("a shot that had been taken out counts as brought in, and can be taken out again", async () => {
  const back: SendRecording = async ({ recording: { path } }) => {
    const brought = shot(path, true);
    return { ...brought, shots: brought.shots.map((one) => ({ ...one, isBroughtBack: true as const })) };
  };
  const last = await run([task("a"), task("b")], back).end;
  expect(endText(last)).toBe("2 shots brought in; all of them had been taken out and are back as they were.");
  expect(newShotIds(last)).toEqual(["a", "b"]);
});

test("a second try counts what the first one brought in, and forgets the problems it mended", async () => {
  const first = await run([task("a"), task("b"), task("c")], ({ recording: { path } }) =>
    path === "a" ? Promise.resolve(shot(path)) : Promise.reject(refusal("bring-in-no-mapping")),
  ).end;
  const second = await run([task("b"), task("c")], ({ recording: { path } }) =>
    path === "b" ? Promise.resolve(shot(path)) : Promise.reject(refusal("bring-in-no-mapping")),
  ).end;
  const both = joinedProgress(first, second);
  expect(both.total).toBe(3);
  expect(endText(both)).toBe("2 shots brought in; 1 file could not be.");
});

test("several shots in one recording are said with their times", () => {
  const at = [41, 600, 2300];
  const brought = {
    ...shot("s"),
    shots: at.map((impactS) => ({ isDuplicate: false, stretch: { first: 0, end: 1 }, impactS })),
  };
  const progress = { total: 1, problems: [], isDryRun: false, isRunning: false, left: [] };
  const recording = task("session.c3d").recording;
  expect(severalShots({ ...progress, brought: [{ recording, rateHz: 1000, brought }] })).toEqual([
    "session.c3d: 3 shots found between 00:41 and 38:20 (min:s)",
  ]);
});

test("what was noticed is gathered by kind, gravest first, with its files", () => {
  const with_ = (path: string, ...codes: readonly ("note" | "caution")[]) => ({
    recording: task(path).recording,
    rateHz: 1000,
    brought: {
      ...shot(path),
      findings: codes.map((severity) => ({ code: severity, severity, sentence: `${severity}.`, remedy: "" })),
    },
  });
  const progress = { total: 2, problems: [], isDryRun: false, isRunning: false, left: [] };
  const found = findingsByCode({ ...progress, brought: [with_("a", "note"), with_("b", "note", "caution")] });
  expect(found.map(({ code, files }) => [code, files])).toEqual([
    ["caution", ["b"]],
    ["note", ["a", "b"]],
  ]);
});
