import type { PointShape } from "@underfoot/protocol";

/** One condition of this player's earlier shots, with the values of a measure. */
export interface EarlierCondition {
  /** Names it, for a choice. */
  readonly key: string;
  readonly words: string;
  readonly values: readonly number[];
}

/**
 * The values of a measure by condition, the conditions with most shots first. Only shots that were kept, with a value,
 * and of other sessions than the one that is being planned. Sessions are kept apart: from day to day a player shifts, and
 * that is no scatter of single shots.
 */
export function earlierConditions(points: readonly PointShape[], sessionId: string): readonly EarlierCondition[] {
  const found = new Map<string, { words: string; values: number[] }>();
  for (const point of points) {
    if (point.label !== "kept" || point.value === null || point.sessionId === sessionId) continue;
    if (point.intent === undefined || point.lieName === undefined) continue;
    const words = `${point.intent} on ${point.lieName}${point.club === undefined ? "" : ` with ${point.club}`}, ${point.day}`;
    const key = JSON.stringify([point.sessionId ?? point.day, point.intent, point.lieName, point.club]);
    const condition = found.get(key) ?? { words, values: [] };
    condition.values.push(point.value);
    found.set(key, condition);
  }
  return [...found]
    .map(([key, condition]) => ({ key, ...condition }))
    .toSorted((a, b) => b.values.length - a.values.length);
}
