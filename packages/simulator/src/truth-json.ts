import type { Samples } from "@underfoot/domain";
import type { ShotTruth } from "./shot-truth.ts";

/** Curves are written every 5 ms. */
const STEP_S = 0.005;
const DIGITS = 9;

function rounded(value: number): number | null {
  return Number.isFinite(value) ? Number(value.toPrecision(DIGITS)) : null;
}

/** A copy in which numbers have 9 digits, columns every `step`-th sample, and what is not a number is null. */
function plain(value: unknown, step: number): unknown {
  if (typeof value === "number") return rounded(value);
  if (value instanceof Float64Array) {
    const column: Samples = value;
    return Array.from({ length: Math.ceil(column.length / step) }, (_, i) => rounded(column[i * step]!));
  }
  if (Array.isArray(value)) return value.map((item: unknown) => plain(item, step));
  if (typeof value === "object" && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([name, item]) => [name, plain(item, step)]));
  }
  return value;
}

/**
 * The text of a shot's `truth.json`: events, curves of every quantity without sensor errors each 5 ms, measures, what
 * the sensors are wrong by and the faults put in. Names carry their units; the lengths of all curves are equal.
 */
export function truthJson(truth: ShotTruth): string {
  const { timeS } = truth.curves;
  const sampleS = timeS.length > 1 ? timeS[1]! - timeS[0]! : STEP_S;
  const step = Math.max(1, Math.round(STEP_S / sampleS));
  const document = {
    underfoot: "truth",
    version: 1,
    about: "Simulated: invented player, invented shot. No sensor error is in these numbers.",
    curveStepS: rounded(step * sampleS),
    ...(plain(truth, step) as Record<string, unknown>),
  };
  return `${JSON.stringify(document)}\n`;
}
