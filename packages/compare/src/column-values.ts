import type { ComparedShot } from "./compared-shot.ts";
import type { Design } from "./design.ts";

/** One measure of the shots of a design, in their order; NaN where it is missing. Unit of the measure. */
export interface ColumnValues {
  readonly raw: Float64Array<ArrayBuffer>;
  /** With the slope's share, over several sessions less what the session adds to both sides. */
  readonly withShare: Float64Array<ArrayBuffer>;
  /** Between lies less each shot's own slope share; over several sessions less what the session adds to both sides. */
  readonly freed: Float64Array<ArrayBuffer>;
  /** The same for relabelling: over several sessions less the session's mean, which no labelling moves. */
  readonly exchanged: Float64Array<ArrayBuffer>;
  readonly slopeShare: Float64Array<ArrayBuffer>;
  readonly sigmaShared: Float64Array<ArrayBuffer>;
}

const at = (shot: ComparedShot, column: string): number => shot.measures.get(column)?.value ?? Number.NaN;

/** Mean of the numbers among the values; NaN where there is none. */
export function meanOfKnown(values: ArrayLike<number>): number {
  const known = Array.from(values).filter((value) => !Number.isNaN(value));
  return known.length === 0 ? Number.NaN : known.reduce((sum, value) => sum + value, 0) / known.length;
}

/** Several sessions, each with both sides; never where a side has no shots. */
export const isOverSessions = ({ isBetweenSessions, countSessions, groups }: Design): boolean =>
  !isBetweenSessions && countSessions > 1 && new Set(groups).size === 2;

/**
 * Takes off what a session adds to both of its sides: m_s less the mean of all m_s, m_s the middle of the session's two means. Shots are
 * exchanged within sessions only, so this moves no labelling; it keeps days apart from the scatter.
 */
function withoutSessions(values: Float64Array<ArrayBuffer>, design: Design): Float64Array<ArrayBuffer> {
  if (!isOverSessions(design)) return values;
  const middles = Array.from({ length: design.countSessions }, (_, session) => {
    const sides = [0, 1].map((g) =>
      meanOfKnown(values.filter((_, k) => design.sessions[k] === session && design.groups[k] === g)),
    );
    return ((sides[0] ?? Number.NaN) + (sides[1] ?? Number.NaN)) / 2;
  });
  const centre = meanOfKnown(middles);
  return values.map((value, k) => value - (middles[design.sessions[k]!]! - centre));
}

function lessSessionMeans(values: Float64Array<ArrayBuffer>, design: Design): Float64Array<ArrayBuffer> {
  if (!isOverSessions(design)) return values;
  const means = Array.from({ length: design.countSessions }, (_, session) =>
    meanOfKnown(values.filter((_, k) => design.sessions[k] === session)),
  );
  return values.map((value, k) => value - means[design.sessions[k]!]!);
}

/** The values of one column for all shots of a design. */
export function columnValues(design: Design, column: string): ColumnValues {
  const { shots } = design;
  const raw = Float64Array.from(shots, (shot) => at(shot, column));
  const slopeShare = Float64Array.from(shots, (shot) => shot.measures.get(column)?.slopeShare ?? 0);
  const own = design.isBetweenLies ? raw.map((value, k) => value - slopeShare[k]!) : raw;
  return {
    raw,
    slopeShare,
    withShare: withoutSessions(raw, design),
    freed: withoutSessions(own, design),
    exchanged: lessSessionMeans(own, design),
    sigmaShared: Float64Array.from(shots, (shot) => shot.measures.get(column)?.sigmaShared ?? 0),
  };
}

/** The values of one side, 0 for A, 1 for B. */
export function sideOf(
  values: Float64Array<ArrayBuffer>,
  groups: ArrayLike<number>,
  side: 0 | 1,
): Float64Array<ArrayBuffer> {
  return values.filter((_, k) => groups[k] === side);
}
