import {
  benjaminiHochberg,
  type Comparison as Counts,
  type Drift,
  detectableDifference,
  equivalence,
  glassDelta,
  hedgesG,
  hedgesGOfDifferences,
  mean,
  meanInterval,
  minimalDetectableChange,
  standardDeviation,
  streamLabel,
  type Withheld,
} from "@underfoot/statistics";
import { type ColumnValues, columnValues, meanOfKnown, sideOf } from "./column-values.ts";
import type { Design } from "./design.ts";
import { driftOfColumns } from "./drift-of-columns.ts";
import { differenceOf, type JudgeOptions, judgedFamily, sharedOf, visitDifferenceOf } from "./judged-family.ts";
import type { ComparedMeasure, FamilyName, Judgement, RowSide } from "./measure-row.ts";
import { rowOf } from "./row-of-measure.ts";

/** The player scatters alike in both conditions while their sds differ by less than this (own choice). */
const MOST_UNEQUAL = 2;

/** One column of a comparison with its verdict. */
export interface JudgedColumn {
  readonly column: string;
  readonly family: FamilyName;
  readonly values: ColumnValues;
  readonly judgement: Judgement;
}

/** All columns, judged family by family. */
export function judgedColumns(
  design: Design,
  families: ReadonlyMap<FamilyName, readonly string[]>,
  options: JudgeOptions,
): readonly JudgedColumn[] {
  return [...families].flatMap(([family, columns]) => {
    const values = columns.map((column) => columnValues(design, column));
    const judged = judgedFamily(design, columns, { columns: values, options, family });
    return columns.map((column, m) => ({ column, family, values: values[m]!, judgement: judged[m]! }));
  });
}

function rowSide(column: JudgedColumn, design: Design, side: 0 | 1, moved: Drift | undefined): RowSide {
  const { raw, slopeShare, sigmaShared } = column.values;
  const own = sideOf(raw, design.groups, side);
  const known = own.filter((value) => !Number.isNaN(value));
  const interval = meanInterval(own);
  const isKnown = "value" in interval;
  return {
    n: known.length,
    countMissing: own.length - known.length,
    mean: known.length > 0 ? mean(known) : Number.NaN,
    sd: standardDeviation(known),
    low: isKnown ? interval.low : Number.NaN,
    high: isKnown ? interval.high : Number.NaN,
    slopeShare: meanOfKnown(sideOf(slopeShare, design.groups, side)),
    sigmaShared: meanOfKnown(sideOf(sigmaShared, design.groups, side)),
    ...(moved === undefined ? {} : { drift: moved }),
  };
}

/** Scatter of single shots (of pair differences where paired), and what means of so many must differ by. */
function scatterOf(
  design: Design,
  { freed }: ColumnValues,
  difference: Judgement["freed"],
): { readonly sd: number; readonly mdc: number; readonly counts: Counts } | undefined {
  if (difference.kind === "withheld") return undefined;
  const half = (difference.high - difference.low) / 2;
  if (design.kind === "paired") {
    const n = difference.n[0] ?? 0;
    return { sd: difference.se * Math.sqrt(n), mdc: half, counts: { kind: "paired", n } };
  }
  const [nA = 0, nB = 0] = difference.n;
  const [sdA, sdB] = [0, 1].map((side) =>
    standardDeviation(sideOf(freed, design.groups, side as 0 | 1).filter((value) => !Number.isNaN(value))),
  ) as [number, number];
  const nu = nA + nB - 2;
  const sd = Math.sqrt(((nA - 1) * sdA ** 2 + (nB - 1) * sdB ** 2) / nu);
  const isAlike = Math.max(sdA, sdB) < MOST_UNEQUAL * Math.min(sdA, sdB);
  const mdc = isAlike ? minimalDetectableChange({ sd, nu, nFirst: nA, nSecond: nB }) : half;
  return { sd, mdc, counts: { kind: "two-groups", nA, nB } };
}

function effectOf(column: JudgedColumn, design: Design, options: JudgeOptions): ComparedMeasure["effect"] {
  const { freed } = column.values;
  const { looks, seed, streams, nameA: a, nameB: b } = options;
  const [ofA, ofB] = [sideOf(freed, design.groups, 0), sideOf(freed, design.groups, 1)];
  if (design.kind === "paired" && design.blocks !== undefined) {
    const { blocks, groups } = design;
    const pairs = [...new Set(blocks)];
    const at = (pair: number, side: number): number =>
      freed[blocks.findIndex((block, k) => block === pair && groups[k] === side)]!;
    return hedgesGOfDifferences(
      pairs.map((pair) => at(pair, 1) - at(pair, 0)),
      { looks },
    );
  }
  const g = hedgesG(ofA, ofB, { looks });
  if (g.kind === "withheld" || g.findings.length === 0) return g;
  const label = streamLabel({ method: "glass-delta", measure: column.column, a, b });
  const delta = glassDelta(ofA, ofB, { looks, seed, streams, label });
  return delta.kind === "withheld"
    ? g
    : { ...delta, kind: "effect-size", method: "glass-delta-bca", findings: g.findings };
}

const NOT_ASKED: Withheld = { kind: "withheld", reason: "incomplete", n: [] };

/** Whether the measures of either side moved while the shots were hit. */
export function driftOf(columns: readonly JudgedColumn[], design: Design, options: JudgeOptions): RowInputs["drift"] {
  const ofSide = (side: 0 | 1): readonly (Drift | undefined)[] =>
    driftOfColumns({
      name: side === 0 ? options.nameA : options.nameB,
      names: columns.map(({ column }) => column),
      columns: columns.map(({ values }) => sideOf(values.raw, design.groups, side)),
      shotNumbers: design.shots.flatMap((shot, k) => (design.groups[k] === side ? [shot.ordinal] : [])),
      ...{ seed: options.seed, streams: options.streams },
    });
  const [a, b] = [ofSide(0), ofSide(1)];
  return new Map(columns.map(({ column }, m) => [column, [a[m], b[m]] as const]));
}

/** Detectable difference per sd of single shots, by counts: the same for all measures of as many shots. */
export function detectablePerSd(): (counts: Counts) => number {
  const known = new Map<string, number>();
  return (counts) => {
    const key = JSON.stringify(counts);
    const found = known.get(key) ?? detectableDifference(counts, { sd: 1 });
    known.set(key, found);
    return found;
  };
}

/** What the rows of a comparison share. */
export interface RowInputs {
  /** Of A and of B, by column. */
  readonly drift: ReadonlyMap<string, readonly [Drift | undefined, Drift | undefined]>;
  readonly isFull: boolean;
  readonly design: Design;
  readonly options: JudgeOptions;
  readonly perSd: (counts: Counts) => number;
  readonly q: ReadonlyMap<string, number>;
  readonly withMishits: ReadonlyMap<string, NonNullable<ComparedMeasure["withMishits"]>>;
}

/** The row of one measure. */
export function comparedMeasure(column: JudgedColumn, o: RowInputs): ComparedMeasure {
  const { design, options } = o;
  const { values, judgement } = column;
  const moved = o.drift.get(column.column);
  const [a, b] = [rowSide(column, design, 0, moved?.[0]), rowSide(column, design, 1, moved?.[1])];
  const slopeShare = design.isBetweenLies ? b.slopeShare - a.slopeShare : 0;
  const scatter = scatterOf(design, values, judgement.freed);
  const margin = options.margins.get(column.column);
  const visitDifference = visitDifferenceOf(design, values);
  const both = o.withMishits.get(column.column);
  const { freed } = judgement;
  return {
    kind: "conditions",
    ...rowOf(column.column),
    family: column.family,
    a,
    b,
    raw: differenceOf(design, values.withShare, { looks: options.looks, nullDifference: slopeShare }),
    slopeShare,
    sigmaShared: sharedOf(design, values),
    effect: o.isFull ? effectOf(column, design, options) : NOT_ASKED,
    ...judgement,
    q: o.q.get(column.column) ?? Number.NaN,
    mdc: scatter?.mdc ?? Number.NaN,
    steps: freed.kind === "withheld" || scatter === undefined ? Number.NaN : freed.value / scatter.mdc,
    detectable: scatter === undefined || !(scatter.sd > 0) ? Number.NaN : o.perSd(scatter.counts) * scatter.sd,
    ...(margin === undefined || freed.kind === "withheld" ? {} : { equivalence: equivalence(freed, margin) }),
    ...(visitDifference === undefined ? {} : { visitDifference }),
    ...(both === undefined ? {} : { withMishits: both }),
    mishitsDecide: both !== undefined && both.verdict !== judgement.verdict,
  };
}

/** Benjamini and Hochberg's q of the measures that were merely looked at. */
export function hints(columns: readonly JudgedColumn[]): ReadonlyMap<string, number> {
  const rest = columns.filter(({ family, judgement }) => family === "rest" && !Number.isNaN(judgement.p));
  const q = benjaminiHochberg(rest.map(({ judgement }) => judgement.p));
  return new Map(rest.map(({ column }, m) => [column, q[m]!]));
}
