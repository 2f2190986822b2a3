import {
  type Difference,
  type DrawOptions,
  equivalence,
  holm,
  levelOfLook,
  maxTFamily,
  type PermutationP,
  pairedDifference,
  permutationP,
  type Streams,
  smallestFreeP,
  streamLabel,
  studentQuantile,
  studentTwoSidedP,
  type VerdictReason,
  verdictOf,
  visitScatter,
  type Withheld,
  welch,
} from "@underfoot/statistics";
import { type ColumnValues, isOverSessions, meanOfKnown, sideOf } from "./column-values.ts";
import type { Design } from "./design.ts";
import type { Judgement, Lozenge } from "./measure-row.ts";
import { isScatterUneven } from "./unequal-scatter.ts";

/** Least shots a side for a difference (statistics asks the same of Welch). */
const LEAST_FOR_DIFFERENCE = 3;

/** What all families of a comparison share. */
export interface JudgeOptions {
  readonly seed: number;
  readonly streams: Streams;
  readonly nameA: string;
  readonly nameB: string;
  readonly looks: { readonly countMeasures: number; readonly countPairs: number; readonly times: number };
  /** True where the looks were planned at equal steps. */
  readonly isPlannedLook: boolean;
  readonly margins: ReadonlyMap<string, number>;
}

/** p values of a family: of each measure alone, and after allowing for all of them. */
export interface FamilyP {
  readonly p: number;
  readonly adjustedP: number;
  readonly adjustedBy: Judgement["adjustedBy"];
  readonly pMethod: Judgement["pMethod"];
  readonly countArrangements: number;
  readonly smallestP: number;
  readonly seed?: number;
}

const NO_P: FamilyP = {
  p: Number.NaN,
  adjustedP: Number.NaN,
  adjustedBy: "none",
  pMethod: "none",
  countArrangements: 0,
  smallestP: 1,
};

/** Values that are exchanged, with their labels: shots, or the means of visits. */
interface Exchangeable {
  readonly groups: Uint8Array<ArrayBuffer>;
  readonly blocks?: Int32Array<ArrayBuffer>;
  readonly columns: readonly Float64Array<ArrayBuffer>[];
}

/** Each value less the mean of its pair: then Welch's t over labels within pairs orders as the t of the paired differences under sign flips. */
function lessPairMean(values: Float64Array<ArrayBuffer>, blocks: Int32Array): Float64Array<ArrayBuffer> {
  return values.map((value, k) => value - meanOfPair(values, blocks, blocks[k]!));
}

function meanOfPair(values: Float64Array, blocks: Int32Array, block: number): number {
  const pair = values.filter((_, k) => blocks[k] === block);
  return pair.reduce((sum, value) => sum + value, 0) / pair.length;
}

function exchangeable(design: Design, columns: readonly ColumnValues[]): Exchangeable {
  const { groups, blocks, visits } = design;
  if (design.kind === "visits") {
    const names = [...new Set(visits)];
    return {
      groups: Uint8Array.from(names, (name) => groups[visits.indexOf(name)] ?? 0),
      columns: columns.map(({ freed }) =>
        Float64Array.from(names, (name) => meanOfKnown(freed.filter((_, k) => visits[k] === name))),
      ),
    };
  }
  if (design.kind === "paired" && blocks !== undefined)
    return { groups, blocks, columns: columns.map(({ exchanged }) => lessPairMean(exchanged, blocks)) };
  return { groups, ...(blocks === undefined ? {} : { blocks }), columns: columns.map(({ exchanged }) => exchanged) };
}

/** p of a measure that has missing values, by its own labellings. */
function ownP({ groups, blocks }: Exchangeable, values: Float64Array<ArrayBuffer>, options: DrawOptions): PermutationP {
  const kept = Array.from(values.keys()).filter((k) => !Number.isNaN(values[k]!));
  const labelled = {
    groups: kept.map((k) => groups[k]!),
    ...(blocks === undefined ? {} : { blocks: kept.map((k) => blocks[k]!) }),
  };
  return permutationP(
    kept.map((k) => values[k]!),
    labelled,
    options,
  );
}

function countsOf(groups: ArrayLike<number>, values?: Float64Array): readonly [number, number] {
  const count = (side: number): number =>
    Array.from(groups).filter((g, k) => g === side && !(values !== undefined && Number.isNaN(values[k]!))).length;
  return [count(0), count(1)];
}

/** Smallest p that the labellings in common can give. */
function smallestOf({ groups, blocks }: Exchangeable, countArrangements: number, isExact: boolean): number {
  const exact = blocks === undefined ? smallestFreeP(...countsOf(groups)) : 2 / countArrangements;
  return isExact ? Math.min(1, exact) : Math.max(blocks === undefined ? exact : 0, 1 / (countArrangements + 1));
}

/** Step-down max-T over the measures with a value in every shot, Holm over all of the family for the others. */
export function familyP(
  design: Design,
  names: readonly string[],
  o: { readonly columns: readonly ColumnValues[]; readonly options: JudgeOptions; readonly family: string },
): readonly FamilyP[] {
  const units = exchangeable(design, o.columns);
  const { seed, streams, nameA: a, nameB: b } = o.options;
  if (design.kind === "none" || Math.min(...countsOf(units.groups)) < LEAST_FOR_DIFFERENCE)
    return names.map(() => NO_P);
  const labelOf = (method: string, measure: string): string => streamLabel({ method, measure, a, b });
  const family = maxTFamily(units.columns, units, {
    ...{ seed, streams, label: labelOf("max-t", o.family) },
    isScatterUnequal: isScatterUneven(design),
  });
  const isExact = family.method === "exact";
  const own = new Map(
    family.leftOut.flatMap((m) => {
      const values = units.columns[m]!;
      if (Math.min(...countsOf(units.groups, values)) < LEAST_FOR_DIFFERENCE) return [];
      return [[m, ownP(units, values, { seed, streams, label: labelOf("permutation", names[m]!) })] as const];
    }),
  );
  const known = names.map((_, m) => own.get(m)?.p ?? family.p[m]!);
  const byHolm = holm(known.map((p) => (Number.isNaN(p) ? 1 : p)));
  const inCommon = names.length - family.leftOut.length;
  return names.map((_, m): FamilyP => {
    const alone = own.get(m);
    if (alone !== undefined)
      return {
        p: alone.p,
        adjustedP: byHolm[m]!,
        adjustedBy: names.length === 1 ? "none" : "holm",
        pMethod: alone.method,
        countArrangements: alone.countArrangements,
        smallestP: Math.min(1, alone.smallestP * names.length),
        ...(alone.seed === undefined ? {} : { seed: alone.seed }),
      };
    if (Number.isNaN(family.p[m]!)) return NO_P;
    const isUnequal = family.unequal.includes(m);
    return {
      p: family.p[m]!,
      adjustedP: family.adjusted[m]!,
      adjustedBy: isUnequal ? "max-t-and-holm" : inCommon === 1 ? "none" : "max-t",
      pMethod: family.method,
      countArrangements: family.countArrangements,
      smallestP: smallestOf(units, family.countArrangements, isExact),
      ...(family.seed === undefined ? {} : { seed: family.seed }),
    };
  });
}

/**
 * Over several sessions the middle of each but one was taken from the values: as many degrees of freedom fewer, and a scatter that is larger
 * than it looks by √(ν / (ν - S + 1)), ν of the pooled scatter.
 */
function overSessions(design: Design, difference: Difference | Withheld): Difference | Withheld {
  if (difference.kind === "withheld" || !isOverSessions(design)) return difference;
  const pooledNu = difference.n.reduce((sum, count) => sum + count - 1, 0);
  const left = pooledNu - design.countSessions + 1;
  if (left < 1) return { kind: "withheld", reason: "too-few", n: difference.n };
  const se = difference.se * Math.sqrt(pooledNu / left);
  const nu = (difference.nu * left) / pooledNu;
  const half = studentQuantile((1 + difference.levelOfOne) / 2, nu) * se;
  const t = (difference.value - difference.nullDifference) / se;
  return {
    ...difference,
    ...{ se, nu, t, p: studentTwoSidedP(t, nu) },
    ...{ low: difference.value - half, high: difference.value + half },
  };
}

/** What the shots of a column differ by, as the design has it. */
export function differenceOf(
  design: Design,
  values: Float64Array<ArrayBuffer>,
  options: { readonly looks: JudgeOptions["looks"]; readonly nullDifference?: number },
): Difference | Withheld {
  const { groups, blocks } = design;
  if (design.kind !== "paired" || blocks === undefined)
    return overSessions(design, welch(sideOf(values, groups, 0), sideOf(values, groups, 1), options));
  const pairs = [...new Set(blocks)];
  const of = (side: 0 | 1): Float64Array<ArrayBuffer> =>
    Float64Array.from(pairs, (pair) => values[blocks.findIndex((block, k) => block === pair && groups[k] === side)]!);
  return pairedDifference(of(0), of(1), options);
}

/** The error of the difference that all shots of a side share: 0 within one lie of one session, where it is the same on both sides. */
export function sharedOf(design: Design, { sigmaShared }: ColumnValues): number {
  if (!design.isBetweenLies && !design.isBetweenSessions) return 0;
  return Math.hypot(
    meanOfKnown(sideOf(sigmaShared, design.groups, 0)),
    meanOfKnown(sideOf(sigmaShared, design.groups, 1)),
  );
}

/** Largest difference between two visits to one lie; undefined where the design does not ask for it or no lie was visited twice. */
export function visitDifferenceOf(design: Design, { freed }: ColumnValues): number | undefined {
  if (!design.isBetweenLies || design.kind !== "free") return undefined;
  const { largestDifference } = visitScatter({ values: freed, lies: design.lies, visits: design.visits });
  return Number.isNaN(largestDifference) ? undefined : largestDifference;
}

const LOZENGES = {
  beyondScatter: "beyond",
  beyondAlone: "beyond-alone",
  withinScatter: "within",
  equivalent: "within",
  unreachable: "too-few",
  tooFew: "too-few",
  withheld: "none",
} as const satisfies Record<Judgement["verdict"], Lozenge>;

/** The verdict on one column, once its p values are known. */
export function judgementOf(
  design: Design,
  column: string,
  o: { readonly values: ColumnValues; readonly found: FamilyP; readonly options: JudgeOptions },
): Judgement {
  const { values, found } = o;
  const { looks, isPlannedLook, margins } = o.options;
  const freed = differenceOf(design, values.freed, { looks });
  const margin = margins.get(column);
  const visitDifference = visitDifferenceOf(design, values);
  const judged = verdictOf({
    difference: freed,
    p: found.p,
    adjustedP: found.adjustedP,
    smallestP: found.smallestP,
    alphaOfOne: levelOfLook({ kind: isPlannedLook ? "planned" : "unplanned", times: looks.times }),
    sigmaShared: sharedOf(design, values),
    ...(visitDifference === undefined ? {} : { visitDifference }),
    ...(margin === undefined || freed.kind === "withheld" ? {} : { equivalence: equivalence(freed, margin) }),
    withheldFor: design.withheldFor,
  });
  const isDependent = design.kind === "none" && judged.verdict !== "tooFew";
  const { verdict, reasons } = isDependent
    ? { verdict: "withheld" as const, reasons: ["dependent"] as readonly VerdictReason[] }
    : judged;
  return { freed, ...found, verdict, reasons, lozenge: LOZENGES[verdict] };
}

/** The judgements of one family, in the order of its columns. */
export function judgedFamily(
  design: Design,
  names: readonly string[],
  o: { readonly columns: readonly ColumnValues[]; readonly options: JudgeOptions; readonly family: string },
): readonly Judgement[] {
  return familyP(design, names, o).map((found, m) =>
    judgementOf(design, names[m]!, { values: o.columns[m]!, found, options: o.options }),
  );
}
