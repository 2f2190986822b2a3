import { type Transferable, Worker } from "node:worker_threads";
import type { ShotQuestion } from "@underfoot/pipeline";

/** One thread that answers questions in their order. */
export interface WorkerThread<Work, Done> {
  ask(work: Work, moved?: readonly Transferable[]): Promise<Done>;
  /** Whether waiting for it keeps the program running. */
  hold(isHeld: boolean): void;
  end(): Promise<number>;
}

/** Starts a program that answers each message with one. */
export function workerThread<Work, Done>(program: URL): WorkerThread<Work, Done> {
  const worker = new Worker(program);
  const waiting: { resolve: (done: Done) => void; reject: (fault: unknown) => void }[] = [];
  const rejectAll = (fault: unknown): void => {
    for (const { reject } of waiting.splice(0)) reject(fault);
  };
  worker.on("message", (done: Done) => waiting.shift()?.resolve(done));
  worker.on("error", rejectAll);
  worker.on("exit", () => rejectAll(new Error("the thread ended before its answer")));
  return {
    ask: (work, moved = []) =>
      new Promise((resolve, reject) => {
        waiting.push({ resolve, reject });
        worker.postMessage(work, moved);
      }),
    hold: (isHeld) => (isHeld ? worker.ref() : worker.unref()),
    end: () => worker.terminate(),
  };
}

/** A recording is moved to the thread, not copied. */
export function bufferOf({ bytes: { buffer } }: ShotQuestion): readonly ArrayBuffer[] {
  return buffer instanceof ArrayBuffer ? [buffer] : [];
}
