import { catalogueEntry, type Measure } from "@underfoot/mechanics";
import {
  asRatio,
  inBodyWeights,
  inDegrees,
  inMetresPerSecond,
  inMillimetres,
  inMilliseconds,
  inNewtonMetreSeconds,
  inNewtonMetres,
  inNewtonSeconds,
  inNewtons,
  inNewtonsPerSecond,
  inPercent,
  type NumberOptions,
  type NumberText,
} from "./numbers.ts";

/** A measure written for people. */
export interface MeasureText {
  readonly id: string;
  /** The catalogue's name: "Lead foot load share at delivery". */
  readonly title: string;
  /** "83.0 %", "at least 135 N", "target, ahead, up", or "not given". */
  readonly text: string;
  readonly number: string;
  readonly unit: string;
  /** "±0.9"; absent for text and where the value is not valid. */
  readonly plusMinus?: string;
  /** What gravity alone explains, with its unit: "68 N". */
  readonly slopeShare?: string;
  /** Why there is no value. */
  readonly why?: string;
}

type Writer = (value: number, sigma?: number, options?: NumberOptions) => NumberText;

/** How each unit of the catalogue is written. */
const WRITERS: Readonly<Record<string, Writer>> = {
  N: inNewtons,
  BW: inBodyWeights,
  ms: inMilliseconds,
  "%": inPercent,
  mm: (valueMm, sigmaMm, options) =>
    inMillimetres(valueMm / 1000, sigmaMm === undefined ? undefined : sigmaMm / 1000, options),
  "m/s": inMetresPerSecond,
  deg: inDegrees,
  "N m": inNewtonMetres,
  "N s": inNewtonSeconds,
  "N m s": inNewtonMetreSeconds,
  "N/s": inNewtonsPerSecond,
  "1": asRatio,
};

const NOT_GIVEN = "not given";

/** A measure as title, value with unit, uncertainty to one figure, slope share, or the reason why there is none. */
export function measureText(measure: Measure): MeasureText {
  const title = catalogueEntry(measure.id)?.title ?? measure.id;
  const bare = { id: measure.id, title, unit: measure.unit };
  if (!measure.isValid) return { ...bare, text: NOT_GIVEN, number: "–", why: measure.why ?? "not valid" };
  if (measure.text !== undefined) return { ...bare, text: measure.text, number: measure.text };
  const write = WRITERS[measure.unit] ?? asRatio;
  const { text, number, unit, plusMinus } = write(measure.value, measure.sigma, {
    isAtLeast: measure.isAtLeast ?? false,
  });
  const slopeShare = measure.slopeShare === undefined ? undefined : write(measure.slopeShare, measure.sigma).text;
  return {
    ...bare,
    text,
    number,
    unit,
    ...(plusMinus === undefined ? {} : { plusMinus }),
    ...(slopeShare === undefined ? {} : { slopeShare }),
  };
}
