import type { PlayerAxes } from "@underfoot/domain";
import type {
  Difference,
  Drift,
  EffectSize,
  Equivalence,
  ShotAgainstBand,
  Verdict,
  VerdictReason,
  Withheld,
} from "@underfoot/statistics";

/**
 * The mark of a row: `beyond` after allowing for all that was looked at; `beyond-alone` only if it had been the only one; `within` scatter;
 * `too-few` shots to tell, or counts that cannot show it; `none` where no verdict is given.
 */
export type Lozenge = "beyond" | "beyond-alone" | "within" | "too-few" | "none";

/** Named before the session, asked of the player, or merely looked at: each is corrected as a family of its own. */
export type FamilyName = "primary" | "asked" | "rest";

/** What all rows of a list have, whatever is compared. Unit of the measure. */
export interface RowOfMeasure {
  /** "both.target.peak turf" */
  readonly column: string;
  readonly measure: string;
  readonly axes: PlayerAxes | undefined;
  readonly title: string;
  readonly unit: string;
  readonly decimals: number;
}

/** One side of a row. Unit of the measure. */
export interface RowSide {
  readonly n: number;
  /** Shots of the side without a value. */
  readonly countMissing: number;
  /** NaN without a value; sd NaN below two. */
  readonly mean: number;
  readonly sd: number;
  /** Of the mean, 0.95; NaN below two. */
  readonly low: number;
  readonly high: number;
  /** Mean of what gravity alone explains; 0 where nothing. */
  readonly slopeShare: number;
  readonly sigmaShared: number;
  /** Of the side's own shots in their order; absent below 8. */
  readonly drift?: Drift;
}

/** What a verdict rests on. */
export interface Judgement {
  /** Less the slope's share, shot by shot; the same as `raw` within one lie. */
  readonly freed: Difference | Withheld;
  /** Two-sided, by the labellings of the plan; NaN where none was counted. */
  readonly p: number;
  /** After allowing for the family. */
  readonly adjustedP: number;
  readonly adjustedBy: "none" | "max-t" | "max-t-and-holm" | "holm";
  readonly pMethod: "exact" | "drawn" | "none";
  readonly countArrangements: number;
  readonly smallestP: number;
  readonly seed?: number;
  readonly verdict: Verdict;
  readonly reasons: readonly VerdictReason[];
  readonly lozenge: Lozenge;
}

/** A measure of condition against condition, B minus A. Unit of the measure where nothing else is said. */
export interface ComparedMeasure extends RowOfMeasure, Judgement {
  readonly kind: "conditions";
  readonly family: FamilyName;
  readonly a: RowSide;
  readonly b: RowSide;
  /** With the slope's share in it. */
  readonly raw: Difference | Withheld;
  /** The slope's share of the difference; 0 within one lie and in level axes. */
  readonly slopeShare: number;
  /** Of the difference: what all shots of a side share. 0 within one lie of one session. */
  readonly sigmaShared: number;
  /** In sds, without unit. */
  readonly effect: EffectSize | Withheld;
  /** Benjamini and Hochberg's q over the family `rest`; NaN elsewhere. A hint what to test, never a verdict. */
  readonly q: number;
  /** What two such means must differ by to leave scatter; NaN below two shots a side. */
  readonly mdc: number;
  /** Freed difference in steps of `mdc`: 1 or more leaves the grey block. */
  readonly steps: number;
  /** True difference that so many shots show with power 0.8; NaN below two shots a side. */
  readonly detectable: number;
  /** Where a margin was set before. */
  readonly equivalence?: Equivalence;
  /** Largest difference between two visits to one lie, which a difference between lies must exceed. */
  readonly visitDifference?: number;
  /** The same with the mishits; absent where there are none. */
  readonly withMishits?: Judgement & { readonly countA: number; readonly countB: number };
  readonly mishitsDecide: boolean;
}

/** A measure of one shot against the usual band of its condition. */
export interface ShotUsualRow extends RowOfMeasure {
  readonly kind: "shot-usual";
  readonly value: number;
  readonly sigma: number;
  readonly band: ShotAgainstBand | Withheld;
  /** Share of the value that gravity alone explains; 0 where nothing. */
  readonly slopeShare: number;
  /** From the band's mean in steps of half its width: 1 or more is outside. NaN without a band. */
  readonly steps: number;
}

/** A measure of two single shots, B minus A. Never a verdict. */
export interface ShotPairRow extends RowOfMeasure {
  readonly kind: "shot-pair";
  readonly a: number;
  readonly b: number;
  readonly difference: number;
  readonly slopeShare: number;
  readonly sigmaMeasurement: number;
  /** What two such shots usually differ by; absent without a band. */
  readonly mdcSingle?: number;
  /** Difference less its slope share in steps of `mdcSingle`; NaN without. */
  readonly steps: number;
  readonly verdict: "none";
}

export type MeasureRow = ComparedMeasure | ShotUsualRow | ShotPairRow;
