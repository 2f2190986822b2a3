import { STANDARD_GRAVITY_M_PER_S2 } from "@underfoot/domain";
import type { PointShape } from "@underfoot/protocol";

export interface DayMass {
  readonly day: string;
  readonly massKg: number;
  /** Of the mean, from the scatter of the shots; undefined with one. */
  readonly sdKg: number | undefined;
}

/** The mean mass of each day's quiet stances, latest day first, from weights in N (standard gravity). */
export function massesByDay(points: readonly PointShape[]): readonly DayMass[] {
  const days = new Map<string, number[]>();
  for (const { day, value, label } of points)
    if (value !== null && label !== "set-aside")
      days.set(day, [...(days.get(day) ?? []), value / STANDARD_GRAVITY_M_PER_S2]);
  return [...days]
    .map(([day, masses]) => {
      const n = masses.length;
      const massKg = masses.reduce((sum, mass) => sum + mass, 0) / n;
      const squares = masses.reduce((sum, mass) => sum + (mass - massKg) ** 2, 0);
      return { day, massKg, sdKg: n > 1 ? Math.sqrt(squares / (n - 1) / n) : undefined };
    })
    .sort((a, b) => (a.day < b.day ? 1 : -1));
}
