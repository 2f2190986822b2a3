import type { Board, BoardCell, UsualCurve } from "@underfoot/compare";
import type { CatalogueEntry } from "@underfoot/mechanics";
import { domainOutward, type ScaleDomain } from "@underfoot/report";
import type { Asked } from "./board-plan.ts";

/** A scale is at least this wide, by unit: small differences are not blown up (own choice). */
const LEAST_SPAN: Readonly<Record<string, number>> = {
  "%": 20,
  N: 40,
  "m/s": 0.2,
  mm: 40,
  "N m": 10,
  ms: 40,
  "1": 0.2,
};

const endsOf = (asked: readonly (Asked | undefined)[]): readonly number[] =>
  asked.flatMap((one) => [one?.least, one?.most].filter((end) => end !== undefined));

/** Whether what was asked of the measure can be drawn on the scale of its curve. */
export const isOnCurve = (board: Pick<Board, "unit">, curve: Pick<UsualCurve, "unit">): boolean =>
  board.unit === curve.unit;

/** One scale for all cells: of the curves where there are any, else of the values. */
export function boardScale(board: Board, asked: readonly (Asked | undefined)[]): ScaleDomain {
  const curves = board.cells.flatMap(({ curve }) => curve ?? []);
  const [first] = curves;
  const least = LEAST_SPAN[first?.unit ?? board.unit] ?? 1;
  if (first === undefined) {
    const values = board.cells.flatMap((cell) => [...cell.values, ...bandEnds(cell)]);
    return domainOutward(Float64Array.from(values), endsOf(asked), least);
  }
  const drawn = curves.flatMap(({ mean, low, high, singles = [] }) => [...mean, ...low, ...high, ...singles.flat()]);
  return domainOutward(Float64Array.from(drawn), isOnCurve(board, first) ? endsOf(asked) : [], least);
}

function bandEnds({ usual }: BoardCell): readonly number[] {
  return usual.kind === "band" ? [usual.low, usual.high] : [];
}

/** When the measure is taken, ms from impact: where its ask is drawn. Undefined where it is no single instant of the mean curve. */
export function askedAtMs(
  { statistic, event }: Pick<CatalogueEntry, "statistic" | "event">,
  { curve, eventsMs }: Pick<BoardCell, "curve" | "eventsMs">,
  { firstMs, stepMs }: Board["grid"],
): number | undefined {
  if (statistic === "at") return event === undefined ? undefined : eventsMs[event];
  if ((statistic !== "peak" && statistic !== "min") || curve === undefined) return undefined;
  const sign = statistic === "peak" ? 1 : -1;
  let best = -1;
  curve.mean.forEach((value, q) => {
    if (Number.isFinite(value) && (best < 0 || sign * value > sign * (curve.mean[best] ?? 0))) best = q;
  });
  return best < 0 ? undefined : firstMs + best * stepMs;
}

/** Colour and dashes of a curve, by what it shows: a foot, a direction, or both feet. */
export function lineOf(column: string): { readonly token: string; readonly dash: string | undefined } {
  const [place = "", quantity = ""] = column.split(" ")[0]?.split(".") ?? [];
  if (place === "lead") return { token: "lead", dash: undefined };
  if (place === "trail") return { token: "trail", dash: "8 5" };
  if (quantity === "ahead" || quantity.endsWith("Ahead")) return { token: "ahead", dash: "11 4 2 4" };
  if (quantity === "up" || quantity.endsWith("Up")) return { token: "up", dash: "16 5" };
  return { token: quantity === "target" || quantity.endsWith("Target") ? "target" : "both", dash: undefined };
}
