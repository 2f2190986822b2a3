import {
  type OutsideStretch,
  type ShotOverMeasures,
  shotAgainstBand,
  shotOverMeasures,
  shotAgainstShot as singlesApart,
  standardDeviation,
  stretchesOutside,
} from "@underfoot/statistics";
import { meanOfKnown } from "./column-values.ts";
import type { ComparedShot, ShotGroup } from "./compared-shot.ts";
import { compareFaults } from "./faults.ts";
import { type MeanEvents, meanEvents } from "./mean-events.ts";
import type { ShotPairRow, ShotUsualRow } from "./measure-row.ts";
import { registeredCurve, registrationOf } from "./registered-shots.ts";
import { allColumns, rowOf } from "./row-of-measure.ts";
import { curveKind } from "./shot-curves.ts";
import { checkedPlayer, lieOf } from "./shots-in-order.ts";
import { bandShots, type Usual, type UsualCurve, type UsualOptions, usualCurve, usualOf } from "./usual.ts";

/** Least shots for a band. */
const LEAST_FOR_BAND = 5;

/** One shot's curve against the usual band of its condition. */
export interface ShotUsualCurve extends UsualCurve {
  /** The shot itself; one value a point. */
  readonly values: readonly number[];
  /** Where it leaves the band, in ms; empty where the whole curve is usual, or there is no band. */
  readonly stretches: readonly (Omit<OutsideStretch, "atPoint" | "firstPoint" | "lastPoint"> & {
    readonly fromMs: number;
    readonly toMs: number;
    readonly atMs: number;
  })[];
}

/** One shot against the usual band of its condition, the shot itself never one of the band's. */
export interface ShotAgainstUsual {
  readonly kind: "shot-usual";
  readonly shotId: string;
  readonly usual: Usual;
  /** The shot stands on another lie than the band's shots: the slope's share is taken off. */
  readonly isBetweenLies: boolean;
  readonly measures: readonly ShotUsualRow[];
  /** How many are outside, how many chance gives, and whether the shot is unusual as a whole. */
  readonly overall: ShotOverMeasures;
  readonly curves: readonly ShotUsualCurve[];
  /** Of the shot and of those of the band. */
  readonly eventsMs: MeanEvents;
}

function isOnOtherLie(shot: ComparedShot, others: readonly ComparedShot[]): boolean {
  return others.some((other) => lieOf(other) !== lieOf(shot));
}

function usualRow(
  shot: ComparedShot,
  others: readonly ComparedShot[],
  o: { readonly column: string; readonly isBetweenLies: boolean; readonly looks: Usual["looks"] },
): ShotUsualRow {
  const own = shot.measures.get(o.column);
  const all = others.map(({ measures }) => measures.get(o.column));
  const usualShare = meanOfKnown(all.map((one) => one?.slopeShare ?? 0)) || 0;
  const slopeShare = o.isBetweenLies ? (own?.slopeShare ?? 0) - usualShare : 0;
  const value = own?.value ?? Number.NaN;
  const band = shotAgainstBand(
    value - slopeShare,
    all.map((one) => one?.value ?? Number.NaN),
    { sigmaShot: own?.sigma ?? 0, sigmaOthers: all.map((one) => one?.sigma ?? Number.NaN), looks: o.looks },
  );
  const steps =
    band.kind === "withheld" || band.high === band.low
      ? Number.NaN
      : (value - slopeShare - band.mean) / ((band.high - band.low) / 2);
  return { kind: "shot-usual", ...rowOf(o.column), value, sigma: own?.sigma ?? Number.NaN, band, slopeShare, steps };
}

function usualCurveOf(
  shot: ComparedShot,
  others: readonly ComparedShot[],
  column: string,
  o: { readonly kind: "impact" | "events"; readonly isBetweenLies: boolean },
): readonly ShotUsualCurve[] {
  const withCurve = others.filter(({ curves }) => curves?.has(column));
  if (withCurve.length === 0 || shot.curves?.has(column) !== true) return [];
  const registration = registrationOf([...withCurve, shot], o.kind);
  if (registration === undefined) return [];
  const { countPoints, firstMs, stepMs } = registration.grid;
  const rest = { ...registration, readAtMs: registration.readAtMs.slice(0, withCurve.length * countPoints) };
  const own = { ...registration, readAtMs: registration.readAtMs.slice(withCurve.length * countPoints) };
  const { band, ...usual } = usualCurve(withCurve, column, rest);
  const curve = registeredCurve([shot], column, own);
  const freed = curve.values.map((value, q) =>
    o.isBetweenLies ? value - (curve.slopeShare[q]! - (usual.slopeShare[q] ?? 0)) : value,
  );
  const timeOf = (q: number): number => firstMs + q * stepMs;
  const stretches = band.kind === "withheld" ? [] : stretchesOutside(freed, band);
  return [
    {
      ...usual,
      values: Array.from(curve.values),
      stretches: stretches.map(({ firstPoint, lastPoint, atPoint, side, excess }) => ({
        ...{ side, excess },
        fromMs: timeOf(firstPoint),
        toMs: timeOf(lastPoint),
        atMs: timeOf(atPoint),
      })),
    },
  ];
}

/**
 * One shot against the usual band of the other shots of its condition.
 *
 * @param group  the condition; the shot may be one of it and is then left out of its own band
 */
export function shotAgainstUsual(shot: ComparedShot, group: ShotGroup, o: UsualOptions): ShotAgainstUsual {
  checkedPlayer([shot, ...group.shots]);
  const without = o.without ?? shot.shotId;
  const usual = usualOf(group, { ...o, without });
  const others = bandShots(group, without);
  const isBetweenLies = isOnOtherLie(shot, others);
  const columns = o.measures ?? allColumns(o.axes);
  const rows = columns.map((column) => usualRow(shot, others, { column, isBetweenLies, looks: usual.looks }));
  return {
    kind: "shot-usual",
    shotId: shot.shotId,
    usual,
    isBetweenLies,
    measures: rows,
    overall: shotOverMeasures(rows.flatMap(({ band }) => (band.kind === "withheld" ? [] : [band]))),
    curves: (o.curves ?? []).flatMap((column) =>
      usualCurveOf(shot, others, column, { kind: o.registration ?? "impact", isBetweenLies }),
    ),
    eventsMs: meanEvents([shot, ...others]),
  };
}

/** Two single curves, B minus A. One value a point. */
export interface ShotPairCurve {
  readonly column: string;
  readonly title: string;
  readonly unit: string;
  readonly a: readonly number[];
  readonly b: readonly number[];
  readonly difference: readonly number[];
  readonly slopeShare: readonly number[];
}

/** Two single shots. There is no verdict: one shot each shows no difference. */
export interface ShotAgainstShot {
  readonly kind: "shot-pair";
  readonly a: string;
  readonly b: string;
  readonly isBetweenLies: boolean;
  /** Shots of the condition or conditions that the scatter comes from. */
  readonly n: readonly number[];
  readonly measures: readonly ShotPairRow[];
  readonly curves: readonly ShotPairCurve[];
  readonly eventsMs: MeanEvents;
  readonly grid: { readonly kind: "impact" | "events"; readonly firstMs: number; readonly stepMs: number };
  readonly verdict: "none";
}

function pairCurves(
  a: ComparedShot,
  b: ComparedShot,
  o: { readonly columns: readonly string[]; readonly kind: "impact" | "events"; readonly isBetweenLies: boolean },
): Pick<ShotAgainstShot, "curves" | "grid"> {
  const registration = registrationOf([a, b], o.kind);
  const { firstMs, stepMs, countPoints } = registration?.grid ?? { firstMs: -700, stepMs: 2, countPoints: 0 };
  const grid = { kind: o.kind, firstMs, stepMs };
  const columns = o.columns.filter((column) => [a, b].every(({ curves }) => curves?.has(column)));
  if (registration === undefined) return { curves: [], grid };
  const curves = columns.map((column): ShotPairCurve => {
    const { title, unit } = curveKind(column);
    const { values, slopeShare } = registeredCurve([a, b], column, registration);
    const halves = (of: Float64Array<ArrayBuffer>): [number[], number[]] => [
      Array.from(of.subarray(0, countPoints)),
      Array.from(of.subarray(countPoints)),
    ];
    const [ofA, ofB] = halves(values);
    const [shareA, shareB] = halves(slopeShare);
    return {
      ...{ column, title, unit, a: ofA, b: ofB },
      difference: ofB.map((value, q) => value - ofA[q]!),
      slopeShare: shareB.map((value, q) => (o.isBetweenLies ? value - shareA[q]! : 0)),
    };
  });
  return { curves, grid };
}

/**
 * Shot against shot, B minus A: how far apart, and what two such shots usually differ by. Never a verdict.
 *
 * @param groups  the condition of both (one), or of each (two); without, only the uncertainty of measurement is given
 */
export function shotAgainstShot(
  a: ComparedShot,
  b: ComparedShot,
  o: UsualOptions & { readonly groups?: readonly [] | readonly [ShotGroup] | readonly [ShotGroup, ShotGroup] },
): ShotAgainstShot {
  const groups = o.groups ?? [];
  checkedPlayer([a, b, ...groups.flatMap(({ shots }) => shots)]);
  if (a.shotId === b.shotId) throw compareFaults.sharedShots(1);
  const isBetweenLies = lieOf(a) !== lieOf(b);
  const bands = groups.map((group) => bandShots(group));
  const rows = (o.measures ?? allColumns(o.axes)).map((column): ShotPairRow => {
    const [ofA, ofB] = [a.measures.get(column), b.measures.get(column)];
    const slopeShare = isBetweenLies ? (ofB?.slopeShare ?? 0) - (ofA?.slopeShare ?? 0) : 0;
    const scatters = bands.map((shots) => {
      const values = shots
        .map(({ measures }) => measures.get(column)?.value ?? Number.NaN)
        .filter((value) => !Number.isNaN(value));
      return { sd: standardDeviation(values), nu: values.length - 1 };
    });
    const isEnough = scatters.length > 0 && scatters.every(({ nu }) => nu + 1 >= LEAST_FOR_BAND);
    const apart = singlesApart({
      a: ofA?.value ?? Number.NaN,
      b: ofB?.value ?? Number.NaN,
      sigmaA: ofA?.sigma ?? Number.NaN,
      sigmaB: ofB?.sigma ?? Number.NaN,
      scatters: isEnough ? (scatters as unknown as readonly [(typeof scatters)[number]]) : [],
    });
    const { difference, sigmaMeasurement, mdcSingle } = apart;
    return {
      kind: "shot-pair",
      ...rowOf(column),
      a: ofA?.value ?? Number.NaN,
      b: ofB?.value ?? Number.NaN,
      ...{ difference, slopeShare, sigmaMeasurement },
      ...(mdcSingle === undefined ? {} : { mdcSingle }),
      steps: mdcSingle === undefined || mdcSingle === 0 ? Number.NaN : (difference - slopeShare) / mdcSingle,
      verdict: "none",
    };
  });
  return {
    kind: "shot-pair",
    a: a.shotId,
    b: b.shotId,
    isBetweenLies,
    n: bands.map((shots) => shots.length),
    measures: rows,
    ...pairCurves(a, b, { columns: o.curves ?? [], kind: o.registration ?? "impact", isBetweenLies }),
    eventsMs: meanEvents([a, b]),
    verdict: "none",
  };
}
