import type { ChangeMessage, ShotLineShape } from "@underfoot/protocol";
import { useCallback, useEffect, useReducer, useRef, useState } from "react";
import { CallFault, call } from "../api/call.ts";
import { onChanges } from "../api/changes.ts";
import { type Facts, queryFromFacts } from "./shot-query.ts";

interface Pages {
  readonly rows: readonly ShotLineShape[];
  readonly total: number;
  /** Where the next page begins; undefined: all are here. */
  readonly next: string | undefined;
}

export interface ShotPages {
  /** The last answer; stays while a newer one is on its way. */
  readonly pages: Pages | undefined;
  readonly isBusy: boolean;
  readonly fault: CallFault | undefined;
  readonly again: () => void;
  readonly more: () => void;
}

/** Rows that are asked for at a time, and at most in one answer. */
const PAGE_ROWS = 100;
const MOST_ROWS = 500;
/** Changes come in bursts: one question after the last of them. */
const SETTLE_MS = 80;
const CONCERNS: readonly ChangeMessage["kind"][] = ["shot", "session", "player", "check", "elsewhere", "place"];

/** The shots of these facts, a page more at a time, read anew as far as they are shown when the library changes. */
export function useShotPages(facts: Facts): ShotPages {
  const [pages, setPages] = useState<Pages>();
  const [fault, setFault] = useState<CallFault>();
  const [isBusy, setIsBusy] = useState(true);
  const [attempt, again] = useReducer((count: number) => count + 1, 0);
  const key = JSON.stringify(queryFromFacts(facts));
  const shown = useRef({ key, rows: 0 });
  const abort = useRef<AbortController>(undefined);
  const read = useCallback(async (work: (signal: AbortSignal) => Promise<Pages>) => {
    abort.current?.abort();
    const own = new AbortController();
    abort.current = own;
    setIsBusy(true);
    try {
      const next = await work(own.signal);
      if (own.signal.aborted) return;
      shown.current = { ...shown.current, rows: next.rows.length };
      setPages(next);
      setFault(undefined);
      setIsBusy(false);
    } catch (cause) {
      if (own.signal.aborted) return;
      if (!(cause instanceof CallFault)) throw cause;
      setFault(cause);
      setIsBusy(false);
    }
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `attempt` reads again on purpose.
  useEffect(() => {
    if (shown.current.key !== key) shown.current = { key, rows: 0 };
    void read((signal) => firstPages(key, Math.max(PAGE_ROWS, shown.current.rows), signal));
    return () => abort.current?.abort();
  }, [key, attempt, read]);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = onChanges(({ kind }) => {
      if (!CONCERNS.includes(kind)) return;
      clearTimeout(timer);
      timer = setTimeout(again, SETTLE_MS);
    });
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, []);
  const more = (): void => {
    if (pages?.next === undefined || isBusy) return;
    void read(async (signal) => {
      const page = await pageOf(key, { limit: PAGE_ROWS, after: pages.next }, signal);
      return { ...page, rows: [...pages.rows, ...page.rows] };
    });
  };
  return { pages, fault, isBusy, again, more };
}

async function pageOf(
  key: string,
  part: { readonly limit: number; readonly after: string | undefined },
  signal: AbortSignal,
): Promise<Pages> {
  const query = { ...(JSON.parse(key) as ReturnType<typeof queryFromFacts>), ...part };
  const { rows, total, next } = await call("get /api/shots", { query }, signal);
  return { rows, total, next };
}

/** As many rows as were shown before. */
async function firstPages(key: string, count: number, signal: AbortSignal): Promise<Pages> {
  let read = await pageOf(key, { limit: Math.min(MOST_ROWS, count), after: undefined }, signal);
  while (read.rows.length < count && read.next !== undefined) {
    const limit = Math.min(MOST_ROWS, count - read.rows.length);
    const page = await pageOf(key, { limit, after: read.next }, signal);
    read = { ...page, rows: [...read.rows, ...page.rows] };
  }
  return read;
}
