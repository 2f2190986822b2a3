import type { PlayerAxes, PlayerVector } from "@underfoot/domain";
import type { FootSeries, Measure, Shot } from "@underfoot/mechanics";
import { type ColumnKindId, DEFAULT_COLUMNS } from "./column-kinds.ts";
import type { ScaleDomain } from "./domain-outward.ts";
import type { Stretch } from "./motion-words.ts";
import { type PeakStair, peakStair } from "./peak-stair.ts";
import { forceColumn, slopeShareN } from "./player-force.ts";
import { type SheetColumn, sheetColumns } from "./sheet-columns.ts";
import { type SheetEvent, type SheetTime, sheetEvents, sheetTime } from "./sheet-events.ts";
import { copTrails, type SheetFall, sheetFall } from "./sheet-fall.ts";
import { type SheetPlan, sheetPlan } from "./sheet-plan.ts";
import { type SheetTable, sheetTable } from "./sheet-table.ts";
import { msFromS, sampleAt, sFromMs } from "./shot-time.ts";
import { hasSlopeShare } from "./slope-words.ts";
import { type SoleView, soleView } from "./sole-view.ts";

export interface SheetOptions {
  readonly axes: PlayerAxes;
  /** Five at most, in order from left to right. Default travel, speed, push, ahead, up. */
  readonly columns?: readonly ColumnKindId[];
  /** Time shown, ms from impact. Default 150 ms before start to 150 ms after finish. */
  readonly startMs?: number;
  readonly endMs?: number;
  /** Scales of the session, so that shots can be compared by eye. Default: this shot's, rounded outward. */
  readonly domains?: Readonly<Partial<Record<ColumnKindId, ScaleDomain>>>;
  /** Arrow scale of the session, N per metre of the plan. */
  readonly arrowNPerM?: number;
}

/** What one foot does to the ground over the window, for the arrows and the numbers by the feet. */
export interface SheetFoot {
  readonly foot: "lead" | "trail";
  /** Share of the load, 0..1. */
  readonly loadShare: Readonly<Float64Array>;
  readonly pushTargetN: Readonly<Float64Array>;
  readonly pushAheadN: Readonly<Float64Array>;
}

/** One shot as a sheet: plain data for drawing, without DOM and without colours other than the names of tokens. */
export interface SheetModel {
  readonly axes: PlayerAxes;
  /** What the axes mean here and what became of the slope's share. */
  readonly caption: string;
  readonly time: SheetTime;
  /** Times of the window's samples, ms from the zero; every column has the same length. */
  readonly timesMs: Readonly<Float64Array>;
  readonly rateHz: number;
  readonly events: readonly SheetEvent[];
  readonly columns: readonly SheetColumn[];
  readonly stair: PeakStair | undefined;
  readonly fall: SheetFall;
  readonly plan: SheetPlan;
  readonly sole: SoleView;
  readonly table: SheetTable;
  readonly feet: readonly SheetFoot[];
  /** Total push to the target over the window, N, and its one sigma: what a screen reader is told. */
  readonly pushN: Readonly<Float64Array>;
  /** Lead share 0..1; NaN where not known. */
  readonly leadShare: Readonly<Float64Array>;
  /** Slope share of the total force on these axes, N; one foot's is this times its load share. */
  readonly slopeShareN: PlayerVector;
}

/**
 * The page model of one shot.
 * @param measures  of the same shot, both axes; may be empty: what needs them is then written without uncertainty
 */
export function sheetModel(shot: Shot, measures: readonly Measure[], options: SheetOptions): SheetModel {
  const { axes } = options;
  const time = sheetTime(shot, options);
  const events = sheetEvents(shot, time);
  const window: Stretch = {
    first: sampleAt(shot, sFromMs(time.zero, time.startMs)),
    end: sampleAt(shot, sFromMs(time.zero, time.endMs)) + 1,
  };
  const timesMs = new Float64Array(window.end - window.first);
  for (let k = 0; k < timesMs.length; k++) timesMs[k] = msFromS(time.zero, (window.first + k) / shot.rateHz);
  const cut = (column: Readonly<Float64Array>): Readonly<Float64Array> => column.subarray(window.first, window.end);
  const feet = (["lead", "trail"] as const).flatMap((foot) => {
    const series = shot[foot];
    return series === undefined ? [] : [sheetFoot(shot, foot, series, { axes, cut })];
  });
  const input = { shot, measures, axes, time, window, events };
  const trails = copTrails(shot, window);
  const largestPushN = Math.max(0, ...feet.map(largestPush));
  const plan = sheetPlan({ shot, window, timesMs, trails, largestPushN, arrowNPerM: options.arrowNPerM });
  const columns = sheetColumns({ ...input, domains: options.domains ?? {} }, options.columns ?? DEFAULT_COLUMNS);
  return {
    axes,
    caption: axesCaption(shot, axes),
    time,
    timesMs,
    rateHz: shot.rateHz,
    events,
    columns,
    stair: peakStair(shot, measures, axes, time.zero),
    fall: sheetFall({ ...input, trails, extent: plan.extent, soles: plan.soles }),
    plan,
    sole: soleView(input),
    table: sheetTable(input, columns),
    feet,
    pushN: cut(forceColumn(shot, shot.both, axes, "target")),
    leadShare: cut(shot.leadShare),
    slopeShareN: shownSlopeShareN(shot, axes),
  };
}

function sheetFoot(
  shot: Shot,
  foot: "lead" | "trail",
  series: FootSeries,
  {
    axes,
    cut,
  }: { readonly axes: PlayerAxes; readonly cut: (column: Readonly<Float64Array>) => Readonly<Float64Array> },
): SheetFoot {
  const share = cut(shot.leadShare);
  return {
    foot,
    loadShare: foot === "lead" ? share : share.map((lead) => 1 - lead),
    pushTargetN: cut(forceColumn(shot, series, axes, "target")),
    pushAheadN: cut(forceColumn(shot, series, axes, "ahead")),
  };
}

function largestPush({ pushTargetN, pushAheadN }: SheetFoot): number {
  let largest = 0;
  for (let k = 0; k < pushTargetN.length; k++) {
    const size = Math.hypot(pushTargetN[k]!, pushAheadN[k]!);
    if (size > largest) largest = size;
  }
  return largest;
}

/** Slope share along the axes on which the lie is tilted beyond its uncertainty; a flat lie has none. */
function shownSlopeShareN(shot: Shot, axes: PlayerAxes): PlayerVector {
  const share = slopeShareN(shot, axes);
  return {
    target: hasSlopeShare(shot, axes, "target") ? share.target : 0,
    ahead: hasSlopeShare(shot, axes, "ahead") ? share.ahead : 0,
    up: share.up,
  };
}

/** Which axes these are, and where the slope's share is. */
function axesCaption(shot: Shot, axes: PlayerAxes): string {
  if (!shot.isLieKnown) {
    return `${axes === "turf" ? "Turf" : "Level"} axes. The lie is not known: flat is assumed, no slope share is shown.`;
  }
  const isSloped = hasSlopeShare(shot, "turf", "target") || hasSlopeShare(shot, "turf", "ahead");
  if (!isSloped) return `${axes === "turf" ? "Turf" : "Level"} axes.`;
  return axes === "turf"
    ? "Turf axes: along the slope. Hachured: the slope’s share, what gravity alone gives."
    : "Level axes: square to gravity. On these the slope has no share.";
}
