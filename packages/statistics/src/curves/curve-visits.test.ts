import { describe, expect, it } from "vitest";
import { visitScatter } from "../planning/visits.ts";
import { visitMeanCurves } from "./curve-visits.ts";

describe("curves of visits", () => {
  const rows = [
    [1, 10],
    [3, 10],
    [5, 20],
    [7, 20],
    [4, 16],
    [100, 0],
  ];
  const visited = {
    curves: { values: rows.flat(), countPoints: 2 },
    lies: [0, 0, 1, 1, 0, 2],
    visits: [0, 0, 1, 1, 2, 3],
  };
  it("are means of the shots of each visit, with the largest difference between two visits to one lie", () => {
    const means = visitMeanCurves(visited);
    expect([...Float64Array.from(means.curves.values)]).toEqual([2, 10, 6, 20, 4, 16, 100, 0]);
    expect(means.lies).toEqual([0, 1, 0, 2]);
    expect([...means.largestDifference]).toEqual([2, 6]);
  });
  it("say the same at each point as the scatter of visits of one measure", () => {
    const { largestDifference } = visitMeanCurves(visited);
    for (const q of [0, 1]) {
      const values = rows.map((row) => row[q]!);
      expect(largestDifference[q]).toBe(visitScatter({ ...visited, values }).largestDifference);
    }
  });
  it("have none where no lie was visited twice", () => {
    const once = { ...visited, visits: [0, 0, 1, 1, 0, 3] };
    expect(visitMeanCurves(once).largestDifference[0]).toBeNaN();
  });
});
