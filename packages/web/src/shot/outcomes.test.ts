import { DEFAULT_SETTINGS, type Settings } from "@underfoot/mechanics";
import type { ShotOutcome, ShotQuestion } from "@underfoot/pipeline";
import { expect, test } from "vitest";
import { ComputingStopped } from "../computing/computer.ts";
import { type OutcomeState, outcomes } from "./outcomes.ts";
import { type Entry, type Source, type SourceContent, UnreadSource } from "./source.ts";

const noEntry: Entry = { marks: [], facts: undefined };
const source: Source = {
  id: "a",
  kind: "file",
  file: "a.c3d",
  read: () => Promise.resolve({ bytes: new Uint8Array([1]), sidecarText: "{}" }),
};
const refusal: ShotOutcome = { status: "error", code: "empty", sentence: "a.c3d is empty.", remedy: "Record again." };

function asked(answer: () => Promise<ShotOutcome> = () => Promise.resolve(refusal)) {
  const questions: ShotQuestion[] = [];
  const computer = {
    ask: (_: "shot", question: ShotQuestion) => {
      questions.push(question);
      return answer();
    },
    stop: () => undefined,
  };
  const it = outcomes(computer, () => Promise.resolve("00"));
  const last = (from: Source, entry: Entry, settings?: Settings): Promise<OutcomeState> =>
    new Promise((resolve) => {
      it.of({ source: from, entry, settings }, (state) => {
        if (state.stage !== "reading" && state.stage !== "computing") resolve(state);
      });
    });
  return { it, questions, last };
}

test("the same inputs are computed once, a mark is a new question with the mark in it", async () => {
  const { questions, last } = asked();
  await last(source, noEntry);
  await last(source, noEntry);
  expect(questions).toHaveLength(1);
  const marks = [{ event: "top", timeS: 1, sdMs: 4 }] as const;
  await last(source, { ...noEntry, marks });
  expect(questions.map((question) => question.marks)).toEqual([[], marks]);
  await last(source, noEntry);
  expect(questions).toHaveLength(2);
});

test("the library's settings and the shot's stretch are part of the question; other settings are another question", async () => {
  const { questions, last } = asked();
  const stretched: Source = { ...source, stretch: { first: 100, end: 200 } };
  await last(stretched, noEntry, DEFAULT_SETTINGS);
  await last(stretched, noEntry, { ...DEFAULT_SETTINGS, loadOnN: 40 });
  await last(stretched, noEntry, DEFAULT_SETTINGS);
  expect(questions.map(({ stretch, settings }) => [stretch?.first, settings?.loadOnN])).toEqual([
    [100, 30],
    [100, 40],
  ]);
});

test("shots of one recording that the library knows by its hash are read once", async () => {
  const { last } = asked();
  let reads = 0;
  const of = (id: string): Source => ({
    ...{ id, kind: "stored", file: "long.c3d", sha256: "ab" },
    read: () => {
      reads++;
      return Promise.resolve({ bytes: new Uint8Array([1]), sidecarText: undefined });
    },
  });
  await last(of("first"), noEntry);
  await last(of("second"), noEntry);
  expect(reads).toBe(1);
});

test("a recording that cannot be read, a stop and a defect of ours are three different things", async () => {
  const gone: Source = { ...source, read: () => Promise.reject(new UnreadSource("the server does not answer.")) };
  expect(await asked().last(gone, noEntry)).toMatchObject({
    stage: "unread",
    sentence: expect.stringContaining("a.c3d"),
  });
  const stopped = asked(() => Promise.reject(new ComputingStopped("stopped")));
  expect(await stopped.last(source, noEntry)).toEqual({ stage: "stopped" });
  const broken = asked(() => Promise.reject(new RangeError("lengths differ")));
  expect(await broken.last(source, noEntry)).toEqual({ stage: "broken", message: "lengths differ" });
});

test("a stop answers at once, even while the bytes are still on their way, and the next question is asked anew", async () => {
  const { it, last } = asked();
  let arrive: (content: SourceContent) => void = () => undefined;
  const bytes = new Promise<SourceContent>((resolve) => {
    arrive = resolve;
  });
  const slow: Source = { ...source, read: () => bytes };
  const states: OutcomeState[] = [];
  it.of({ source: slow, entry: noEntry, settings: undefined }, (state) => states.push(state));
  it.stop();
  expect(states).toEqual([{ stage: "reading" }, { stage: "stopped" }]);
  const answered = last(slow, noEntry);
  arrive({ bytes: new Uint8Array([1]), sidecarText: undefined });
  expect(await answered).toMatchObject({ stage: "done" });
  expect(states).toHaveLength(2);
});

test("whoever left hears nothing more", async () => {
  const { it, last } = asked();
  let heard = 0;
  it.of({ source, entry: noEntry, settings: undefined }, () => heard++)();
  await last(source, noEntry);
  expect(heard).toBe(1);
});
