import type { PlayerAxes } from "@underfoot/domain";
import type { ColumnKindId, SheetModel } from "@underfoot/report";
import { sheetModel } from "@underfoot/report";
import { useEffect, useMemo, useRef } from "react";
import { type Domains, widenedDomains } from "./session-domains.ts";
import type { GoodOutcome } from "./use-outcome.ts";

/** Arrows of all shots are drawn on one scale: 100 N are 5 cm of the plan. */
const ARROW_N_PER_M = 2000;

/** The sheet of a shot, on scales that only ever widen while shots of one player are looked at. */
export function useSheetModel(outcome: GoodOutcome, axes: PlayerAxes, columns: readonly ColumnKindId[]): SheetModel {
  const seen = useRef(new Map<string, Domains>());
  const player = outcome.facts.player ?? "";
  const { model, domains } = useMemo(() => {
    const { shot, measures } = outcome;
    const options = { axes, columns, arrowNPerM: ARROW_N_PER_M };
    const own = sheetModel(shot, measures, options);
    const wide = widenedDomains(seen.current.get(player) ?? {}, own.columns);
    return { model: sheetModel(shot, measures, { ...options, domains: wide }), domains: wide };
  }, [outcome, axes, columns, player]);
  useEffect(() => {
    seen.current.set(player, domains);
  }, [player, domains]);
  return model;
}
