import type { ShotPairRow, ShotUsualRow } from "@underfoot/compare";
import { differenceText, type Sentence, unitText } from "@underfoot/report";

/** A row of the list of measures in words. */
export interface RowWords {
  /** "84 to 76 %" */
  readonly values: string;
  /** What is hers of the difference: "−8 points"; empty where it cannot be said. */
  readonly difference: string;
  /** "−12 to −4 points"; empty where there is none. */
  readonly interval: string;
  /** "slope +68 N"; empty where gravity has no part. */
  readonly slope: string;
  /** Of the mark, for those who do not see it; empty where no verdict is given. */
  readonly verdict: string;
  readonly sentence: Sentence | undefined;
}

/** "84 to 76 %": two values that share a unit. */
export function fromTo(a: string, b: string, unit: string): string {
  const tail = ` ${unit}`;
  return a.endsWith(tail) && b.endsWith(tail) ? `${a.slice(0, -tail.length)} to ${b}` : `${a} to ${b}`;
}

const signed = (value: number, text: string): string => (value > 0 && /[1-9]/.test(text) ? `+${text}` : text);

const shareWords = (slopeShare: number, unit: string, resolution: number): string =>
  slopeShare === 0 || Number.isNaN(slopeShare)
    ? ""
    : `slope ${signed(slopeShare, differenceText(slopeShare, unit, resolution).text)}`;

function apartWords(difference: number, unit: string, resolution: number): string {
  return Number.isNaN(difference) ? "" : signed(difference, differenceText(difference, unit, resolution).text);
}

const valueWords = (value: number, unit: string, resolution: number): string =>
  Number.isNaN(value) ? "not known" : unitText(value, unit, resolution).text;

/** Numbers of two shots. No verdict. */
export function pairWords({ a, b, unit, difference, slopeShare, sigmaMeasurement, mdcSingle }: ShotPairRow): RowWords {
  return {
    values: fromTo(valueWords(a, unit, sigmaMeasurement), valueWords(b, unit, sigmaMeasurement), unit),
    difference: apartWords(difference - slopeShare, unit, sigmaMeasurement),
    interval: mdcSingle === undefined ? "" : `two shots vary by ${differenceText(mdcSingle, unit, mdcSingle).text}`,
    slope: shareWords(slopeShare, unit, sigmaMeasurement),
    verdict: "",
    sentence: undefined,
  };
}

/** Numbers of a shot with what is usual. */
export function usualWords({ value, unit, band, sigma, slopeShare, steps }: ShotUsualRow): RowWords {
  const slope = shareWords(slopeShare, unit, sigma);
  const values = valueWords(value, unit, sigma);
  if (band.kind === "withheld")
    return { values, slope, difference: "", interval: "", verdict: "too few to tell", sentence: undefined };
  return {
    ...{ values, slope, sentence: undefined },
    difference: apartWords(value - slopeShare - band.mean, unit, sigma),
    interval: `usual ${fromTo(valueWords(band.low, unit, sigma), valueWords(band.high, unit, sigma), unit)}`,
    verdict: Math.abs(steps) >= 1 ? "outside the usual band" : "usual",
  };
}
