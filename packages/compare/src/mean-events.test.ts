import { expect, test } from "vitest";
import { shotsOf } from "./hand-made-shots.ts";
import { meanEvents } from "./mean-events.ts";

test("event lines stand at the mean of all shots; an event that one of them lacks has no line", () => {
  const [one, other] = shotsOf("low", { m: [1, 2] });
  if (one === undefined || other === undefined) throw new RangeError("two shots were asked for");
  const both = [
    { ...one, eventsMs: { top: -300, delivery: -50, impact: 0 } },
    { ...other, eventsMs: { top: -200, impact: 0 } },
  ];
  expect(meanEvents(both)).toEqual({ top: -250, impact: 0 });
  expect(meanEvents([one])).toEqual({});
  expect(meanEvents([])).toEqual({});
});
