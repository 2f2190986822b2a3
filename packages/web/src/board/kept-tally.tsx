import type { BoardCell } from "@underfoot/compare";
import type { ReactElement } from "react";

export interface KeptTallyProps {
  readonly tally: BoardCell["tally"];
  /** Shots the plan has for the cell; undefined without a plan. */
  readonly planned: number | undefined;
}

/** More strokes than this nobody counts. */
const MOST_STROKES = 24;
const APART_PX = 5;

/** "8 of 9, 1 mishit", "12 kept, 1 mishit". */
export function tallyText({ tally, planned }: KeptTallyProps): string {
  const parts = [planned === undefined ? `${tally.kept} kept` : `${tally.kept} of ${planned}`];
  if (tally.mishit > 0) parts.push(`${tally.mishit} ${tally.mishit === 1 ? "mishit" : "mishits"}`);
  if (tally["set-aside"] > 0) parts.push(`${tally["set-aside"]} set aside`);
  if (tally.invalid > 0) parts.push(`${tally.invalid} not computed`);
  return parts.join(", ");
}

/** A stroke for each kept shot, a thin one for each that the plan still has. */
export function KeptTally({ tally, planned = 0 }: KeptTallyProps): ReactElement | null {
  const count = Math.max(tally.kept, planned);
  if (count === 0 || count > MOST_STROKES) return null;
  return (
    <svg className="tally" width={count * APART_PX + 2} height="14" aria-hidden="true">
      {Array.from({ length: count }, (_, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: strokes are counted, nothing else.
        <path key={k} d={`M${k * APART_PX + 2} 0V14`} className={k < tally.kept ? "stroke" : "stroke open"} />
      ))}
    </svg>
  );
}
