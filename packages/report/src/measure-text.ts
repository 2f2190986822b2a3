import { catalogueEntry, type Measure } from "@underfoot/mechanics";
import { writerOfUnit } from "./unit-text.ts";

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

const NOT_GIVEN = "not given";

/** A measure as title, value with unit, uncertainty to one figure, slope share, or the reason why there is none. */
export function measureText(measure: Measure): MeasureText {
  const title = catalogueEntry(measure.id)?.title ?? measure.id;
  const bare = { id: measure.id, title, unit: measure.unit };
  if (!measure.isValid) return { ...bare, text: NOT_GIVEN, number: "–", why: measure.why ?? "not valid" };
  if (measure.text !== undefined) return { ...bare, text: measure.text, number: measure.text };
  const write = writerOfUnit(measure.unit);
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
