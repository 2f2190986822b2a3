import { catalogueEntry } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { askFromQuery, type BoardAsk, curveOfMeasure, queryFromAsk } from "./board-address.ts";

const withMeasure = (ask: BoardAsk, id: string): BoardAsk => {
  const entry = catalogueEntry(id);
  if (entry === undefined) throw new RangeError(`no measure ${id}`);
  return { ...ask, entry, axes: entry.axes[0] };
};

test("every measure looked at on the same shots stays in the address and counts as a look", () => {
  const first = askFromQuery({ playerId: "p", sessionId: "s" });
  expect([first.entry.id, first.looked.length]).toEqual(["lead.share.at.delivery", 1]);
  expect(queryFromAsk(first)["measures"]).toBeUndefined();
  const query = queryFromAsk(withMeasure(first, "both.target.peak"));
  expect(query).toMatchObject({ playerId: "p", sessionId: "s", measure: "both.target.peak", axes: "turf" });
  const second = askFromQuery(query as Record<string, string>);
  expect(second.looked).toEqual(["lead.share.at.delivery", "both.target.peak"]);
  expect(askFromQuery(queryFromAsk(second) as Record<string, string>).looked).toHaveLength(2);
});

test("a measure that is not known, or is no number, is named and the first one shown instead", () => {
  expect(askFromQuery({ measure: "both.nothing" })).toMatchObject({ unread: "both.nothing" });
  expect(askFromQuery({ measure: "both.nothing" }).looked).toEqual(["lead.share.at.delivery"]);
  expect(askFromQuery({ measure: "lead.share.at.impact" }).unread).toBeUndefined();
});

test("axes are those of the measure: level where asked for, none where they make no difference", () => {
  expect(askFromQuery({ measure: "both.target.peak", axes: "level" }).axes).toBe("level");
  expect(askFromQuery({ measure: "both.target.peak", axes: "sky" }).axes).toBe("turf");
  expect(askFromQuery({ measure: "lead.share.at.impact", axes: "level" }).axes).toBeUndefined();
});

test("the cells show the curve of the measure's quantity, in its axes, where there is one", () => {
  const curveOf = (measure: string, axes = "turf") => curveOfMeasure(askFromQuery({ measure, axes }));
  expect(curveOf("both.target.peak", "level")).toBe("both.target level");
  expect(curveOf("both.target.peakTime")).toBe("both.target turf");
  expect(curveOf("lead.share.at.delivery")).toBe("lead.share");
  expect(curveOf("lead.heelToe.at.delivery")).toBeUndefined();
});
