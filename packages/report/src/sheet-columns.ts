import type { PlayerAxes } from "@underfoot/domain";
import type { Measure, Shot } from "@underfoot/mechanics";
import { type ColumnKind, type ColumnKindId, columnKind, MOST_COLUMNS, measureInColumn } from "./column-kinds.ts";
import { domainOutward, type ScaleDomain } from "./domain-outward.ts";
import { gainsAndLosses, type SpeedChange } from "./gains-and-losses.ts";
import { measureOf } from "./measure-of.ts";
import { goingBackStretches, motionThroughout, type Stretch, slowingStretches } from "./motion-words.ts";
import type { NumberText } from "./numbers.ts";
import type { SheetTime } from "./sheet-events.ts";
import { eventOf, msFromS, sampleAt, sFromMs } from "./shot-time.ts";
import { hasSlopeShare } from "./slope-words.ts";

/** The highest point of a column between start and finish; none where a gap may hide it. */
export interface ColumnPeak {
  readonly timeMs: number;
  /** Column's unit. */
  readonly value: number;
  readonly text: NumberText;
  /** Number for the mark beside the peak: "150". */
  readonly label: string;
  /** The sensor was at the end of its range there: draw it open and say "at least". */
  readonly isAtLeast: boolean;
  /** Why the time of the peak cannot be relied on, where the measure says so. */
  readonly why?: string;
}

/** A word at a place of a column. Place in this order; when two collide, leave out the later one. */
export interface ColumnNote {
  readonly kind: "peak" | "gain" | "loss" | "slope" | "word";
  readonly text: string;
  readonly timeMs: number;
  /** Column's unit. */
  readonly value: number;
}

/** One falling column of the sheet: everything needed to draw it. */
export interface SheetColumn {
  readonly id: ColumnKindId;
  readonly title: string;
  readonly unit: string;
  readonly token: ColumnKind["token"];
  readonly dash: readonly number[];
  /** Same length as the sheet's `timesMs`; column's unit; NaN in gaps. */
  readonly values: Readonly<Float64Array>;
  readonly sigmas: Readonly<Float64Array> | undefined;
  readonly domain: ScaleDomain;
  readonly zero: number;
  readonly zeroText: string;
  /** Slope share: hachured from zero to this value. Undefined on level axes, on the flat, and where there is none. */
  readonly base: { readonly value: number; readonly text: string } | undefined;
  readonly peak: ColumnPeak | undefined;
  /** Speed gained and lost by the push; only the column `push` has them. */
  readonly changes: readonly SpeedChange[];
  readonly notes: readonly ColumnNote[];
}

export interface ColumnsInput {
  readonly shot: Shot;
  readonly measures: readonly Measure[];
  readonly axes: PlayerAxes;
  readonly time: SheetTime;
  /** Samples [first, end) of the window. */
  readonly window: Stretch;
  readonly domains: Readonly<Partial<Record<ColumnKindId, ScaleDomain>>>;
}

/** The columns asked for, five at most; a column that this shot cannot have is left out. */
export function sheetColumns(input: ColumnsInput, ids: readonly ColumnKindId[]): readonly SheetColumn[] {
  return ids.slice(0, MOST_COLUMNS).flatMap((id) => {
    const column = sheetColumn(input, columnKind(id));
    return column === undefined ? [] : [column];
  });
}

function sheetColumn(input: ColumnsInput, kind: ColumnKind): SheetColumn | undefined {
  const { shot, axes, window } = input;
  const whole = kind.series(shot, axes);
  if (whole === undefined) return undefined;
  const values = whole.subarray(window.first, window.end);
  const baseValue = kind.base !== undefined && baseIsShown(kind, shot, axes) ? kind.base(shot, axes) : undefined;
  const base =
    baseValue === undefined ? undefined : { value: baseValue, text: `slope ${kind.write(baseValue).number}` };
  const sigmas = kind.sigmas?.(shot, axes);
  const peak = kind.peakId === undefined ? undefined : columnPeak(input, kind, whole, sigmas);
  const changes = kind.id === "push" ? gainsAndLosses(shot, axes, input.time.zero) : [];
  return {
    id: kind.id,
    title: kind.title,
    unit: kind.unit,
    token: kind.token,
    dash: kind.dash,
    values,
    sigmas: sigmas?.subarray(window.first, window.end),
    domain:
      input.domains[kind.id] ??
      domainOutward(values, baseValue === undefined ? [kind.zero] : [kind.zero, baseValue], kind.leastSpan),
    zero: kind.zero,
    zeroText: kind.zeroText,
    base,
    peak,
    changes,
    notes: columnNotes(input, kind, { whole, base, peak, changes }),
  };
}

function baseIsShown(kind: ColumnKind, shot: Shot, axes: PlayerAxes): boolean {
  return hasSlopeShare(shot, axes, kind.id === "ahead" ? "ahead" : "target");
}

/** Start to finish, or the window where one is missing. */
function peakSpan(input: ColumnsInput): Stretch {
  const start = eventOf(input.shot, "start");
  const finish = eventOf(input.shot, "finish");
  return {
    first: start ? sampleAt(input.shot, start.timeS) : input.window.first,
    end: finish ? sampleAt(input.shot, finish.timeS) + 1 : input.window.end,
  };
}

function columnPeak(
  input: ColumnsInput,
  kind: ColumnKind,
  whole: Readonly<Float64Array>,
  sigmas: Readonly<Float64Array> | undefined,
): ColumnPeak | undefined {
  const { shot, measures, axes, time } = input;
  const span = peakSpan(input);
  const measure = measureOf(measures, `${kind.peakId}.peak`, axes);
  if (measure?.isValid === false) return undefined;
  let at = -1;
  for (let i = span.first; i < span.end; i++) if (at < 0 ? !Number.isNaN(whole[i]!) : whole[i]! > whole[at]!) at = i;
  if (at < 0) return undefined;
  const known = measure === undefined ? undefined : measureInColumn(kind, shot, measure);
  const timeMeasure = measureOf(measures, `${kind.peakId}.peakTime`, axes);
  const isAtLeast = measure?.isAtLeast ?? isSaturatedNear(shot, at);
  const value = known?.value ?? whole[at]!;
  const text = kind.write(value, known?.sigma ?? sigmas?.[at], { isAtLeast });
  return {
    timeMs: timeMeasure?.isValid ? timeMeasure.value : msFromS(time.zero, at / shot.rateHz),
    value,
    text,
    label: text.number,
    isAtLeast,
    ...(timeMeasure?.why === undefined || timeMeasure.isValid ? {} : { why: timeMeasure.why }),
  };
}

/** The filter spreads a clipped sample over its neighbours: look 10 ms to both sides. */
function isSaturatedNear(shot: Shot, at: number): boolean {
  const reach = Math.ceil(0.01 * shot.rateHz);
  for (let i = Math.max(0, at - reach); i <= Math.min(shot.sampleCount - 1, at + reach); i++) {
    if (shot.isSaturated[i] === 1) return true;
  }
  return false;
}

interface Drawn {
  readonly whole: Readonly<Float64Array>;
  readonly base: SheetColumn["base"];
  readonly peak: ColumnPeak | undefined;
  readonly changes: readonly SpeedChange[];
}

function columnNotes(input: ColumnsInput, kind: ColumnKind, drawn: Drawn): readonly ColumnNote[] {
  const notes: ColumnNote[] = [];
  const { peak, base } = drawn;
  if (peak !== undefined) notes.push({ kind: "peak", text: peak.label, timeMs: peak.timeMs, value: peak.value });
  const at = (timeMs: number): number =>
    drawn.whole[sampleAt(input.shot, sFromMs(input.time.zero, timeMs))] ?? Number.NaN;
  for (const change of drawn.changes) {
    if (change.isShown) {
      notes.push({ kind: change.kind, text: change.text, timeMs: change.middleMs, value: at(change.middleMs) });
    }
  }
  if (base !== undefined) notes.push({ kind: "slope", text: base.text, timeMs: input.time.endMs, value: base.value });
  for (const word of columnWords(input, kind)) notes.push({ kind: "word", ...word, value: at(word.timeMs) });
  return notes;
}

/** Words beside the curve, only where the speed allows them. */
function columnWords(
  { shot, axes, time }: ColumnsInput,
  kind: ColumnKind,
): readonly { readonly text: string; readonly timeMs: number }[] {
  const middleMs = ({ first, end }: Stretch): number => msFromS(time.zero, (first + end) / 2 / shot.rateHz);
  if (kind.id === "push") {
    const longest = [...slowingStretches(shot, axes)].sort((a, b) => b.end - b.first - (a.end - a.first))[0];
    return longest === undefined ? [] : [{ text: "slowing, not going back", timeMs: middleMs(longest) }];
  }
  if (kind.id !== "speed") return [];
  const back = goingBackStretches(shot, axes).map((stretch) => ({ text: "going back", timeMs: middleMs(stretch) }));
  const impact = eventOf(shot, "impact");
  const finish = eventOf(shot, "finish");
  if (impact === undefined || finish === undefined) return back;
  const thirdS = impact.timeS + (finish.timeS - impact.timeS) / 3;
  return motionThroughout(shot, axes, impact.timeS, thirdS) === "to-target"
    ? [{ text: "still to target", timeMs: msFromS(time.zero, thirdS) }, ...back]
    : back;
}
