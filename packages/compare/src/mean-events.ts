import { EVENT_NAMES, type EventName } from "@underfoot/domain";
import type { ComparedShot } from "./compared-shot.ts";

/** Mean time of each event over some shots, ms from impact; without those that any of the shots lacks. */
export type MeanEvents = Readonly<Partial<Record<EventName, number>>>;

/** When the events of these shots were on average: one set of event lines for all of them. */
export function meanEvents(shots: readonly ComparedShot[]): MeanEvents {
  const means = EVENT_NAMES.flatMap((event): [EventName, number][] => {
    const times = shots.map(({ eventsMs }) => eventsMs?.[event] ?? Number.NaN);
    const mean = times.reduce((sum, time) => sum + time, 0) / times.length;
    return Number.isFinite(mean) ? [[event, mean]] : [];
  });
  return Object.fromEntries(means);
}
