import type { ShotResult } from "@underfoot/domain";
import {
  type AreaUnderCurve,
  areaUnderCurve,
  associationFamily,
  benjaminiHochberg,
  holm,
  type Looks,
  type MishitModel,
  mean,
  mishitModel,
  type SpearmanCorrelation,
  type Streams,
  spearman,
  standardDeviation,
  streamLabel,
  type Withheld,
} from "@underfoot/statistics";
import type { ComparedShot, ShotGroup } from "./compared-shot.ts";
import type { RowOfMeasure } from "./measure-row.ts";
import { rowOf } from "./row-of-measure.ts";
import { checkedPlayer, countedShots, inOrderHit, lieOf } from "./shots-in-order.ts";

/** What became of the ball: strike toward the toe and up (mm), start line (deg), carry (m), or whether it was a mishit. */
export type OutcomeName = "strikeToe" | "strikeUp" | "startLine" | "carry" | "mishit";

export const OUTCOME_UNITS: Readonly<Record<OutcomeName, string>> = {
  strikeToe: "mm",
  strikeUp: "mm",
  startLine: "deg",
  carry: "m",
  mishit: "",
};

/** Least shots for words. */
const LEAST_FOR_WORDS = 10;
const ALPHA_OF_ONE = 0.05;

/** How a measure goes with an outcome in these shots. Never a cause. */
export interface OutcomeMeasure extends RowOfMeasure {
  readonly points: readonly {
    readonly shotId: string;
    readonly value: number;
    readonly outcome: number;
    /** Place of its condition in `conditions`. */
    readonly condition: number;
    readonly isMishit: boolean;
  }[];
  /** Rank correlation within conditions; for outcomes on a scale. */
  readonly correlation?: SpearmanCorrelation | Withheld;
  /** Log odds of a mishit per sd of the measure, and how often a mishit has the larger value; for `mishit`. */
  readonly mishit?: MishitModel | Withheld;
  readonly area?: AreaUnderCurve | Withheld;
  /** Alone, after allowing for all measures looked at, and Benjamini and Hochberg's q; NaN where not given. */
  readonly p: number;
  readonly adjustedP: number;
  readonly q: number;
  /** `link` and `no-clear-link` may be said, each in its words; `too-few`: nothing may. */
  readonly say: "link" | "no-clear-link" | "too-few";
}

/** Results of shots against measures, within one player. */
export interface Outcome {
  readonly kind: "outcome";
  readonly outcome: OutcomeName;
  readonly unit: string;
  readonly name: string;
  /** Shots with a known outcome, mishits among them; those set aside or invalid are left out. */
  readonly n: number;
  readonly countUnknown: number;
  /** Compared within each only, so that what was asked for does not pose as a cause. */
  readonly conditions: readonly {
    readonly intent?: string;
    readonly lie: string;
    readonly club?: string;
    readonly n: number;
  }[];
  readonly measures: readonly OutcomeMeasure[];
  /** Carry and start line are never pooled across lies. */
  readonly withheld?: "several-lies";
  readonly looks: Looks;
  readonly levelOfOne: number;
  readonly seed: number;
}

export interface OutcomeOptions {
  readonly group: ShotGroup;
  readonly measures: readonly string[];
  readonly outcome: OutcomeName;
  readonly times?: number;
  readonly seed: number;
  readonly streams: Streams;
}

function outcomeOfShot({ label, result }: ComparedShot, name: OutcomeName): number {
  const of = (known: ShotResult): number | undefined => {
    if (name === "strikeToe") return known.strikeMm?.[0];
    if (name === "strikeUp") return known.strikeMm?.[1];
    return name === "startLine" ? known.startLineDeg : known.carryM;
  };
  if (name === "mishit") return label === "mishit" ? 1 : 0;
  return (result && of(result)) ?? Number.NaN;
}

interface Shots {
  readonly shots: readonly ComparedShot[];
  readonly outcome: Float64Array<ArrayBuffer>;
  readonly conditions: Int32Array<ArrayBuffer>;
  readonly named: Outcome["conditions"];
}

function shotsWithOutcome({ group, outcome: name }: OutcomeOptions): Shots & { readonly countUnknown: number } {
  const counted = inOrderHit(countedShots(group.shots, true));
  const shots = counted.filter((shot) => !Number.isNaN(outcomeOfShot(shot, name)));
  const keyOf = (shot: ComparedShot): string =>
    JSON.stringify([shot.sessionId ?? shot.day, shot.intent, lieOf(shot), shot.club]);
  const keys = [...new Set(shots.map(keyOf))];
  return {
    shots,
    countUnknown: counted.length - shots.length,
    outcome: Float64Array.from(shots, (shot) => outcomeOfShot(shot, name)),
    conditions: Int32Array.from(shots, (shot) => keys.indexOf(keyOf(shot))),
    named: keys.map((key) => {
      const own = shots.filter((shot) => keyOf(shot) === key);
      const { intent, lieName, club } = own[0] ?? {};
      return {
        ...(intent === undefined ? {} : { intent }),
        lie: lieName ?? lieOf(own[0] as ComparedShot),
        ...(club === undefined ? {} : { club }),
        n: own.length,
      };
    }),
  };
}

/** Values less their condition's mean, over its sd: conditions with little of it count alike. NaN stays. */
function standardised(values: Float64Array<ArrayBuffer>, conditions: Int32Array): Float64Array<ArrayBuffer> {
  return values.map((value, k) => {
    const own = values.filter((one, i) => conditions[i] === conditions[k] && !Number.isNaN(one));
    const sd = standardDeviation(own);
    return sd > 0 ? (value - mean(own)) / sd : value - mean(own);
  });
}

interface Found {
  readonly part: Pick<OutcomeMeasure, "correlation" | "mishit" | "area">;
  readonly p: number;
  readonly adjustedP: number;
  readonly say: OutcomeMeasure["say"];
}

const known = (p: readonly number[]): number[] => p.map((one) => (Number.isNaN(one) ? 1 : one));

function correlations(
  o: OutcomeOptions,
  { outcome, conditions }: Shots,
  columns: readonly Float64Array<ArrayBuffer>[],
  looks: Looks,
): readonly Found[] {
  const { seed, streams, group, outcome: name } = o;
  const labelOf = (method: string, measure: string): string => streamLabel({ method, measure, a: group.name, b: name });
  const found = columns.map((values, m) =>
    spearman(values, outcome, { seed, streams, conditions, looks, label: labelOf("spearman", o.measures[m] ?? "") }),
  );
  const family = associationFamily(columns, outcome, {
    seed,
    streams,
    conditions,
    label: labelOf("max-rho", "family"),
  });
  const alone = found.map((one) => (one.kind === "withheld" ? Number.NaN : one.p));
  const byHolm = holm(known(alone));
  return found.map((correlation, m) => {
    const isOutside = family.leftOut.includes(m);
    const p = isOutside ? (alone[m] ?? Number.NaN) : (family.p[m] ?? Number.NaN);
    const adjustedP = isOutside ? (byHolm[m] ?? Number.NaN) : (family.adjusted[m] ?? Number.NaN);
    const isEnough = correlation.kind !== "withheld" && correlation.isEnoughForWords;
    const isLink = adjustedP <= ALPHA_OF_ONE;
    return { part: { correlation }, p, adjustedP, say: isEnough ? (isLink ? "link" : "no-clear-link") : "too-few" };
  });
}

function mishits(
  o: OutcomeOptions,
  { outcome, conditions }: Shots,
  columns: readonly Float64Array<ArrayBuffer>[],
  looks: Looks,
): readonly Found[] {
  const { seed, streams, group } = o;
  const found = columns.map((values, m) => {
    const z = standardised(values, conditions);
    const label = streamLabel({ method: "area", measure: o.measures[m] ?? "", a: group.name, b: "mishit" });
    return {
      mishit: mishitModel(values, outcome, { conditions, looks }),
      area: areaUnderCurve(
        z.filter((_, k) => outcome[k] === 1),
        z.filter((_, k) => outcome[k] === 0),
        { seed, streams, label, looks },
      ),
    };
  });
  const alone = found.map(({ mishit }) => (mishit.kind === "withheld" ? Number.NaN : mishit.p));
  const adjusted = holm(known(alone));
  return found.map(({ mishit, area }, m) => {
    const p = alone[m] ?? Number.NaN;
    const adjustedP = Number.isNaN(p) ? Number.NaN : (adjusted[m] ?? Number.NaN);
    const isKnown = mishit.kind !== "withheld" && area.kind !== "withheld" && mishit.findings.length === 0;
    const isEnough = isKnown && outcome.length >= LEAST_FOR_WORDS;
    const isOneSided = area.kind !== "withheld" && (area.low > 0.5 || area.high < 0.5);
    const say = !isEnough ? "too-few" : adjustedP <= ALPHA_OF_ONE && isOneSided ? "link" : "no-clear-link";
    return { part: { mishit, area }, p, adjustedP, say };
  });
}

/**
 * Whether a result of the shots goes with a measure, for this player, within conditions (session, intent, lie and club). Kept and mishit shots count.
 *
 * @param o  `measures`: columns looked at together, one family
 */
export function outcomeOf(o: OutcomeOptions): Outcome {
  checkedPlayer(o.group.shots);
  const found = shotsWithOutcome(o);
  const { shots, outcome, conditions, named, countUnknown } = found;
  const looks: Looks = { countMeasures: o.measures.length, countPairs: 1, times: o.times ?? 1 };
  const isPooled = new Set(shots.map(lieOf)).size > 1 && (o.outcome === "carry" || o.outcome === "startLine");
  const columns = o.measures.map((column) =>
    Float64Array.from(shots, ({ measures }) => measures.get(column)?.value ?? Number.NaN),
  );
  const rows =
    isPooled || shots.length === 0
      ? undefined
      : (o.outcome === "mishit" ? mishits : correlations)(o, found, columns, looks);
  const q = benjaminiHochberg(known(rows?.map(({ p }) => p) ?? []));
  return {
    kind: "outcome",
    ...{ outcome: o.outcome, unit: OUTCOME_UNITS[o.outcome], name: o.group.name },
    ...{ n: shots.length, countUnknown, conditions: named },
    measures: o.measures.map((column, m): OutcomeMeasure => {
      const row = rows?.[m];
      const points = shots.map(({ shotId, label }, k) => ({
        shotId,
        value: columns[m]?.[k] ?? Number.NaN,
        outcome: outcome[k] ?? Number.NaN,
        condition: conditions[k] ?? 0,
        isMishit: label === "mishit",
      }));
      return {
        ...rowOf(column),
        points,
        ...row?.part,
        p: row?.p ?? Number.NaN,
        adjustedP: row?.adjustedP ?? Number.NaN,
        q: row === undefined || Number.isNaN(row.p) ? Number.NaN : (q[m] ?? Number.NaN),
        say: row?.say ?? "too-few",
      };
    }),
    ...(isPooled ? { withheld: "several-lies" } : {}),
    ...{ looks, levelOfOne: 0.95, seed: o.seed },
  };
}
