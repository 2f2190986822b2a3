import { fromJson, type ShotAgainstUsual } from "@underfoot/compare";
import type { PlayerAxes } from "@underfoot/domain";
import { catalogueEntry } from "@underfoot/mechanics";
import type { ShotShape } from "@underfoot/protocol";
import type { ColumnKindId } from "@underfoot/report";
import { useMemo } from "react";
import type { CallFault } from "../../api/call.ts";
import { useAnswer } from "../../api/use-answer.ts";
import { conditionOfShot } from "../../compare/choose/shot-counts.ts";
import { sideText } from "../../compare/choose/side-query.ts";
import { FIRST_MEASURES } from "../first-measures.ts";
import { CURVE_OF_COLUMN } from "./usual-bands.ts";

/** How the shot stands to the other shots of its condition. */
export type UsualState =
  /** Intent, lie or session were not said: there is nothing to hold it against. */
  | { readonly kind: "no-condition" }
  | { readonly kind: "asking" }
  | { readonly kind: "fault"; readonly fault: CallFault; readonly again: () => void }
  | { readonly kind: "found"; readonly found: ShotAgainstUsual };

const KINDS = ["shot", "result", "setting"] as const;
/** Beside the first measures: the second coordinate of the usual spot on the sole. */
const SOLE_MEASURE = "lead.innerOuter.at.delivery";

/** @returns undefined for a file that is only looked at */
export function useUsual(
  shot: ShotShape | undefined,
  axes: PlayerAxes,
  columns: readonly ColumnKindId[],
): UsualState | undefined {
  const query = useMemo(() => questionOf(shot, axes, columns), [shot, axes, columns]);
  const { answer, fault, isBusy, again } = useAnswer("get /api/comparison", query && { query }, KINDS);
  const found = useMemo(
    () => (answer?.kind === "shot-usual" ? fromJson<ShotAgainstUsual>(answer) : undefined),
    [answer],
  );
  if (shot === undefined) return undefined;
  if (query === undefined) return { kind: "no-condition" };
  // The answer before this one may be of another shot.
  if (found?.shotId === shot.id) return { kind: "found", found };
  return fault === undefined || isBusy ? { kind: "asking" } : { kind: "fault", fault, again };
}

function questionOf(shot: ShotShape | undefined, axes: PlayerAxes, columns: readonly ColumnKindId[]) {
  if (shot?.intent === undefined || shot.lieName === undefined || shot.sessionId === undefined) return undefined;
  const condition = conditionOfShot({ ...shot, shotId: shot.id });
  return {
    a: sideText({ kind: "shots", asked: condition }),
    b: sideText({ kind: "shot", shotId: shot.id }),
    axes,
    measures: [...FIRST_MEASURES, SOLE_MEASURE].filter((id) => catalogueEntry(id) !== undefined).join(","),
    curves: columns.map((id) => CURVE_OF_COLUMN[id]).join(","),
  };
}
