import type { ColumnMapping } from "./column-mapping-type.ts";

/** How a mapping fits the columns of a file. */
export interface MappingMatch {
  readonly isExact: boolean;
  /** Columns of the mapping that the file lacks. */
  readonly missing: readonly string[];
  /** Columns of the file that the mapping does not know. */
  readonly extra: readonly string[];
  /** Shared names over all names, 0..1: of several mappings the largest fits best. */
  readonly share: number;
}

/** Compares by name, whatever the order. Columns that the mapping uses count as its own even where `match` leaves them out. */
export function mappingMatches(mapping: ColumnMapping, columns: readonly string[]): MappingMatch {
  const own = new Set([...mapping.match.columns, ...usedColumns(mapping)]);
  const there = new Set(columns);
  const missing = [...own].filter((name) => !there.has(name));
  const extra = [...there].filter((name) => !own.has(name));
  const all = own.size + extra.length;
  return {
    isExact: missing.length === 0 && extra.length === 0,
    missing,
    extra,
    share: all === 0 ? 0 : (own.size - missing.length) / all,
  };
}

/** Every column that a mapping reads, once each. */
export function usedColumns({ time, plates, extra }: ColumnMapping): readonly string[] {
  const columns = plates.flatMap(({ force, moment, cop, freeMoment, signals }) => [
    ...[...force, ...moment, ...cop, ...signals].map(({ column }) => column),
    ...(freeMoment === undefined ? [] : [freeMoment.column]),
  ]);
  return [...new Set([...("column" in time ? [time.column] : []), ...columns, ...extra.map(({ column }) => column)])];
}

/** The mapping for these columns: the one whose names are the same, else the one that shares most; undefined where none is whole. */
export function mappingFor(mappings: readonly ColumnMapping[], columns: readonly string[]): ColumnMapping | undefined {
  const fits = mappings.map((mapping) => ({ mapping, match: mappingMatches(mapping, columns) }));
  return fits
    .filter(({ match }) => match.missing.length === 0)
    .sort((a, b) => b.match.share - a.match.share)
    .at(0)?.mapping;
}
