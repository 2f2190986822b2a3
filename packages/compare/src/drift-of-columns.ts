import { associationFamily, type Drift, drift, type Streams, streamLabel } from "@underfoot/statistics";

/** Least shots of a side to ask whether it moved. */
const LEAST_FOR_DRIFT = 8;
const ALPHA_OF_ONE = 0.05;

/** One side of a comparison: its measures in the order the shots were hit. */
export interface DriftInput {
  readonly name: string;
  readonly names: readonly string[];
  readonly columns: readonly Float64Array<ArrayBuffer>[];
  readonly shotNumbers: readonly number[];
  readonly seed: number;
  readonly streams: Streams;
}

/**
 * Whether measures moved while the shots of one condition were hit: Spearman against shot number. Measures with a value in every shot share their
 * orders, which is what takes the time; p is of each alone, nothing is corrected.
 *
 * @returns undefined below 8 values or without scatter
 */
export function driftOfColumns(o: DriftInput): readonly (Drift | undefined)[] {
  const { seed, streams, columns, shotNumbers } = o;
  const n = shotNumbers.length;
  if (n < LEAST_FOR_DRIFT) return columns.map(() => undefined);
  const labelOf = (measure: string): string => streamLabel({ method: "drift", measure, a: o.name, b: o.name });
  const family = associationFamily(columns, shotNumbers, { seed, streams, label: labelOf("all") });
  return columns.map((values, m): Drift | undefined => {
    if (family.leftOut.includes(m)) {
      const own = drift(values, { seed, streams, label: labelOf(o.names[m] ?? "") }, shotNumbers);
      return own.kind === "drift" ? own : undefined;
    }
    const [rho, p] = [(family.statistic[m] ?? Number.NaN) / (n - 1), family.p[m] ?? Number.NaN];
    const isConstant = values.every((value) => value === values[0]);
    if (isConstant) return undefined;
    return { kind: "drift", rho, p, n, isDrift: p < ALPHA_OF_ONE, direction: rho >= 0 ? "rising" : "falling" };
  });
}
