import type { ShotLineShape, ShotShape } from "@underfoot/protocol";
import { useEffect, useMemo, useState } from "react";
import { CallFault, call } from "../api/call.ts";
import { useAnswer } from "../api/use-answer.ts";
import { factsFromText, queryFromFacts } from "../shots/shot-query.ts";

/** Rows of one page, and pages that are looked through for the open shot: 2,000 shots. */
const PAGE_ROWS = 500;
const MOST_PAGES = 4;

/**
 * The shots before and after the open one: those of the list it was opened from, as far as the list holds it, else those
 * of its session as they were hit.
 *
 * @param from  the facts the list was found by; undefined: it was not opened from a list
 */
export function useShotList(shot: ShotShape | undefined, from: string | undefined): readonly ShotLineShape[] {
  const found = useFoundList(shot?.id, from);
  const sessionId = found === undefined ? shot?.sessionId : undefined;
  const { answer } = useAnswer(
    "get /api/shots",
    sessionId === undefined ? undefined : { query: { sessionId, order: "session", limit: PAGE_ROWS } },
    ["shot", "session", "player"],
  );
  return useMemo(() => {
    if (shot === undefined) return [];
    const rows = found ?? answer?.rows ?? [];
    // What was just said of the open shot is newer than the list.
    return rows.some(({ id }) => id === shot.id) ? rows.map((row) => (row.id === shot.id ? shot : row)) : [shot];
  }, [shot, found, answer]);
}

/** The list of these facts, read until it holds the shot; undefined where it does not. */
function useFoundList(id: string | undefined, from: string | undefined): readonly ShotLineShape[] | undefined {
  const [read, setRead] = useState<{ readonly from: string; readonly rows: readonly ShotLineShape[] }>();
  const known = read !== undefined && read.from === from ? read.rows : undefined;
  const isThere = known?.some((row) => row.id === id) === true;
  useEffect(() => {
    if (from === undefined || id === undefined || isThere) return undefined;
    const abort = new AbortController();
    readUntil(from, id, abort.signal).then(
      (rows) => abort.signal.aborted || setRead({ from, rows }),
      (fault: unknown) => {
        // Without its list the shot still has its session beside it.
        if (!(abort.signal.aborted || fault instanceof CallFault)) throw fault;
      },
    );
    return () => abort.abort();
  }, [from, id, isThere]);
  return isThere ? known : undefined;
}

async function readUntil(from: string, id: string, signal: AbortSignal): Promise<readonly ShotLineShape[]> {
  const query = queryFromFacts(factsFromText(from));
  const rows: ShotLineShape[] = [];
  let after: string | undefined;
  for (let page = 0; page < MOST_PAGES; page++) {
    const answer = await call("get /api/shots", { query: { ...query, limit: PAGE_ROWS, after } }, signal);
    rows.push(...answer.rows);
    after = answer.next;
    if (after === undefined || rows.some((row) => row.id === id)) break;
  }
  return rows;
}
