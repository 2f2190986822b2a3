import type { ShotFacts } from "@underfoot/domain";

/** What is proved before the first shot. */
export type PlateCheckKind = "zero" | "known-mass" | "quiet-lean" | "clocks" | "outlines";

/** What is known of the set-up; each check says which of it is wanted. A shot's facts will do. */
export type PlateCheckFacts = Partial<
  Pick<ShotFacts, "handed" | "target" | "up" | "lie" | "plates" | "padM" | "latitudeDeg" | "heightM">
>;

/** One number of a check against its limit. */
export interface PlateCheckPart {
  readonly name: string;
  /** Number in the recording, from 1; undefined where it concerns all. */
  readonly plate?: number;
  /** Largest deviation allowed and the one found, both 0 or more, in `unit`. */
  readonly allowed: number;
  readonly found: number;
  readonly unit: string;
  readonly isPassed: boolean;
  readonly sentence: string;
}

/** A check that was made. */
export interface PlateCheckResult {
  readonly parts: readonly PlateCheckPart[];
  /** Plain data, worth keeping: the measured zero, the windows used, the outlines. */
  readonly detail: unknown;
  /** What to do where it fails. */
  readonly remedy: string;
  /** More than the usual cautions. */
  readonly cautions?: readonly string[];
}

export type PlateCheckOutcome =
  | {
      readonly status: "ok";
      readonly kind: PlateCheckKind;
      readonly parts: readonly PlateCheckPart[];
      /** Of the part that is nearest to its limit or farthest beyond it. */
      readonly allowed: number;
      readonly found: number;
      readonly unit: string;
      readonly isPassed: boolean;
      readonly sentence: string;
      /** Empty where it passed. */
      readonly remedy: string;
      readonly cautions: readonly string[];
      readonly detail: unknown;
    }
  | {
      /** `needs-facts`: the recording may be sound, but something about the set-up was not said. */
      readonly status: "error" | "needs-facts";
      readonly kind: PlateCheckKind;
      readonly code: string;
      readonly sentence: string;
      readonly remedy: string;
      readonly cautions: readonly string[];
    };

/** A part from its numbers; a number that is missing does not pass. */
export function part(numbers: Omit<PlateCheckPart, "isPassed">): PlateCheckPart {
  return { ...numbers, isPassed: numbers.found <= numbers.allowed };
}

/** The outcome of a check's parts: the worst speaks for all. */
export function outcomeOf(
  kind: PlateCheckKind,
  { parts, detail, remedy, cautions: own = [] }: PlateCheckResult,
  cautions: readonly string[],
): PlateCheckOutcome {
  const worst = parts.reduce((a, b) => (burden(b) > burden(a) ? b : a));
  const failed = parts.filter(({ isPassed }) => !isPassed).length;
  const isPassed = failed === 0;
  const others =
    parts.length === 1 ? "" : isPassed ? `All ${parts.length} hold. ` : `${failed} of ${parts.length} fail. `;
  return {
    status: "ok",
    kind,
    parts,
    allowed: worst.allowed,
    found: worst.found,
    unit: worst.unit,
    isPassed,
    sentence: `${others}${worst.sentence}`,
    remedy: isPassed ? "" : remedy,
    cautions: [...cautions, ...own],
    detail,
  };
}

function burden({ found, allowed }: PlateCheckPart): number {
  const share = found / allowed;
  return Number.isNaN(share) ? Number.POSITIVE_INFINITY : share;
}
