import { allColumns, type ComparisonOptions, curveColumn, type OutcomeName } from "@underfoot/compare";
import type { PlayerAxes, ShotsAsked } from "@underfoot/domain";
import type { WorkOptions } from "./compare-work.ts";
import { measureColumn } from "./hit-sessions.ts";

/** What every question may say. */
interface ViewAsk {
  /** turf where left out. */
  readonly axes?: PlayerAxes | undefined;
  /** Ids or columns; left out: every measure of the catalogue. */
  readonly measures?: readonly string[] | undefined;
  /** Names or columns of curves; left out: none. */
  readonly curves?: readonly string[] | undefined;
  readonly registration?: "impact" | "events" | undefined;
  /** The same seed gives the same answer; 1 where left out. */
  readonly seed?: number | undefined;
  /** How often these shots were looked at, this time included; 1 where left out. */
  readonly times?: number | undefined;
}

/** Side against side: A is the reference. A side that is one shot by its id is a shot, any other a condition. */
export interface ComparisonAsk extends ViewAsk {
  readonly a: ShotsAsked;
  readonly b: ShotsAsked;
  readonly withClusters?: boolean | undefined;
  /** Measures named before the session. */
  readonly primary?: readonly string[] | undefined;
  /** Smallest difference that would matter, set before, by measure. */
  readonly margins?: Readonly<Record<string, number>> | undefined;
  readonly purpose?: "lesson" | "study" | undefined;
  /** Looks that were planned at equal steps. */
  readonly isPlannedLook?: boolean | undefined;
}

export interface UsualAsk extends ViewAsk {
  readonly of: ShotsAsked;
  /** Id of a shot that is never one of the band's: the one that is judged by it. */
  readonly without?: string | undefined;
}

export interface BoardAsk extends Omit<ViewAsk, "measures" | "curves"> {
  readonly of: ShotsAsked;
  readonly measure: string;
  readonly curve?: string | undefined;
  readonly purpose?: "lesson" | "study" | undefined;
}

export interface OutcomeAsk extends Omit<ViewAsk, "curves" | "registration"> {
  readonly of: ShotsAsked;
  readonly outcome: OutcomeName;
}

/** Several players; only those who agreed to studies are counted. */
export interface StudyAsk extends ViewAsk {
  readonly a: ShotsAsked;
  readonly b: ShotsAsked;
  /** Keeps the number of the shot in the model: learning, tiring. */
  readonly withShotNumber?: boolean | undefined;
}

/** What the sessions give: how the order was drawn, and what was asked of measures. */
export type Design = Pick<ComparisonOptions, "asked" | "plan">;

const DEFAULT_SEED = 1;

/** Columns in the axes asked for. */
export function viewOf(ask: ViewAsk) {
  const { axes = "turf", measures, curves = [], registration = "impact", seed = DEFAULT_SEED, times = 1 } = ask;
  return {
    ...{ axes, registration, seed, times },
    measures: measures?.map((name) => measureColumn(name, axes)),
    curves: curves.map((name) => curveColumn(name, axes)),
  };
}

export function comparisonOptions(ask: ComparisonAsk, design: Design): WorkOptions<"comparison"> {
  const { primary = [], margins = {}, withClusters = false, purpose = "lesson", isPlannedLook = false } = ask;
  const { times, ...view } = viewOf(ask);
  return {
    ...view,
    ...design,
    ...{ withClusters, purpose },
    primary: primary.map((name) => measureColumn(name, view.axes)),
    margins: new Map(Object.entries(margins).map(([name, margin]) => [measureColumn(name, view.axes), margin])),
    looks: { times, kind: isPlannedLook ? "planned" : "unplanned" },
  };
}

export function usualOptions(ask: ViewAsk, without?: string): WorkOptions<"usual"> {
  const { seed: _, ...view } = viewOf(ask);
  return { ...view, ...(without === undefined ? {} : { without }) };
}

export function boardOptions(
  ask: BoardAsk,
  design: Pick<Design, "plan"> & Pick<WorkOptions<"board">, "planned">,
): WorkOptions<"board"> {
  const { curves, measures: _, ...view } = viewOf({ ...ask, curves: ask.curve === undefined ? [] : [ask.curve] });
  const [curve] = curves;
  return {
    ...view,
    ...design,
    measure: measureColumn(ask.measure, view.axes),
    ...(curve === undefined ? {} : { curve }),
    purpose: ask.purpose ?? "lesson",
  };
}

export function outcomeOptions(ask: OutcomeAsk): WorkOptions<"outcome"> {
  const { axes, measures = allColumns(axes), seed, times } = viewOf(ask);
  return { outcome: ask.outcome, measures, seed, times };
}

export function studyOptions(ask: StudyAsk): WorkOptions<"study"> {
  const { measures, ...view } = viewOf(ask);
  return { ...view, measures: measures ?? allColumns(view.axes), withShotNumber: ask.withShotNumber ?? false };
}
