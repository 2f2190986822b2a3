import type { Answers, Done, Work } from "@underfoot/pipeline";

type Kind = keyof Answers;

/** Reads and computes away from the page's own thread. */
export interface Computer {
  /**
   * The outcome of a question. Rejects with `ComputingStopped` when stopped, with the fault where our own code broke.
   */
  readonly ask: <K extends Kind>(kind: K, question: Answers[K]["question"]) => Promise<Answers[K]["outcome"]>;
  /** Gives up everything that is asked. The next question starts afresh. */
  readonly stop: () => void;
}

/** A person pressed Cancel, or the page went away. */
export class ComputingStopped extends Error {
  override readonly name: string = "ComputingStopped";
}

interface Waiting {
  readonly resolve: (outcome: Done["outcome"]) => void;
  readonly reject: (fault: Error) => void;
}

/** One Web Worker, started with the first question and ended by `stop`. */
export function workerComputer(): Computer {
  const waiting = new Map<number, Waiting>();
  let worker: Worker | undefined;
  let lastId = 0;

  const giveUp = (fault: Error): void => {
    worker?.terminate();
    worker = undefined;
    for (const { reject } of waiting.values()) reject(fault);
    waiting.clear();
  };
  const start = (): Worker => {
    const started = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
    started.onmessage = ({ data }: MessageEvent<Done>) => {
      waiting.get(data.id)?.resolve(data.outcome);
      waiting.delete(data.id);
    };
    // Faults in the input come back as outcomes: what arrives here is a defect of ours.
    started.onerror = (event) => {
      event.preventDefault();
      giveUp(new Error(event.message || "The part of the page that computes did not start."));
    };
    return started;
  };
  const ask = <K extends Kind>(kind: K, question: Answers[K]["question"]): Promise<Answers[K]["outcome"]> =>
    new Promise((resolve, reject) => {
      worker ??= start();
      const id = ++lastId;
      // The worker answers a question of a kind with an outcome of that kind.
      waiting.set(id, { resolve: resolve as Waiting["resolve"], reject });
      worker.postMessage({ kind, id, ...question } as Work);
    });
  return { ask, stop: () => giveUp(new ComputingStopped("Computing was stopped.")) };
}
