import type { BringInAsk, BroughtInShape } from "@underfoot/protocol";
import { CallFault } from "../api/call.ts";
import type { FileProblem } from "./file-groups.ts";
import type { PickedRecording } from "./picked-folders.ts";

/** One file to be brought in, and what is said of it. */
export interface BringTask {
  readonly recording: PickedRecording;
  readonly ask: BringInAsk;
  /** As its columns tell; NaN where they do not. */
  readonly rateHz: number;
}

/** A file that is in. */
export interface BroughtFile {
  readonly recording: PickedRecording;
  readonly rateHz: number;
  readonly brought: BroughtInShape;
}

export interface BringProgress {
  readonly total: number;
  readonly brought: readonly BroughtFile[];
  readonly problems: readonly FileProblem[];
  readonly isDryRun: boolean;
  readonly isRunning: boolean;
  /** Files that were not looked at: somebody stopped, or the library could not go on. */
  readonly left: readonly BringTask[];
  /** Why the library could not go on. */
  readonly stoppedBy?: { readonly sentence: string; readonly remedy: string };
}

/** Requests under way at a time: one is read while the other is computed. */
const AT_A_TIME = 2;

/** Refusals that the next file would meet as well: there is no use in going on. */
const NO_USE = [
  "no-answer",
  "library-disk-full",
  "library-read-only",
  "library-unwritable",
  "library-damaged",
  "library-unreachable",
];

export type SendRecording = (task: BringTask, signal: AbortSignal) => Promise<BroughtInShape>;

/**
 * Brings files in, two at a time, each on the disk when its answer is there. What is in stays when it is stopped.
 *
 * @param tell  told after every file
 * @returns     the last of what was told
 */
export async function bringAll(
  tasks: readonly BringTask[],
  send: SendRecording,
  {
    signal,
    isDryRun,
    tell,
  }: { readonly signal: AbortSignal; readonly isDryRun: boolean; readonly tell: (progress: BringProgress) => void },
): Promise<BringProgress> {
  const waiting = [...tasks];
  const brought: BroughtFile[] = [];
  const problems: FileProblem[] = [];
  const broken: BringTask[] = [];
  let stoppedBy: BringProgress["stoppedBy"];
  const now = (isRunning: boolean): BringProgress => ({
    ...{ total: tasks.length, brought: [...brought], problems: [...problems], isDryRun, isRunning },
    left: isRunning ? [] : [...broken, ...waiting],
    ...(stoppedBy ? { stoppedBy } : {}),
  });
  const one = async (task: BringTask): Promise<void> => {
    try {
      brought.push({ recording: task.recording, rateHz: task.rateHz, brought: await send(task, signal) });
    } catch (cause) {
      if (signal.aborted) {
        broken.push(task);
        return;
      }
      const problem = problemOf(cause, task.recording);
      if (!NO_USE.includes(problem.code)) problems.push(problem);
      else {
        stoppedBy = problem;
        broken.push(task);
      }
    }
    tell(now(true));
  };
  const line = async (): Promise<void> => {
    while (!signal.aborted && stoppedBy === undefined) {
      const task = waiting.shift();
      if (task === undefined) return;
      await one(task);
    }
  };
  tell(now(true));
  await Promise.all(Array.from({ length: AT_A_TIME }, line));
  const last = now(false);
  tell(last);
  return last;
}

function problemOf(cause: unknown, recording: PickedRecording): FileProblem {
  if (cause instanceof CallFault) {
    const { code, message: sentence, remedy } = cause;
    return { recording, code, sentence, remedy };
  }
  // Reading a file that was moved or changed since it was dropped.
  if (cause instanceof DOMException) {
    return {
      recording,
      code: "file-gone",
      sentence: `${recording.file.name} could not be read: it was moved, changed or removed since it was dropped.`,
      remedy: "Check that it is still where it was, then drop it again.",
    };
  }
  throw cause;
}

/** The later of two runs over the same folder: what was brought in before counts too. */
export function joinedProgress(before: BringProgress | undefined, now: BringProgress): BringProgress {
  if (before === undefined || before.isDryRun !== now.isDryRun) return now;
  const retried = new Set([...now.brought, ...now.problems].map(({ recording }) => recording.path));
  const keptProblems = before.problems.filter(({ recording }) => !retried.has(recording.path));
  return {
    ...now,
    total: before.brought.length + keptProblems.length + now.total,
    brought: [...before.brought, ...now.brought],
    problems: [...keptProblems, ...now.problems],
  };
}
