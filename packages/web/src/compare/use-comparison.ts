import { fromJson } from "@underfoot/compare";
import { useMemo } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { type LongAnswer, useLongAnswer } from "../api/use-long-answer.ts";
import { type CountedShot, conditionOfShot } from "./choose/shot-counts.ts";
import { type SideQuery, sideText } from "./choose/side-query.ts";
import { type CompareAsk, kindOfAsk } from "./compare-address.ts";
import type { AnyComparison } from "./drawn-comparison.ts";
import { PATH_CURVES } from "./mean-paths.ts";

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

export interface ComparisonState {
  readonly compared: AnyComparison | undefined;
  /** What a long wait needs: words, the way out, what was refused. */
  readonly answered: Omit<LongAnswer<unknown>, "answer" | "put">;
}

/**
 * The comparison that the address asks for, computed by the server; can be stopped.
 * @param shots  of the player, from which the usual of a shot is known; undefined while they are on their way
 */
export function useComparison(ask: CompareAsk, shots: readonly CountedShot[] | undefined): ComparisonState {
  const query = useMemo(() => queryOf(ask, shots), [ask, shots]);
  const { answer, put: _, ...answered } = useLongAnswer("get /api/comparison", query && { query }, KINDS);
  const compared = useMemo(() => (answer === undefined ? undefined : fromJson<AnyComparison>(answer)), [answer]);
  return { compared, answered };
}

const KINDS = ["shot", "result", "session", "layout", "player"] as const;

/** A side in the words of the server, which knows shots and conditions; what is usual stands as the condition of its shot. */
function sideOf(side: SideQuery, shots: readonly CountedShot[] | undefined): string | undefined {
  if (side.kind !== "usual") return sideText(side);
  const shot = shots?.find(({ shotId }) => shotId === side.shotId);
  return shot && sideText({ kind: "shots", asked: conditionOfShot(shot) });
}

/** The question to the server; undefined where there is none yet. */
function queryOf(ask: CompareAsk, shots: readonly CountedShot[] | undefined) {
  const kind = kindOfAsk(ask);
  if (ask.a === undefined || ask.b === undefined || kind === undefined) return undefined;
  const [first, second] = kind === "shot-usual" && ask.a.kind === "shot" ? [ask.b, ask.a] : [ask.a, ask.b];
  const [a, b] = [sideOf(first, shots), sideOf(second, shots)];
  if (a === undefined || b === undefined) return undefined;
  const { axes, registration, view, measures, curves, looked } = ask;
  return {
    ...{ a, b, axes, registration },
    measures: measures === "few" ? FEW_MEASURES.join(",") : undefined,
    curves: curves.join(","),
    clusters: view === "clusters" ? ("true" as const) : undefined,
    times: looked.length,
  };
}

/** The same two sides, only for the picture from above. */
export function usePaths(ask: CompareAsk, shots: readonly CountedShot[] | undefined) {
  const query = useMemo(() => {
    const asked = queryOf({ ...ask, view: "stretches" }, shots);
    return asked && { ...asked, measures: FEW_MEASURES[0], curves: PATH_CURVES.join(",") };
  }, [ask, shots]);
  const { answer, fault } = useAnswer("get /api/comparison", query && { query }, KINDS);
  return {
    compared: useMemo(() => (answer === undefined ? undefined : fromJson<AnyComparison>(answer)), [answer]),
    fault,
  };
}
