import { standardDeviation } from "@underfoot/statistics";
import type { Design } from "./design.ts";

/** Median ratio of the sds, either way round, from which the sides scatter differently (own choice, by simulation: `npm run bench -- honesty`). */
const MOST_EVEN_RATIO = 4 / 3;

/**
 * Whether the sides scatter differently as a whole: the median, over every measure that all shots have, of sd B over sd A. Not over the measures
 * looked at: looking at one more must change nothing.
 *
 * A single ratio of six shots is too uncertain to tell: guarded by it alone, equal means were called beyond in 11 of 100 sessions in which B
 * scattered twice as much.
 */
export function isScatterUneven({ shots, groups, kind }: Design): boolean {
  // Pairs are judged by their differences, which have one scatter.
  if (kind === "paired") return false;
  const [first, ...others] = shots;
  const columns = [...(first?.measures.keys() ?? [])].filter((column) =>
    others.every(({ measures }) => measures.has(column)),
  );
  const logRatios = columns.flatMap((column) => {
    const values = shots.map(({ measures }) => measures.get(column)?.value ?? Number.NaN);
    const [a, b] = [0, 1].map((side) => standardDeviation(values.filter((_, k) => groups[k] === side))) as [
      number,
      number,
    ];
    const logRatio = Math.log(b) - Math.log(a);
    return Number.isFinite(logRatio) ? [logRatio] : [];
  });
  // The middle of logarithms is the same either way round.
  const ordered = logRatios.sort((one, other) => one - other);
  const upper = ordered[Math.floor(ordered.length / 2)];
  const lower = ordered[Math.floor((ordered.length - 1) / 2)];
  return upper !== undefined && lower !== undefined && Math.abs(upper + lower) / 2 > Math.log(MOST_EVEN_RATIO);
}
