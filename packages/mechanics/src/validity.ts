import type { QuantityName } from "./catalogue-words.ts";
import { WHY } from "./estimate.ts";
import type { FootSeries, Shot } from "./shot.ts";
import type { Moment } from "./shot-moments.ts";

/** Measures that mean something only with a CoP good enough to be drawn. */
const NEEDS_COP: ReadonlySet<string> = new Set(["heelToe", "innerOuter", "margin", "copTarget", "copAhead", "cop"]);
const NEEDS_SOLE: ReadonlySet<string> = new Set(["heelToe", "innerOuter", "margin"]);
/** Made of both plates at one time: withheld where their clocks are too far apart. */
const NEEDS_ONE_CLOCK: ReadonlySet<string> = new Set(["copTarget", "copAhead", "cop", "couple", "turn"]);
const NEEDS_PAIR: ReadonlySet<string> = new Set(["lead.share", "both.couple"]);

function parts(quantity: QuantityName): readonly ["lead" | "trail" | "both", string] {
  return quantity.split(".") as ["lead" | "trail" | "both", string];
}

/** Why a quantity cannot be formed in this shot at all; undefined: it can. */
export function whyNotFormed(quantity: QuantityName, shot: Shot): string | undefined {
  const [place, what] = parts(quantity);
  if (NEEDS_PAIR.has(quantity) && (shot.lead === undefined || shot.trail === undefined)) return WHY.noPair;
  if (place !== "both" && shot[place] === undefined) return WHY.noPair;
  if (place !== "both" && NEEDS_SOLE.has(what) && shot.soles[place] === undefined) return WHY.notTraced;
  if (NEEDS_ONE_CLOCK.has(what)) {
    if (shot.isClockWithheld) return WHY.clocks;
    if (arePlacesUnknown(shot)) return WHY.places;
  }
  return undefined;
}

/** The shot withholds the combined CoP although both wrenches are there: nobody knows where the plates lie. */
function arePlacesUnknown({ both, address }: Shot): boolean {
  const middle = Math.floor((address.first + address.end - 1) / 2);
  const isThere = both.isLoaded[middle] === 1 && Number.isFinite(both.wrench.bTargetNm[middle]);
  return isThere && Number.isNaN(both.copTargetM[middle]);
}

function seriesOf(quantity: QuantityName, shot: Shot): FootSeries | undefined {
  return shot[parts(quantity)[0]];
}

/** Whether the CoP that a quantity needs is good enough there; in the quiet stance: for most of the window. */
export function whyNotTrusted(
  quantity: QuantityName,
  shot: Shot,
  moment: Moment,
  isAddress: boolean,
): string | undefined {
  if (!NEEDS_COP.has(parts(quantity)[1])) return undefined;
  const series = seriesOf(quantity, shot);
  if (series === undefined) return WHY.noPair;
  if (!isAddress) return whyUntrustedIn(quantity, shot, Math.round(moment.position), Math.round(moment.position) + 1);
  const { first, end } = shot.address;
  let trusted = 0;
  for (let i = first; i < end; i++) trusted += series.isTrusted[i]!;
  return 2 * trusted > end - first ? undefined : WHY.light;
}

/** "foot too light" where a sample of [first, end) has a CoP that is not good enough; a gap is left for others to name. */
export function whyUntrustedIn(quantity: QuantityName, shot: Shot, first: number, end: number): string | undefined {
  const series = seriesOf(quantity, shot);
  if (series === undefined) return WHY.noPair;
  for (let i = Math.max(0, first); i < Math.min(shot.sampleCount, end); i++) {
    if (series.isTrusted[i] === 0 && Number.isFinite(series.wrench.upN[i]! + series.wrench.turnNm[i]!))
      return WHY.light;
  }
  return undefined;
}
