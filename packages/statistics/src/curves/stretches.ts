import type { Values } from "../samples.ts";

/** Runs closer than this are one (own choice). */
const JOINED_BELOW_MS = 4;

/** Where two mean curves differ beyond scatter. Times in ms, or numbers of points where the curve has no grid. */
export interface CurveStretch {
  readonly fromMs: number;
  readonly toMs: number;
  readonly firstPoint: number;
  readonly lastPoint: number;
  readonly side: "above" | "below";
  /** Largest difference in it, its simultaneous interval, and when; unit of the measure. */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  readonly atMs: number;
  /** Smallest adjusted p in it. */
  readonly p: number;
}

/** What decides at each point, and what a stretch tells. */
export interface StretchInput {
  /** How far a point is beyond, 0 at the limit, for differences above 0 and below 0; NaN where the point does not count. */
  readonly beyond: { readonly above: Values; readonly below: Values };
  readonly isBeyond: (q: number) => boolean;
  readonly difference: Values;
  readonly nullDifference?: Values | undefined;
  readonly low: Values;
  readonly high: Values;
  readonly p: Values;
  readonly grid: { readonly firstMs: number; readonly stepMs: number };
}

interface Run {
  readonly side: "above" | "below";
  readonly firstPoint: number;
  readonly lastPoint: number;
  readonly from: number;
  readonly to: number;
}

/** Where a straight line from inside (margin > 0) to outside crosses 0; `inside` itself at the end of the curve or beside a missing point. */
function crossing(margins: Values, inside: number, outside: number): number {
  const [here, there] = [margins[inside]!, margins[outside] ?? Number.NaN];
  if (!(there <= 0) || !(here > there)) return inside;
  return inside + ((outside - inside) * Math.max(here, 0)) / (Math.max(here, 0) - there);
}

function runsBeyond(input: StretchInput): readonly Run[] {
  const runs: Run[] = [];
  const sideOf = (q: number): Run["side"] => (input.beyond.above[q]! >= input.beyond.below[q]! ? "above" : "below");
  const count = input.p.length;
  for (let q = 0; q < count; q++) {
    if (!input.isBeyond(q)) continue;
    const side = sideOf(q);
    let last = q;
    while (last + 1 < count && input.isBeyond(last + 1) && sideOf(last + 1) === side) last++;
    const margins = input.beyond[side];
    runs.push({
      side,
      firstPoint: q,
      lastPoint: last,
      from: crossing(margins, q, q - 1),
      to: crossing(margins, last, last + 1),
    });
    q = last;
  }
  return runs;
}

function joined(runs: readonly Run[], stepMs: number): readonly Run[] {
  const kept: Run[] = [];
  for (const run of runs) {
    const before = kept.at(-1);
    const isClose = before?.side === run.side && (run.from - before.to) * stepMs < JOINED_BELOW_MS;
    if (before !== undefined && isClose) kept[kept.length - 1] = { ...before, lastPoint: run.lastPoint, to: run.to };
    else kept.push(run);
  }
  return kept;
}

/** The stretches in which every point is beyond on one side; ends between points by straight lines, to 1 ms; none dropped for shortness. */
export function stretchesBeyond(input: StretchInput): readonly CurveStretch[] {
  const { firstMs, stepMs } = input.grid;
  const timeOf = (place: number): number => Math.round(firstMs + place * stepMs);
  const sizeAt = (q: number): number => Math.abs(input.difference[q]! - (input.nullDifference?.[q] ?? 0));
  return joined(runsBeyond(input), stepMs).map((run) => {
    let [at, p] = [run.firstPoint, Number.POSITIVE_INFINITY];
    for (let q = run.firstPoint; q <= run.lastPoint; q++) {
      if (sizeAt(q) > sizeAt(at)) at = q;
      if (input.p[q]! < p) p = input.p[q]!;
    }
    return {
      fromMs: timeOf(run.from),
      toMs: timeOf(run.to),
      firstPoint: run.firstPoint,
      lastPoint: run.lastPoint,
      side: run.side,
      difference: input.difference[at]!,
      low: input.low[at]!,
      high: input.high[at]!,
      atMs: firstMs + at * stepMs,
      p,
    };
  });
}
