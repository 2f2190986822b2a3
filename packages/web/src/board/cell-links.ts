import type { BoardCell } from "@underfoot/compare";
import type { PlayerAxes, ShotsAsked } from "@underfoot/domain";
import { sideText } from "../compare/choose/side-query.ts";
import { placeHref } from "../frame/place.ts";

/** Whose cells these are. */
export interface CellOwner {
  readonly playerId: string;
  readonly sessionId: string | undefined;
}

/** The shots of a cell as a question: by their facts, or one by one where nobody named the lie. */
function askedOf(
  { intent, lie, shotIds }: Pick<BoardCell, "intent" | "lie" | "shotIds">,
  { playerId, sessionId }: CellOwner,
): ShotsAsked {
  if (!isNamed(lie)) return { shotIds };
  return { playerId, ...(sessionId === undefined ? {} : { sessionId }), intent, lieName: lie };
}

/** Without a name a lie's key is its two angles. */
const isNamed = (lie: string): boolean => !/^-?[\d.]+ -?[\d.]+$/.test(lie);

/** The list of a cell's shots; of a lie without a name those of the intent on all lies. */
export function shotsHref({ intent, lie }: Pick<BoardCell, "intent" | "lie">, owner: CellOwner): string {
  return placeHref("shots", undefined, { ...owner, intent, lieName: isNamed(lie) ? lie : undefined });
}

/** A against B on Compare. */
export function compareHref(
  a: Pick<BoardCell, "intent" | "lie" | "shotIds">,
  b: Pick<BoardCell, "intent" | "lie" | "shotIds">,
  { owner, axes }: { readonly owner: CellOwner; readonly axes: PlayerAxes | undefined },
): string {
  const side = (cell: typeof a): string => sideText({ kind: "shots", asked: askedOf(cell, owner) });
  return placeHref("compare", undefined, { a: side(a), b: side(b), axes });
}

/** A cell can be compared once a shot of it counts. */
export const isComparable = ({ tally }: Pick<BoardCell, "tally">): boolean => tally.kept > 0;
