import { allColumns, curveColumn, fromJson } from "@underfoot/compare";
import type { PlayerAxes } from "@underfoot/domain";
import { catalogueEntry } from "@underfoot/mechanics";
import { useEffect, useMemo, useState } from "react";
import type { CallFault } from "../api/call.ts";
import { useAnswer } from "../api/use-answer.ts";
import { sideText } from "./choose/side-query.ts";
import { type CompareAsk, kindOfAsk } from "./compare-address.ts";
import type { AnyComparison } from "./drawn-comparison.ts";

/** The short list: what a short-game coach looks at first (common practice, no source). */
const FEW_MEASURES = [
  "lead.share.at.delivery",
  "lead.share.at.impact",
  "both.target.peak",
  "both.target.peakTime",
  "both.ahead.peak",
  "both.up.peak",
  "both.speedTarget.at.impact",
  "both.travelTarget.at.impact",
  "both.turn.peak",
  "both.peakGap.targetToUp",
  "lead.heelToe.at.delivery",
  "both.downswing.duration",
] as const;

/** The pairs that fall beside each other; on a phone the first two. */
const CURVES = ["both.target", "lead.share", "both.speedTarget"] as const;

/** Columns of measures in these axes. */
export function measureColumns(list: CompareAsk["measures"], axes: PlayerAxes): readonly string[] {
  if (list === "all") return allColumns(axes);
  return FEW_MEASURES.map((id) => (catalogueEntry(id)?.axes.includes(axes) ? `${id} ${axes}` : id));
}

export interface ComparisonState {
  readonly compared: AnyComparison | undefined;
  readonly fault: CallFault | undefined;
  readonly isBusy: boolean;
  /** Busy for so long that it must be said. */
  readonly isLong: boolean;
  readonly isStopped: boolean;
  readonly stop: () => void;
  readonly again: () => void;
}

/** No waiting longer than this without words, ms. */
const SAID_AFTER_MS = 300;

/** The comparison that the address asks for, computed by the server; can be stopped. */
export function useComparison(ask: CompareAsk): ComparisonState {
  const query = kindOfAsk(ask) === undefined ? undefined : queryOf(ask);
  const key = JSON.stringify(query);
  const [stopped, setStopped] = useState<string>();
  const isStopped = stopped === key;
  const wanted = query === undefined || isStopped ? undefined : { query };
  const { answer, fault, isBusy, again } = useAnswer(
    "get /api/comparison" as "get /api/about",
    wanted as object | undefined,
    KINDS,
  );
  const [isLong, setIsLong] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another question (`key`) waits anew.
  useEffect(() => {
    setIsLong(false);
    if (!isBusy) return undefined;
    const timer = setTimeout(() => setIsLong(true), SAID_AFTER_MS);
    return () => clearTimeout(timer);
  }, [isBusy, key]);
  const compared = useMemo(
    () => (answer === undefined ? undefined : (fromJson(answer as never) as AnyComparison)),
    [answer],
  );
  return {
    ...{ compared, fault, isBusy, isLong, isStopped },
    stop: () => setStopped(key),
    again: () => (isStopped ? setStopped(undefined) : again()),
  };
}

const KINDS = ["shot", "result", "session", "layout", "player"] as const;

function queryOf(ask: CompareAsk) {
  const { a, b, axes, registration, view, measures, looked } = ask;
  return {
    a: a === undefined ? "" : sideText(a),
    b: b === undefined ? "" : sideText(b),
    axes,
    measures: measureColumns(measures, axes).join(","),
    curves: CURVES.map((name) => curveColumn(name, axes)).join(","),
    registration,
    clusters: view === "clusters" ? "yes" : "no",
    times: looked.length,
  };
}
