import type { Outcome, OutcomeMeasure } from "@underfoot/compare";
import { asRatio } from "@underfoot/report";

/** How closely a measure and a result go together, as a place on a scale from 0 to 1 whose middle is "not at all". */
export interface LinkNumber {
  readonly name: string;
  /** "−0.42 (−0.71 to −0.02)" */
  readonly text: string;
  readonly at: number;
  /** NaN where so few shots give no interval. */
  readonly low: number;
  readonly high: number;
  /** What the left end, the middle and the right end mean. */
  readonly ticks: readonly [string, string, string];
  readonly pText: string;
}

const pNumber = (p: number): string => (p < 0.001 ? "below 0.001" : p.toFixed(3));

function pWords({ p, adjustedP }: OutcomeMeasure, { looks }: Outcome): string {
  if (Number.isNaN(p)) return "";
  if (looks.countMeasures === 1) return `p ${pNumber(adjustedP)}, one measure looked at.`;
  return `p ${pNumber(p)} alone, ${pNumber(adjustedP)} after allowing for the ${looks.countMeasures} measures looked at.`;
}

/** @returns undefined where too few shots give no number */
export function linkNumber(outcome: Outcome, row: OutcomeMeasure): LinkNumber | undefined {
  const { correlation, area } = row;
  if (area !== undefined && area.kind !== "withheld") {
    const percent = (share: number): string => String(Math.round(100 * share));
    const { value, low, high } = area;
    return {
      name: "Share of pairs in which the mishit has the larger value",
      text: `${percent(value)} % (${percent(low)} to ${percent(high)} %)`,
      ...{ at: value, low, high },
      ticks: ["0 %: the clean shot", "50 %", "100 %: the mishit"],
      pText: pWords(row, outcome),
    };
  }
  if (correlation === undefined || correlation.kind === "withheld") return undefined;
  const { value, low, high } = correlation;
  const hasInterval = Number.isFinite(low) && Number.isFinite(high);
  const number = (rho: number): string => asRatio(rho, hasInterval ? (high - low) / 2 : 0.1).text;
  const at = (rho: number): number => (rho + 1) / 2;
  return {
    name: "Rank correlation within conditions",
    text: hasInterval
      ? `${number(value)} (${number(low)} to ${number(high)})`
      : `${number(value)}, no interval from so few`,
    ...{ at: at(value), low: at(low), high: at(high) },
    ticks: ["−1", "0", "+1"],
    pText: pWords(row, outcome),
  };
}
