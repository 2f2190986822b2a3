import { catalogueEntry } from "@underfoot/mechanics";
import { type PackedMeasures, sigmaAt, valueAt } from "./packed-values.ts";

/** How one measure moved when its shots were computed anew. */
export interface MovedMeasure {
  /** As in `StoredResult.values`: "both.target.peak turf". */
  readonly column: string;
  readonly title: string;
  readonly unit: string;
  /** In how many shots it moved, appeared or vanished. */
  readonly shots: number;
  /** Measured now where it was not before, and the other way round. */
  readonly appeared: number;
  readonly vanished: number;
  /** The largest change, with its sign; 0 where it only appeared, vanished or is text. */
  readonly largestChange: number;
  /** The same in standard uncertainties of the new value. */
  readonly largestInSigmas: number;
  /** Of that shot. */
  readonly shotId: string;
}

/** Closer than this, a value has not moved: another order of the same sums. */
const SAME_RELATIVE = 1e-9;

type Packed = Pick<PackedMeasures, "values" | "sigmas"> & { readonly texts: Readonly<Record<string, string>> };

interface Tally {
  shots: number;
  appeared: number;
  vanished: number;
  largestChange: number;
  largestInSigmas: number;
  shotId: string;
}

/** Collects what moved over many shots. */
export interface MovedNumbers {
  add(
    shotId: string,
    before: Packed & { readonly columns: readonly string[] },
    after: Packed & { readonly columns: readonly string[] },
  ): void;
  /** The most moved first. */
  all(): readonly MovedMeasure[];
}

export function movedNumbers(): MovedNumbers {
  const tallies = new Map<string, Tally>();
  const tallyOf = (column: string, shotId: string): Tally => {
    const known = tallies.get(column) ?? {
      shots: 0,
      appeared: 0,
      vanished: 0,
      largestChange: 0,
      largestInSigmas: 0,
      shotId,
    };
    tallies.set(column, known);
    return known;
  };
  const compare = (shotId: string, column: string, old: number, now: number, sigma: number): void => {
    if (Number.isNaN(old) && Number.isNaN(now)) return;
    if (Math.abs(now - old) <= SAME_RELATIVE * Math.max(Math.abs(old), Math.abs(now))) return;
    const tally = tallyOf(column, shotId);
    tally.shots++;
    if (Number.isNaN(old)) tally.appeared++;
    else if (Number.isNaN(now)) tally.vanished++;
    else if (Math.abs(now - old) > Math.abs(tally.largestChange)) {
      tally.largestChange = now - old;
      tally.largestInSigmas = sigma > 0 ? (now - old) / sigma : 0;
      tally.shotId = shotId;
    }
  };
  return {
    add: (shotId, before, after) => {
      const places = new Map(before.columns.map((name, k) => [name, k]));
      after.columns.forEach((column, k) => {
        const place = places.get(column);
        const old = place === undefined ? Number.NaN : valueAt(before.values, place);
        compare(shotId, column, old, valueAt(after.values, k), sigmaAt(after.sigmas, k));
        if (before.texts[column] !== after.texts[column]) tallyOf(column, shotId).shots++;
      });
    },
    all: () =>
      [...tallies]
        .map(([column, tally]) => {
          const entry = catalogueEntry(column.split(" ")[0] ?? "");
          return { column, title: entry?.title ?? column, unit: entry?.unit ?? "", ...tally };
        })
        .sort((a, b) => Math.abs(b.largestInSigmas) - Math.abs(a.largestInSigmas) || b.shots - a.shots),
  };
}
