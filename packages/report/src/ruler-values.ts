import type { EventName, TurfPoint } from "@underfoot/domain";
import { type ColumnKindId, columnKind } from "./column-kinds.ts";
import { inMilliseconds, inNewtons, inPercent, inSeconds, type NumberText } from "./numbers.ts";
import type { SheetModel } from "./sheet-model.ts";
import type { FootPoint } from "./sheet-plan.ts";

/** A force along target and ahead, N. */
export interface PlanForce {
  readonly targetN: number;
  readonly aheadN: number;
}

/** One foot at the ruler. */
export interface RulerFoot {
  readonly foot: "lead" | "trail";
  readonly share: NumberText;
  /** Pressure, metres from the plan's middle; undefined where it is too light to place. */
  readonly cop: TurfPoint | undefined;
  /** The slope's part of this foot's push: its load share of the whole; zero on level axes. */
  readonly slope: PlanForce;
  /** What the player adds; may point back. */
  readonly player: PlanForce;
}

/** Everything the sheet shows at one instant. */
export interface RulerValues {
  readonly timeMs: number;
  /** Position in the sheet's columns. */
  readonly sample: number;
  /** "−62 ms", or "1.25 s" where no impact is known. */
  readonly timeText: string;
  /** The event at this sample, if any. */
  readonly event: EventName | undefined;
  readonly columns: readonly { readonly id: ColumnKindId; readonly value: number; readonly text: NumberText }[];
  readonly feet: readonly RulerFoot[];
  /** Combined pressure, metres from the plan's middle. */
  readonly cop: TurfPoint | undefined;
  /** Pressure in the lead sole. */
  readonly sole: FootPoint | undefined;
  /** For the slider: "minus 62 milliseconds, delivery, lead share 83 percent, push 135 newtons". */
  readonly ariaText: string;
}

/** Values at the sample nearest to a time; held inside the sheet. Cheap: called at each move of the pointer. */
export function rulerValues(model: SheetModel, timeMs: number): RulerValues {
  const sample = nearestSample(model, timeMs);
  const atMs = model.timesMs[sample] ?? Number.NaN;
  const event = eventAt(model, atMs);
  const columns = model.columns.map(({ id, values, sigmas }) => {
    const value = values[sample] ?? Number.NaN;
    return { id, value, text: columnKind(id).write(value, sigmas?.[sample]) };
  });
  const isFromImpact = model.time.zero.kind === "impact";
  const time = isFromImpact ? inMilliseconds(atMs) : inSeconds(atMs / 1000);
  return {
    timeMs: atMs,
    sample,
    timeText: time.text,
    event,
    columns,
    feet: model.feet.map((_, k) => rulerFoot(model, k, sample)),
    cop: trailPoint(model, "both", sample),
    sole: solePoint(model, sample),
    ariaText: ariaText(model, sample, time.spoken, event),
  };
}

function nearestSample(model: SheetModel, timeMs: number): number {
  const first = model.timesMs[0] ?? 0;
  const k = Math.round(((timeMs - first) * model.rateHz) / 1000);
  return Math.min(model.timesMs.length - 1, Math.max(0, k));
}

/** The event whose nearest sample this is. */
function eventAt(model: SheetModel, atMs: number): EventName | undefined {
  const halfMs = 500.001 / model.rateHz;
  return model.events.find((candidate) => Math.abs(candidate.timeMs - atMs) <= halfMs)?.event;
}

function trailPoint(model: SheetModel, foot: "both" | "lead" | "trail", sample: number): TurfPoint | undefined {
  const trail = model.plan.trails.find((candidate) => candidate.foot === foot);
  const targetM = trail?.targetM[sample] ?? Number.NaN;
  return Number.isNaN(targetM) ? undefined : { targetM, aheadM: trail?.aheadM[sample] ?? Number.NaN };
}

function solePoint(model: SheetModel, sample: number): FootPoint | undefined {
  if (model.sole.kind !== "traced") return undefined;
  const alongM = model.sole.alongM[sample] ?? Number.NaN;
  return Number.isNaN(alongM) ? undefined : { alongM, acrossM: model.sole.acrossM[sample] ?? Number.NaN };
}

function rulerFoot(model: SheetModel, k: number, sample: number): RulerFoot {
  const { foot, loadShare, pushTargetN, pushAheadN } = model.feet[k]!;
  const share = loadShare[sample] ?? Number.NaN;
  const slope = { targetN: model.slopeShareN.target * share, aheadN: model.slopeShareN.ahead * share };
  return {
    foot,
    share: inPercent(100 * share),
    cop: trailPoint(model, foot, sample),
    slope,
    player: { targetN: pushTargetN[sample]! - slope.targetN, aheadN: pushAheadN[sample]! - slope.aheadN },
  };
}

function ariaText(model: SheetModel, sample: number, spokenTime: string, event: EventName | undefined): string {
  const share = model.leadShare[sample] ?? Number.NaN;
  const parts = [spokenTime];
  if (event !== undefined) parts.push(event);
  if (Number.isFinite(share)) parts.push(`lead share ${inPercent(100 * share).spoken}`);
  const push = inNewtons(model.pushN[sample] ?? Number.NaN);
  parts.push(`push ${push.spoken}`);
  return parts.join(", ");
}
