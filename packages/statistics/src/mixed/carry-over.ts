import type { Values } from "../samples.ts";

/**
 * Columns for what the condition before leaves behind: one for each condition but the smallest, 1 where the shot before it in the same block was
 * of that condition; the first shot of a block has none.
 *
 * @param condition  of each shot, in the order they were hit
 * @param block      player, session or block of each shot, in the same order
 */
export function carryOverColumns(condition: Values, block: Values): readonly Float64Array<ArrayBuffer>[] {
  const names = [...new Set(Array.from(condition))].sort((a, b) => a - b);
  const before = new Map<number, number>();
  const previous = Array.from(condition, (one, k) => {
    const found = before.get(block[k]!);
    before.set(block[k]!, one);
    return found;
  });
  return names.slice(1).map((name) => Float64Array.from(previous, (one) => (one === name ? 1 : 0)));
}
