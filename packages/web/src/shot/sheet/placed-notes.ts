/** A word that wants to stand beside a point of a curve. */
export interface NoteWish {
  readonly key: string;
  /** One or two lines. */
  readonly lines: readonly string[];
  /** Its point, px. */
  readonly x: number;
  readonly y: number;
  /** Sides of the point where it may stand, the better one first. */
  readonly sides: readonly ("left" | "right")[];
  /** Space between the point and the word, px. */
  readonly gapPx: number;
  /** How far it may move up or down from its point, px. */
  readonly reachPx: number;
}

export interface PlacedNote {
  readonly key: string;
  readonly lines: readonly string[];
  /** Where the text begins or ends, and the baseline of its first line. */
  readonly x: number;
  readonly baseline: number;
  readonly anchor: "start" | "end";
}

export interface Area {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Mean width of a letter of 12.5 px text, and height of a line (measured on the page's font, rounded up). */
const LETTER_PX = 7.3;
const LINE_PX = 15;

/**
 * Places words so that none covers another: in the order given, each at the first free place beside its point, moving
 * away from it step by step; one that finds none is left out.
 * @param taken   areas that are already used
 * @param within  where words may stand
 */
export function placedNotes(wishes: readonly NoteWish[], taken: readonly Area[], within: Area): readonly PlacedNote[] {
  const used: Area[] = [...taken];
  const placed: PlacedNote[] = [];
  for (const wish of wishes) {
    const found = places(wish).find(
      ({ area }) => isInside(area, within) && !used.some((other) => overlaps(area, other)),
    );
    if (found === undefined) continue;
    used.push(found.area);
    placed.push(found.note);
  }
  return placed;
}

function places(wish: NoteWish): readonly { readonly note: PlacedNote; readonly area: Area }[] {
  const width = Math.max(...wish.lines.map((line) => line.length)) * LETTER_PX;
  const height = wish.lines.length * LINE_PX;
  const shifts = [0];
  for (let shift = LINE_PX; shift <= wish.reachPx; shift += LINE_PX) shifts.push(shift, -shift);
  return shifts.flatMap((shift) =>
    wish.sides.map((side) => {
      const x = side === "right" ? wish.x + wish.gapPx : wish.x - wish.gapPx;
      const top = wish.y + shift - height / 2;
      const area = {
        left: side === "right" ? x : x - width,
        right: side === "right" ? x + width : x,
        top,
        bottom: top + height,
      };
      const { key, lines } = wish;
      return { note: { key, lines, x, baseline: top + 11, anchor: side === "right" ? "start" : "end" } as const, area };
    }),
  );
}

const overlaps = (a: Area, b: Area): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
const isInside = (a: Area, within: Area): boolean =>
  a.left >= within.left && a.right <= within.right && a.top >= within.top && a.bottom <= within.bottom;

/** The same text in two lines where it is long, broken at the space nearest its middle. */
export function brokenInTwo(text: string, longest: number): readonly string[] {
  if (text.length <= longest) return [text];
  const spaces = [...text.matchAll(/[ ]/g)].map((match) => match.index);
  const middle = text.length / 2;
  const [at] = spaces.sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle));
  return at === undefined ? [text] : [text.slice(0, at), text.slice(at + 1)];
}

/**
 * Heights pushed apart so that each has its own room below it, nearest to their own in least squares
 * (pooling adjacent violators: Barlow et al., Statistical Inference under Order Restrictions, 1972; from memory).
 * @param wantedPx  ascending
 * @param roomPx    what each needs before the next one
 * @param bottomPx  the last one does not pass it
 */
export function spreadApart(
  wantedPx: readonly number[],
  roomPx: readonly number[],
  bottomPx: number,
): readonly number[] {
  let offset = 0;
  const offsets = wantedPx.map((_, k) => {
    offset += k === 0 ? 0 : (roomPx[k - 1] ?? 0);
    return offset;
  });
  const pools: { sum: number; count: number }[] = [];
  wantedPx.forEach((wanted, k) => {
    let pool = { sum: wanted - offsets[k]!, count: 1 };
    for (let last = pools.at(-1); last && last.sum / last.count > pool.sum / pool.count; last = pools.at(-1)) {
      pool = { sum: pool.sum + last.sum, count: pool.count + last.count };
      pools.pop();
    }
    pools.push(pool);
  });
  const most = bottomPx - offset;
  const levels = pools.flatMap(({ sum, count }) => Array<number>(count).fill(Math.min(most, sum / count)));
  return levels.map((level, k) => level + offsets[k]!);
}
