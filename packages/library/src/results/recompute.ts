import { availableParallelism } from "node:os";
import { UnderfootError } from "@underfoot/domain";
import type { Settings } from "@underfoot/mechanics";
import type { ShotQuestion } from "@underfoot/pipeline";
import type { RecordingStore } from "../disk/recording-store.ts";
import type { Workshop } from "../history/deed.ts";
import { type MovedMeasure, type MovedNumbers, movedNumbers } from "./moved-numbers.ts";
import { currentLayout } from "./packed-values.ts";
import type { RecomputeDone, RecomputeWork } from "./recompute-worker.ts";
import { keepResult, layoutColumns, type ResultToKeep, shotInputs } from "./results.ts";
import { bufferOf, type WorkerThread, workerThread } from "./worker-thread.ts";

/** How far long work has come. */
export interface Progress {
  readonly done: number;
  readonly total: number;
}

export interface RecomputeOptions {
  /** Those that are current too. Left out: only what is missing or was computed with something else. */
  readonly scope?: "stale" | "all";
  readonly playerId?: string;
  readonly sessionId?: string;
  /** These only, in this order. */
  readonly shotIds?: readonly string[];
  /** Threads; left out: one a core. */
  readonly workers?: number;
  readonly onProgress?: (progress: Progress) => void;
  /** Stops after the shots in hand; what was computed stays. */
  readonly signal?: AbortSignal;
}

/** A shot that could not be computed at all. */
export interface RecomputeFault {
  readonly shotId: string;
  readonly sentence: string;
  readonly remedy: string;
}

export interface Recomputation {
  readonly computed: number;
  /** Were current already. */
  readonly current: number;
  /** Somebody changed their facts meanwhile: they are still to be computed. */
  readonly changedMeanwhile: number;
  readonly faults: readonly RecomputeFault[];
  /** Which numbers moved against what was kept before. */
  readonly moved: readonly MovedMeasure[];
  readonly isCancelled: boolean;
}

/** Results written in one transaction. */
const WRITTEN_AT_ONCE = 50;

/** Questions a thread has waiting, so that it never waits for the disk. */
const AHEAD = 2;

async function shotsAsked(
  { catalogue: { db } }: Workshop,
  { playerId, sessionId, shotIds }: RecomputeOptions,
): Promise<readonly string[]> {
  if (shotIds !== undefined) return shotIds;
  let rows = db.selectFrom("shots").select("id").where("removed_ms", "is", null);
  if (playerId !== undefined) rows = rows.where("player_id", "=", playerId);
  if (sessionId !== undefined) rows = rows.where("session_id", "=", sessionId);
  return (await rows.orderBy("id").execute()).map(({ id }) => id);
}

interface Bench {
  readonly workshop: Workshop;
  readonly store: RecordingStore;
  readonly settings: Settings;
  readonly options: RecomputeOptions;
  readonly faults: RecomputeFault[];
  readonly moved: MovedNumbers;
  computed: number;
  current: number;
  changedMeanwhile: number;
}

/** What is to be computed of one shot; undefined where that is done already or cannot be. */
async function workFor(bench: Bench, shotId: string): Promise<RecomputeWork | undefined> {
  const { workshop, store, settings, options, faults } = bench;
  const { db } = workshop.catalogue;
  try {
    const { key, recordingSha256, fileName, stretch, facts, mapping } = await shotInputs(db, shotId, settings);
    const kept = await db
      .selectFrom("results")
      .select(["cache_key", "packed_shared"])
      .where("id", "=", shotId)
      .executeTakeFirst();
    // What an earlier version kept is whole only with what comparisons ask of it.
    const isWhole = kept?.cache_key === key && kept.packed_shared !== null;
    if (isWhole && options.scope !== "all") {
      bench.current++;
      return undefined;
    }
    const question: ShotQuestion = {
      bytes: await store.bytes(recordingSha256),
      file: fileName,
      sha256: recordingSha256,
      settings,
      stretch,
      ...(facts ? { facts } : {}),
      ...(mapping ? { mapping } : {}),
    };
    return { shotId, key, question };
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    faults.push({ shotId, sentence: fault.message, remedy: fault.remedy });
    return undefined;
  }
}

/** Writes results in one transaction, comparing each with the one it takes the place of. */
async function write(
  bench: Bench,
  results: readonly { readonly shotId: string; readonly result: ResultToKeep }[],
): Promise<void> {
  const { workshop, settings, moved } = bench;
  const layout = currentLayout();
  await workshop.catalogue.change(async (trx) => {
    for (const { shotId, result } of results) {
      if ((await shotInputs(trx, shotId, settings)).key !== result.key) {
        bench.changedMeanwhile++;
        continue;
      }
      const old = await trx
        .selectFrom("results")
        .select(["layout_id", "packed_values", "packed_sigmas", "texts_json"])
        .where("id", "=", shotId)
        .executeTakeFirst();
      if (old) {
        const texts = old.texts_json === null ? {} : (JSON.parse(old.texts_json) as Record<string, string>);
        const columns = old.layout_id === layout.id ? layout.columns : await layoutColumns(trx, old.layout_id);
        moved.add(
          shotId,
          { values: asOwned(old.packed_values), sigmas: asOwned(old.packed_sigmas), texts, columns },
          { ...result.packed, columns: layout.columns },
        );
      }
      await keepResult(trx, workshop, { shotId, layout, result });
      bench.computed++;
    }
  });
  for (const { shotId } of results) workshop.feed.tell({ kind: "result", id: shotId, deed: "computed the shot" });
}

const asOwned = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => new Uint8Array(bytes);

/** Hands out shots to one thread until there are none, and collects what comes back. */
async function drain(
  bench: Bench,
  ids: readonly string[],
  next: () => number | undefined,
  keep: (done: RecomputeDone) => Promise<void>,
): Promise<void> {
  // Where nothing is to be computed no thread is started.
  let thread: WorkerThread<RecomputeWork, RecomputeDone> | undefined;
  const ask: WorkerThread<RecomputeWork, RecomputeDone>["ask"] = (work, moved) => {
    thread ??= workerThread(new URL("./recompute-worker.ts", import.meta.url));
    return thread.ask(work, moved);
  };
  const lane = async (): Promise<void> => {
    for (let k = next(); k !== undefined; k = next()) {
      const shotId = ids[k];
      if (shotId === undefined) return;
      const work = await workFor(bench, shotId);
      if (work) await keep(await ask(work, bufferOf(work.question)));
      bench.options.onProgress?.({ done: k + 1, total: ids.length });
    }
  };
  try {
    await Promise.all(Array.from({ length: AHEAD }, lane));
  } finally {
    await thread?.end();
  }
}

/** Computes shots on all cores, keeps the results, and says which numbers moved. */
export async function recompute(
  workshop: Workshop,
  store: RecordingStore,
  settings: Settings,
  options: RecomputeOptions,
): Promise<Recomputation> {
  const ids = await shotsAsked(workshop, options);
  const bench: Bench = {
    workshop,
    store,
    settings,
    options,
    faults: [],
    moved: movedNumbers(),
    computed: 0,
    current: 0,
    changedMeanwhile: 0,
  };
  let at = 0;
  const isCancelled = (): boolean => options.signal?.aborted === true;
  const next = (): number | undefined => (at < ids.length && !isCancelled() ? at++ : undefined);
  let pending: { shotId: string; result: ResultToKeep }[] = [];
  const flush = async (): Promise<void> => {
    const batch = pending;
    pending = [];
    if (batch.length > 0) await write(bench, batch);
  };
  const keep = async (done: RecomputeDone): Promise<void> => {
    if ("ourFault" in done) {
      bench.faults.push({
        shotId: done.shotId,
        sentence: `Underfoot failed on this shot: ${done.ourFault}. This is our fault, not the recording's.`,
        remedy: "Please report it with the recording, if it may be shared.",
      });
      return;
    }
    pending.push(done);
    if (pending.length >= WRITTEN_AT_ONCE) await flush();
  };
  const threads = Math.max(1, Math.min(options.workers ?? availableParallelism(), ids.length));
  await Promise.all(Array.from({ length: threads }, () => drain(bench, ids, next, keep)));
  await flush();
  return {
    computed: bench.computed,
    current: bench.current,
    changedMeanwhile: bench.changedMeanwhile,
    faults: bench.faults,
    moved: bench.moved.all(),
    isCancelled: isCancelled(),
  };
}
