// One thread that computes shots: questions in, results small enough to keep out.
import { parentPort } from "node:worker_threads";
import { type ShotQuestion, shotOutcome } from "@underfoot/pipeline";
import { currentLayout } from "./packed-values.ts";
import { type ResultToKeep, resultToKeep } from "./results.ts";

export interface RecomputeWork {
  readonly shotId: string;
  readonly key: string;
  readonly question: ShotQuestion;
}

export type RecomputeDone =
  | { readonly shotId: string; readonly result: ResultToKeep }
  /** A broken promise of our own code, in words. */
  | { readonly shotId: string; readonly ourFault: string };

const layout = currentLayout();

function done({ shotId, key, question }: RecomputeWork): RecomputeDone {
  try {
    return { shotId, result: resultToKeep(shotOutcome(question), key, layout) };
  } catch (fault) {
    return { shotId, ourFault: fault instanceof Error ? fault.message : String(fault) };
  }
}

parentPort?.on("message", (work: RecomputeWork) => parentPort?.postMessage(done(work)));
