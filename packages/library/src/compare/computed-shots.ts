import { UnderfootError } from "@underfoot/domain";
import type { RecordingStore } from "../disk/recording-store.ts";
import { libraryFaults } from "../faults.ts";
import type { Progress } from "../results/recompute.ts";
import { bufferOf } from "../results/worker-thread.ts";
import type { AskedShot } from "./asked-shots.ts";
import { bytesOfComputed, type ComputedShot, shotFromStored, shotWithout } from "./computed-shot.ts";
import { latelyUsed } from "./lately-used.ts";
import type { ThreadPool } from "./thread-pool.ts";

export interface ComputeOptions {
  /** Curve columns; left out: none. */
  readonly curves?: readonly string[] | undefined;
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((progress: Progress) => void) | undefined;
}

/** Shots as comparisons need them: as the library keeps them; with curves, or where it keeps none, from their recordings, then kept in memory. */
export interface ComputedShots {
  of(shots: readonly AskedShot[], options: ComputeOptions): Promise<readonly ComputedShot[]>;
  forget(): void;
}

/** About 10,000 shots without curves. */
const MOST_BYTES = 128 * 2 ** 20;
/** Recordings read ahead of each thread, so that it never waits for the disk. */
const AHEAD = 2;

export function computedShots(store: RecordingStore, pool: ThreadPool): ComputedShots {
  const kept = latelyUsed<ComputedShot>(MOST_BYTES, bytesOfComputed);
  const inHand = new Map<string, Promise<ComputedShot>>();

  const computed = async (shot: AskedShot, curves: readonly string[]): Promise<ComputedShot> => {
    if (shot.stored?.isValid === false) return shotWithout(curves);
    try {
      const question = { ...shot.question, bytes: await store.bytes(shot.recordingSha256) };
      const moved = bufferOf(question);
      if (!shot.stored?.isValid) return await pool.ask({ kind: "shot", question, curves }, { moved });
      const found = await pool.ask({ kind: "curves", question, curves }, { moved });
      return { ...shotFromStored(shot.stored), curvesAsked: curves, curves: found };
    } catch (fault) {
      // Verify says so of the file; here the shot is one that cannot be counted, and is said as such.
      if (fault instanceof UnderfootError && fault.code === "library-recording-lost") return shotWithout(curves);
      throw fault;
    }
  };
  const found = ({ key, stored }: AskedShot, curves: readonly string[]): ComputedShot | undefined => {
    const one = kept.get(key);
    if (one !== undefined && curves.every((curve) => one.curvesAsked.includes(curve))) return one;
    return curves.length === 0 && stored !== undefined ? shotFromStored(stored) : undefined;
  };
  const one = (shot: AskedShot, curves: readonly string[]): Promise<ComputedShot> => {
    const all = [...new Set([...(kept.get(shot.key)?.curvesAsked ?? []), ...curves])].sort();
    const name = [shot.key, ...all].join();
    const running = inHand.get(name);
    if (running) return running;
    const work = computed(shot, all)
      .then((done) => {
        kept.set(shot.key, done);
        return done;
      })
      .finally(() => inHand.delete(name));
    inHand.set(name, work);
    return work;
  };
  return {
    of: async (shots, { curves = [], signal, onProgress }) => {
      const done = shots.map((shot) => found(shot, curves));
      const missing = done.flatMap((shot, k) => (shot === undefined ? [k] : []));
      let [at, count] = [0, 0];
      const lane = async (): Promise<void> => {
        for (let k = missing[at++]; k !== undefined; k = missing[at++]) {
          if (signal?.aborted) throw libraryFaults.cancelled();
          const shot = shots[k];
          if (shot) done[k] = await one(shot, curves);
          onProgress?.({ done: ++count, total: missing.length });
        }
      };
      await Promise.all(Array.from({ length: Math.min(missing.length, AHEAD * pool.countThreads) }, lane));
      return done.filter((shot) => shot !== undefined);
    },
    forget: () => kept.clear(),
  };
}
