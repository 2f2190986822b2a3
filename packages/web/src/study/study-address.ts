import type { PlayerAxes } from "@underfoot/domain";
import { type SideQuery, sideFromText, sideText } from "../compare/choose/side-query.ts";
import { type LookedAt, lookedAtFrom, lookedAtQuery } from "../frame/looked-at.ts";

/** What a study is asked: two conditions over players, the measure in view, the curve beside it. */
export interface StudyAsk extends LookedAt {
  /** Absent: nothing chosen yet, or what the address says cannot be read. */
  readonly a: SideQuery | undefined;
  readonly b: SideQuery | undefined;
  /** Absent: the curve that the measure comes from. */
  readonly curve: string | undefined;
  readonly axes: PlayerAxes;
}

/** The measure that an address means which names none. */
export const FIRST_MEASURE = "both.up.peak";

function conditionFrom(text: string | undefined): SideQuery | undefined {
  const side = text === undefined ? undefined : sideFromText(text);
  return side?.kind === "shots" ? side : undefined;
}

/** What an address asks for; turf axes where it names none. */
export function studyAskFrom(query: Readonly<Record<string, string>>): StudyAsk {
  return {
    ...lookedAtFrom(query, FIRST_MEASURE),
    a: conditionFrom(query["a"]),
    b: conditionFrom(query["b"]),
    curve: query["curve"],
    axes: query["axes"] === "level" ? "level" : "turf",
  };
}

export function studyQuery(ask: StudyAsk): Record<string, string | undefined> {
  const { a, b, curve, axes } = ask;
  return { a: a && sideText(a), b: b && sideText(b), ...lookedAtQuery(ask), curve, axes };
}

/** Other conditions are looked at for the first time. */
export function withSides(ask: StudyAsk, a: SideQuery, b: SideQuery): StudyAsk {
  return { ...ask, a, b, measures: [ask.measure] };
}

/** The curve in view: the one asked for, else the one that the measure comes from, else the push to the target. */
export function curveOf({ curve, measure }: StudyAsk, known: readonly string[]): string {
  const own = known.find((id) => measure.startsWith(`${id}.`));
  return known.find((id) => id === curve) ?? own ?? "both.target";
}
