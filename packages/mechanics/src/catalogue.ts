import type { EventName, PlayerAxes } from "@underfoot/domain";
import { type MeasureFamily, QUANTITY_WORDS, type QuantityName, type QuantityWords } from "./catalogue-words.ts";

/** The number taken from a curve, an event or a stretch of time. */
export type Statistic =
  | "at"
  | "peak"
  | "peakTime"
  | "min"
  | "minTime"
  | "impulse"
  | "rise"
  | "dip"
  | "range"
  | "path"
  | "duration"
  | "ratio"
  | "targetToAhead"
  | "aheadToUp"
  | "targetToUp"
  | "text"
  | "mean";

/** One measure of the catalogue. */
export interface CatalogueEntry {
  /** `<lead|trail|both>.<quantity>.<statistic>[.<event>]` */
  readonly id: string;
  readonly family: MeasureFamily;
  readonly quantity: QuantityName;
  readonly statistic: Statistic;
  /** Only where statistic is `at`. */
  readonly event: EventName | undefined;
  /** Of value, sigma and slope share: %, N, N s, N/s, N m, N m s, m/s, mm, deg, ms, 1, or empty for text. */
  readonly unit: string;
  /** A measure is given once for each: turf, level, or `undefined` where the axes make no difference. */
  readonly axes: readonly (PlayerAxes | undefined)[];
  /** For people, with a capital. */
  readonly title: string;
  readonly sentence: string;
  /** Digits after the point that the usual uncertainty justifies: a hint. */
  readonly decimals: number;
  /** Page of the method, from the repository's root. */
  readonly page: string;
  /** True where the value is a force that people also read in body weights (`bwFromN`). */
  readonly isForce: boolean;
}

const BOTH_AXES = ["turf", "level"] as const;
const LEVEL = ["level"] as const;
const TURF = ["turf"] as const;
const NO_AXES = [undefined] as const;

const STATISTIC_WORDS: Readonly<
  Record<Statistic, { readonly title: (label: string) => string; readonly sentence: string; readonly unit?: string }>
> = {
  at: { title: (label) => label, sentence: "" },
  peak: { title: (label) => `peak ${label}`, sentence: "Its largest value from start to finish." },
  peakTime: {
    title: (label) => `time of peak ${label}`,
    sentence: "When it is largest, from impact, - before.",
    unit: "ms",
  },
  min: { title: (label) => `smallest ${label}`, sentence: "Its smallest signed value from start to finish." },
  minTime: {
    title: (label) => `time of smallest ${label}`,
    sentence: "When it is smallest, from impact, - before.",
    unit: "ms",
  },
  impulse: {
    title: (label) => `impulse of ${label}`,
    sentence: "Less the quiet stance, integrated from top to impact.",
  },
  rise: {
    title: (label) => `fastest rise of ${label}`,
    sentence: "Rate of force development: its steepest 50 ms between top and impact.",
    unit: "N/s",
  },
  dip: {
    title: () => "unweighting",
    sentence: "How far it falls below the quiet stance between start and impact.",
    unit: "%",
  },
  range: { title: (label) => `range of ${label}`, sentence: "Largest less smallest from start to impact." },
  path: {
    title: (label) => `path of ${label}`,
    sentence: "Length of its way from start to impact, low-passed at 10 Hz.",
  },
  duration: { title: (label) => `${label} time`, sentence: "" },
  ratio: { title: (label) => `${label} ratio`, sentence: "" },
  targetToAhead: { title: () => "peak gap, target to ahead force", sentence: "" },
  aheadToUp: { title: () => "peak gap, ahead to up force", sentence: "" },
  targetToUp: { title: () => "peak gap, target to up force", sentence: "" },
  text: { title: (label) => label, sentence: "" },
  mean: { title: (label) => label, sentence: "" },
};

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function entry(
  quantity: QuantityName,
  statistic: Statistic,
  axes: readonly (PlayerAxes | undefined)[],
  event?: EventName,
): CatalogueEntry {
  const words: QuantityWords = QUANTITY_WORDS[quantity];
  const statisticWords = STATISTIC_WORDS[statistic];
  const unit = statistic === "impulse" ? `${words.unit} s` : (statisticWords.unit ?? words.unit);
  const family = unit === "N s" ? "impulse" : (FAMILY_OF[statistic] ?? words.family);
  return {
    id: [quantity, statistic, event].filter((part) => part !== undefined).join("."),
    family,
    quantity,
    statistic,
    event,
    unit,
    axes,
    title: capital(statisticWords.title(words.label) + (event === undefined ? "" : ` at ${event}`)),
    sentence: [words.sentence, statisticWords.sentence].filter((part) => part !== "").join(" "),
    decimals: decimalsOf(statistic, words),
    page: `docs/method/${family}.md`,
    isForce: unit === "N",
  };
}

/** Statistics with a page of their own, whatever the quantity's family. */
const FAMILY_OF: Partial<Record<Statistic, MeasureFamily>> = {
  rise: "rate-of-force-development",
  dip: "unweighting",
};

function decimalsOf(statistic: Statistic, words: QuantityWords): number {
  if (statistic === "peakTime" || statistic === "minTime" || statistic === "rise") return 0;
  if (statistic === "impulse" || statistic === "dip") return 1;
  return words.decimals;
}

function each(
  quantities: readonly QuantityName[],
  statistics: readonly Statistic[],
  axes: readonly (PlayerAxes | undefined)[],
): CatalogueEntry[] {
  return quantities.flatMap((quantity) => statistics.map((statistic) => entry(quantity, statistic, axes)));
}

function at(
  quantities: readonly QuantityName[],
  events: readonly EventName[],
  axes: readonly (PlayerAxes | undefined)[],
): CatalogueEntry[] {
  return quantities.flatMap((quantity) => events.map((event) => entry(quantity, "at", axes, event)));
}

const TOTAL_FORCES = ["both.target", "both.ahead", "both.up"] as const;
const FOOT_FORCES = [
  "lead.target",
  "lead.ahead",
  "lead.up",
  "trail.target",
  "trail.ahead",
  "trail.up",
] as const satisfies readonly QuantityName[];

/** Every measure that is made from a shot, in the order in which it is shown. Names, units and words come from here only. */
export const CATALOGUE: readonly CatalogueEntry[] = [
  ...at(["lead.share"], ["address", "start", "top", "delivery", "impact", "finish"], NO_AXES),
  ...each(["lead.share"], ["peak", "peakTime"], NO_AXES),
  ...at(["lead.load", "trail.load"], ["address", "impact"], NO_AXES),
  ...each(TOTAL_FORCES, ["peak", "peakTime", "min", "minTime"], BOTH_AXES),
  ...at(TOTAL_FORCES, ["top", "delivery", "impact"], BOTH_AXES),
  ...each(FOOT_FORCES, ["peak", "peakTime"], BOTH_AXES),
  ...each(TOTAL_FORCES, ["impulse"], BOTH_AXES),
  ...each(["both.up", "lead.up"], ["rise"], BOTH_AXES),
  ...each(["both.up"], ["dip"], TURF),
  ...at(["lead.heelToe"], ["address", "top", "delivery", "impact"], NO_AXES),
  ...at(["trail.heelToe"], ["address", "top"], NO_AXES),
  ...at(["lead.innerOuter"], ["address", "top", "delivery", "impact"], NO_AXES),
  ...at(["lead.margin"], ["delivery", "impact"], NO_AXES),
  ...at(["both.copTarget", "both.copAhead"], ["address", "top", "delivery", "impact"], NO_AXES),
  ...each(["both.copTarget", "both.copAhead"], ["range"], NO_AXES),
  ...each(["both.cop"], ["path"], NO_AXES),
  ...at(["both.leanTarget", "both.leanAhead"], ["address", "top", "delivery", "impact"], BOTH_AXES),
  ...at(["both.speedTarget"], ["top", "delivery", "impact"], BOTH_AXES),
  ...each(["both.speedTarget"], ["peak", "peakTime"], BOTH_AXES),
  ...at(["both.speedAhead"], ["top", "impact"], BOTH_AXES),
  ...at(["both.speedUp"], ["top", "impact"], LEVEL),
  ...at(["both.travelTarget"], ["top", "delivery", "impact", "finish"], BOTH_AXES),
  ...at(["both.travelAhead"], ["top", "impact"], BOTH_AXES),
  ...at(["both.travelUp"], ["top", "impact"], LEVEL),
  ...at(["both.turn"], ["delivery", "impact"], NO_AXES),
  ...each(["both.turn"], ["peak", "peakTime", "min", "impulse"], NO_AXES),
  ...at(["both.couple"], ["delivery", "impact"], NO_AXES),
  ...each(["both.couple", "lead.freeMoment", "trail.freeMoment"], ["peak"], NO_AXES),
  ...each(["lead.friction", "trail.friction"], ["peak"], NO_AXES),
  ...each(["both.backswing", "both.downswing"], ["duration"], NO_AXES),
  ...each(["both.tempo"], ["ratio"], NO_AXES),
  ...each(["both.peakGap"], ["targetToAhead", "aheadToUp", "targetToUp"], BOTH_AXES),
  ...each(["both.peakOrder"], ["text"], BOTH_AXES),
  ...each(["both.weight"], ["mean"], NO_AXES),
];

const BY_ID: ReadonlyMap<string, CatalogueEntry> = new Map(CATALOGUE.map((row) => [row.id, row]));

/** The entry of a measure; undefined for an id that is not in the catalogue. */
export function catalogueEntry(id: string): CatalogueEntry | undefined {
  return BY_ID.get(id);
}

/** A force in body weights: BW = N / W. */
export function bwFromN(forceN: number, weightN: number): number {
  return forceN / weightN;
}
