import { availableParallelism } from "node:os";
import type { Transferable } from "node:worker_threads";
import { UnderfootError } from "@underfoot/domain";
import { libraryFaults } from "../faults.ts";
import { type WorkerThread, workerThread } from "../results/worker-thread.ts";
import type { CompareAnswer, CompareDone, CompareWork } from "./compare-work.ts";

/** Threads that compute and compare, started when they are first needed and ended after a while without work. */
export interface ThreadPool {
  /** @throws what the work threw; library-cancelled where the signal was aborted: work in hand is thrown away with its thread */
  ask<W extends CompareWork>(
    work: W,
    options?: { readonly moved?: readonly Transferable[]; readonly signal?: AbortSignal | undefined },
  ): Promise<CompareAnswer<W["kind"]>>;
  readonly countThreads: number;
  close(): Promise<void>;
}

/** A thread without work gives its memory back after this. */
const IDLE_MS = 60_000;

type Thread = WorkerThread<CompareWork, CompareDone>;

interface Waiting {
  readonly take: (thread: Thread) => void;
  readonly refuse: (why: unknown) => void;
}

function resultOf(done: CompareDone): unknown {
  if ("answer" in done) return done.answer;
  if ("fault" in done) throw new UnderfootError(done.fault);
  throw new Error(done.ourFault);
}

/** Ends as cancelled where that comes first. */
async function orStopped<T>(work: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (signal === undefined) return work;
  let onAbort = (): void => undefined;
  const stopped = new Promise<never>((_, reject) => {
    onAbort = () => reject(libraryFaults.cancelled());
    signal.addEventListener("abort", onAbort);
  });
  try {
    return await Promise.race([work, stopped]);
  } finally {
    signal.removeEventListener("abort", onAbort);
  }
}

export function threadPool(countThreads: number = availableParallelism()): ThreadPool {
  const idle: Thread[] = [];
  const all = new Set<Thread>();
  const waiting: Waiting[] = [];
  let isClosed = false;
  let idleTimer: NodeJS.Timeout | undefined;

  const end = (thread: Thread): void => {
    all.delete(thread);
    void thread.end();
  };
  const next = (thread: Thread): void => {
    const first = waiting.shift();
    if (first) {
      first.take(thread);
      return;
    }
    thread.hold(false);
    idle.push(thread);
    clearTimeout(idleTimer);
    idleTimer = setTimeout(() => idle.splice(0).forEach(end), IDLE_MS).unref();
  };
  const start = (): Thread => {
    const thread: Thread = workerThread(new URL("./computing-worker.ts", import.meta.url));
    all.add(thread);
    return thread;
  };
  const replace = (thread: Thread): void => {
    end(thread);
    if (waiting.length > 0 && !isClosed) next(start());
  };
  const thread = (signal: AbortSignal | undefined): Promise<Thread> =>
    new Promise((resolve, reject) => {
      const free = idle.pop() ?? (all.size < countThreads ? start() : undefined);
      if (free) return resolve(free);
      const one: Waiting = { take: resolve, refuse: reject };
      waiting.push(one);
      signal?.addEventListener("abort", () => {
        const at = waiting.indexOf(one);
        if (at < 0) return;
        waiting.splice(at, 1);
        reject(libraryFaults.cancelled());
      });
    });
  const asked = async (own: Thread, work: CompareWork, moved: readonly Transferable[], signal?: AbortSignal) => {
    own.hold(true);
    try {
      const done = await orStopped(own.ask(work, moved), signal);
      next(own);
      return done;
    } catch (fault) {
      // Stopped in its work, or broken: its next answer would be that of this question.
      replace(own);
      throw fault;
    }
  };
  return {
    countThreads,
    ask: async (work, { moved = [], signal } = {}) => {
      if (signal?.aborted) throw libraryFaults.cancelled();
      if (isClosed) throw new Error("the library is closed");
      const done = await asked(await thread(signal), work, moved, signal);
      return resultOf(done) as never;
    },
    close: async () => {
      isClosed = true;
      clearTimeout(idleTimer);
      for (const { refuse } of waiting.splice(0)) refuse(new Error("the library is closed"));
      await Promise.all([...all].map((one) => one.end()));
      all.clear();
    },
  };
}
