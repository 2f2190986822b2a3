import type { EventName, Foot, PlayerAxes } from "@underfoot/domain";
import type { FootSeries, Measure, Shot } from "@underfoot/mechanics";
import { validMeasureOf } from "./measure-of.ts";
import type { Stretch } from "./motion-words.ts";
import { inPercent } from "./numbers.ts";
import type { SheetEvent, SheetTime } from "./sheet-events.ts";
import type { CopTrail, PlanExtent, PlanSole } from "./sheet-plan.ts";
import { msFromS, sampleAt, sFromMs } from "./shot-time.ts";
import { signedMs } from "./time-text.ts";

/** A stretch in which a foot is too light to place is told from this length on, s. Ours. */
const TOLD_S = 0.02;

/** The lead share at an event, written beside the falling pressure. */
export interface ShareLabel {
  readonly event: EventName;
  readonly timeMs: number;
  /** "60 % lead at address", "83 %". */
  readonly text: string;
  /** Where the combined pressure is then, metres from the plan's middle; NaN where it is not known. */
  readonly atM: number;
}

/** Pressure along the target line, falling with time on the plan's own scale. */
export interface SheetFall {
  /** Combined, lead and trail; metres from the plan's middle. */
  readonly trails: readonly CopTrail[];
  readonly minTargetM: number;
  readonly maxTargetM: number;
  /** Where the feet stand, for the pale strips. */
  readonly feet: readonly { readonly foot: Foot; readonly fromM: number; readonly toM: number }[];
  readonly shareLabels: readonly ShareLabel[];
  /** "trail foot too light to place after +90 ms", "no data from the lead plate from −40 to −28 ms". */
  readonly notes: readonly string[];
}

/** CoP of lead, trail and both over the window, from the plan's middle; NaN where it is not to be trusted. */
export function copTrails(shot: Shot, window: Stretch): readonly CopTrail[] {
  const feet: readonly [CopTrail["foot"], FootSeries | undefined][] = [
    ["both", shot.isClockWithheld ? undefined : shot.both],
    ["lead", shot.lead],
    ["trail", shot.trail],
  ];
  return feet.flatMap(([foot, series]) => {
    if (series === undefined) return [];
    const targetM = new Float64Array(window.end - window.first);
    const aheadM = new Float64Array(targetM.length);
    for (let k = 0; k < targetM.length; k++) {
      const i = window.first + k;
      const isTrusted = series.isTrusted[i] === 1;
      targetM[k] = isTrusted ? series.copTargetM[i]! - shot.middle.targetM : Number.NaN;
      aheadM[k] = isTrusted ? series.copAheadM[i]! - shot.middle.aheadM : Number.NaN;
    }
    return [{ foot, targetM, aheadM }];
  });
}

export interface FallInput {
  readonly shot: Shot;
  readonly measures: readonly Measure[];
  readonly axes: PlayerAxes;
  readonly time: SheetTime;
  readonly window: Stretch;
  readonly events: readonly SheetEvent[];
  readonly trails: readonly CopTrail[];
  readonly extent: PlanExtent;
  readonly soles: readonly PlanSole[];
}

export function sheetFall(input: FallInput): SheetFall {
  const { extent, soles, trails, shot } = input;
  const feet = soles.map(({ foot, outline }) => ({
    foot,
    fromM: Math.min(...outline.map((point) => point.targetM)),
    toM: Math.max(...outline.map((point) => point.targetM)),
  }));
  const notes = (["lead", "trail"] as const).flatMap((foot) => {
    const series = shot[foot];
    return series === undefined ? [] : footNotes(input, foot, series);
  });
  return {
    trails,
    minTargetM: extent.minTargetM,
    maxTargetM: extent.maxTargetM,
    feet,
    shareLabels: shareLabels(input),
    notes: shot.isClockWithheld ? ["clocks too far apart: no combined pressure", ...notes] : notes,
  };
}

function shareLabels({ shot, measures, axes, time, window, events, trails }: FallInput): readonly ShareLabel[] {
  const both = trails.find((trail) => trail.foot === "both");
  return events.flatMap(({ event, timeMs }) => {
    const measure = validMeasureOf(measures, `lead.share.at.${event}`, axes);
    const i = sampleAt(shot, sFromMs(time.zero, timeMs));
    const sharePercent = measure?.value ?? 100 * (shot.leadShare[i] ?? Number.NaN);
    if (!Number.isFinite(sharePercent)) return [];
    const { text } = inPercent(sharePercent);
    const isAddress = event === "address";
    const shownMs = isAddress ? Math.max(timeMs, time.startMs) : timeMs;
    const k = sampleAt(shot, sFromMs(time.zero, shownMs)) - window.first;
    return [
      {
        event,
        timeMs: shownMs,
        text: isAddress ? `${text} lead at address` : text,
        atM: both?.targetM[k] ?? Number.NaN,
      },
    ];
  });
}

/** What is missing of a foot's pressure, and why. */
function footNotes({ shot, time, window }: FallInput, foot: Foot, series: FootSeries): readonly string[] {
  const notes: string[] = [];
  const state = (i: number): "placed" | "light" | "missing" =>
    Number.isNaN(series.wrench.upN[i]!) ? "missing" : series.isTrusted[i] === 1 ? "placed" : "light";
  let from = window.first;
  for (let i = window.first + 1; i <= window.end; i++) {
    if (i < window.end && state(i) === state(from)) continue;
    const isLong = i - from >= TOLD_S * shot.rateHz;
    const what = state(from);
    const ms = (sample: number): string => signedMs(msFromS(time.zero, sample / shot.rateHz));
    const span = i === window.end ? `after ${ms(from)} ms` : `from ${ms(from)} to ${ms(i)} ms`;
    if (what === "missing") notes.push(`no data from the ${foot} plate ${span}`);
    else if (what === "light" && isLong) notes.push(`${foot} foot too light to place ${span}`);
    from = i;
  }
  return notes;
}
