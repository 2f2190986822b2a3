import type { ShotOutcome, ShotQuestion } from "@underfoot/pipeline";
import { expect, test } from "vitest";
import { ComputingStopped } from "./computer.ts";
import { type OutcomeState, outcomes, UnreadSource } from "./outcomes.ts";
import type { Entry, Source } from "./session.ts";

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
    ask: (question: ShotQuestion) => {
      questions.push(question);
      return answer();
    },
    stop: () => undefined,
  };
  const it = outcomes(computer, () => Promise.resolve("00"));
  const last = (from: Source, entry: Entry): Promise<OutcomeState> =>
    new Promise((resolve) => {
      it.of(from, entry, (state) => {
        if (state.stage !== "reading" && state.stage !== "computing") resolve(state);
      });
    });
  return { questions, last };
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
