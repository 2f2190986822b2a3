/** A cell by its place: row of its intent, column of its lie, both from 0. */
export interface CellPlace {
  readonly row: number;
  readonly column: number;
}

export interface BoardSize {
  readonly rows: number;
  readonly columns: number;
  /** One column on the screen, the lies of an intent under each other: up and down then go through all cells. */
  readonly isStacked: boolean;
}

const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
};

/** Where an arrow key leads from a cell; undefined beyond the edge, and for every other key. */
export function cellBeside(
  { row, column }: CellPlace,
  key: string,
  { rows, columns, isStacked }: BoardSize,
): CellPlace | undefined {
  const step = STEPS[key];
  if (step === undefined) return undefined;
  if (isStacked && step[0] !== 0) {
    const at = row * columns + column + step[0];
    return at < 0 || at >= rows * columns ? undefined : { row: Math.floor(at / columns), column: at % columns };
  }
  const to = { row: row + step[0], column: column + step[1] };
  return to.row < 0 || to.row >= rows || to.column < 0 || to.column >= columns ? undefined : to;
}
