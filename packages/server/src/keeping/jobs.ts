import { UnderfootError } from "@underfoot/domain";
import type { Progress } from "@underfoot/library";
import { serverFaults } from "../refusals/faults.ts";

type JobKind = "backup" | "restore" | "verify" | "recompute";

/** Long work: how far it is, or what came of it. Kept until the server ends. */
export interface Job {
  readonly id: string;
  readonly kind: JobKind;
  readonly state: "running" | "done" | "failed" | "cancelled";
  readonly done: number;
  readonly total: number;
  readonly sentence: string;
  readonly remedy?: string;
  readonly outcome?: unknown;
}

/** What came of it, in words and as plain data. */
export interface JobEnd {
  readonly sentence: string;
  readonly remedy?: string;
  readonly outcome: unknown;
}

export interface JobWork {
  readonly kind: JobKind;
  /** "Backup": what the sentences of its progress begin with. */
  readonly title: string;
  /** What is counted, in the plural: recordings. */
  readonly counted: string;
  run(options: { readonly signal: AbortSignal; readonly onProgress: (progress: Progress) => void }): Promise<JobEnd>;
}

export interface Jobs {
  /** The latest first. */
  list(): readonly Job[];
  byId(id: string): Job;
  /** @throws UnderfootError job-running: one at a time */
  start(work: JobWork): Job;
  cancel(id: string): Job;
  /** Cancels what is under way and waits for its end. */
  close(): Promise<void>;
}

/** Progress is told so often at most. */
const TOLD_APART_MS = 200;

interface Running {
  job: Job;
  readonly abort: AbortController;
  ended: Promise<void>;
}

const COUNT = new Intl.NumberFormat("en-GB");

export function jobs({
  tell,
  log,
  clock,
}: {
  readonly tell: (job: Job) => void;
  /** Told of what is our own fault. */
  readonly log: (fault: Error) => void;
  readonly clock: () => number;
}): Jobs {
  const all = new Map<string, Running>();
  const prefix = Math.floor(clock()).toString(36);
  const found = (id: string): Running => {
    const running = all.get(id);
    if (!running) throw serverFaults.noJob(id);
    return running;
  };
  const change = (running: Running, part: Partial<Job>): void => {
    running.job = { ...running.job, ...part };
  };
  const perform = async (running: Running, { title, counted, run }: JobWork): Promise<void> => {
    const { signal } = running.abort;
    let toldMs = Number.NEGATIVE_INFINITY;
    const onProgress = ({ done, total }: Progress): void => {
      if (signal.aborted) return;
      change(running, {
        done,
        total,
        sentence: `${title}: ${COUNT.format(done)} of ${COUNT.format(total)} ${counted}.`,
      });
      if (clock() - toldMs < TOLD_APART_MS) return;
      toldMs = clock();
      tell(running.job);
    };
    try {
      const end = await run({ signal, onProgress });
      change(running, { state: signal.aborted ? "cancelled" : "done", ...end });
    } catch (fault) {
      if (!(fault instanceof UnderfootError)) log(fault instanceof Error ? fault : new Error(String(fault)));
      const said = fault instanceof UnderfootError ? fault : serverFaults.ourFault();
      const state = said.code === "library-cancelled" ? "cancelled" : "failed";
      change(running, { state, sentence: said.message, remedy: said.remedy });
    }
    tell(running.job);
  };
  return {
    list: () => [...all.values()].map(({ job }) => job).reverse(),
    byId: (id) => found(id).job,
    start: (work) => {
      const other = [...all.values()].find(({ job }) => job.state === "running");
      if (other) throw serverFaults.jobRunning(other.job.sentence.replace(/\.+$/, ""));
      const id = `${prefix}-${all.size + 1}`;
      const running: Running = {
        job: { id, kind: work.kind, state: "running", done: 0, total: 0, sentence: `${work.title} begins.` },
        abort: new AbortController(),
        ended: Promise.resolve(),
      };
      all.set(id, running);
      tell(running.job);
      running.ended = perform(running, work);
      return running.job;
    },
    cancel: (id) => {
      const running = found(id);
      if (running.job.state !== "running") throw serverFaults.jobEnded();
      running.abort.abort();
      change(running, { sentence: "Stopping after what is in hand." });
      return running.job;
    },
    close: async () => {
      for (const { abort } of all.values()) abort.abort();
      await Promise.all([...all.values()].map(({ ended }) => ended));
    },
  };
}
