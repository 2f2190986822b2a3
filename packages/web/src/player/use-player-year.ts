import { random } from "@underfoot/domain";
import type { CatalogueEntry } from "@underfoot/mechanics";
import type { LayoutShape, OutlineShape, PlayerShape, PointShape, SessionLineShape } from "@underfoot/protocol";
import { type PlayerYear, playerYear, type YearSession } from "@underfoot/report";
import { useMemo } from "react";
import type { CallFault } from "../api/call.ts";
import { useAnswer } from "../api/use-answer.ts";
import { POSSESSIVES } from "./pronoun-words.ts";

/** Stored with nothing, but the same on every machine: the orders that Mann-Kendall is counted from. */
const SEED = 20250101;
const MOST_SESSIONS = 500;

export interface PlayerYearState {
  readonly year: PlayerYear | undefined;
  readonly fault: CallFault | undefined;
  readonly isBusy: boolean;
  readonly again: () => void;
}

const dayOfMs = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

/** The shoes of the outline that was the latest on a day. */
function shoesOn(day: string, outlines: readonly OutlineShape[]): string | undefined {
  return outlines.find((outline) => outline.shoes !== undefined && dayOfMs(outline.createdMs) <= day)?.shoes;
}

function yearSession(
  { id, day, layoutId, asked = [] }: SessionLineShape,
  {
    outlines,
    layouts,
    measure,
  }: { outlines: readonly OutlineShape[]; layouts: readonly LayoutShape[]; measure: string },
): YearSession {
  return {
    id,
    day,
    layout: layouts.find((layout) => layout.id === layoutId)?.name,
    shoes: shoesOn(day, outlines),
    asked: asked.filter((one) => one.measure === measure),
  };
}

const shotOf = (point: PointShape) => ({
  ...point,
  value: point.value ?? Number.NaN,
  sigma: point.sigma ?? Number.NaN,
});

/** One measure of one player over the sessions, computed here from the stored results. */
export function usePlayerYear(
  player: PlayerShape,
  entry: CatalogueEntry,
  axes: "turf" | "level" | undefined,
): PlayerYearState {
  const kinds = ["shot", "result", "session", "layout", "player"] as const;
  const points = useAnswer("get /api/measures", { query: { measure: entry.id, axes, playerId: player.id } }, kinds);
  const sessions = useAnswer("get /api/sessions", { query: { playerId: player.id, limit: MOST_SESSIONS } }, kinds);
  const outlines = useAnswer("get /api/players/{id}/outlines", { params: { id: player.id } }, kinds);
  const layouts = useAnswer("get /api/layouts", {}, kinds);
  const all = [points, sessions, outlines, layouts];
  const year = useMemo(() => {
    if (!(points.answer && sessions.answer && outlines.answer && layouts.answer)) return undefined;
    const known = { outlines: outlines.answer, layouts: layouts.answer, measure: entry.id };
    return playerYear({
      entry,
      shots: points.answer.map(shotOf),
      sessions: sessions.answer.rows.map((session) => yearSession(session, known)),
      possessive: POSSESSIVES[player.pronoun],
      seed: SEED,
      streams: (seed, label) => random(seed, label),
    });
  }, [points.answer, sessions.answer, outlines.answer, layouts.answer, entry, player.pronoun]);
  return {
    year,
    fault: all.find(({ fault }) => fault !== undefined)?.fault,
    isBusy: all.some(({ isBusy }) => isBusy),
    again: () => {
      for (const { again } of all) again();
    },
  };
}
