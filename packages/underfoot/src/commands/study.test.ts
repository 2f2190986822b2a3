import type { StudyReading } from "@underfoot/report";
import { expect, test } from "vitest";
import { studyText } from "./study.ts";

const said = (text: string) => ({ rule: "players", condition: "", text, inputs: [] });
const row = {
  ...{ column: "both.target.peak turf", measure: "both.target.peak", title: "Peak target force" },
  ...{ difference: "+20 N", interval: "15 to 25 N", findings: [], sentence: said("Said.") },
  ...{ say: "beyond" as const },
};
const reading = (rows: StudyReading["rows"]): StudyReading => ({
  ...{ headline: said("Over 7 players."), looks: [], notices: [], curves: [], rows },
});

test("between lies the table has the difference with the slope's share, the share, and what is left", () => {
  const [head, first, second] = studyText(
    reading([
      { ...row, raw: "+80 N", slopeShare: "+60 N" },
      { ...row, column: "lead.share.at.impact", difference: "−3 points", raw: "", slopeShare: "" },
    ]),
  )
    .split("\n")
    .slice(2)
    .filter((line) => /measure|peak|share/.test(line));
  expect(head).toMatch(/measure +B minus A +the slope alone +without the slope +95 % interval/);
  expect(first).toMatch(/both\.target\.peak turf +\+80 N +\+60 N +\+20 N +15 to 25 N/);
  expect(second).toMatch(/lead\.share\.at\.impact +−3 points +none +−3 points/);
});

test("on one lie there is nothing to take off", () => {
  const text = studyText(reading([{ ...row, raw: "", slopeShare: "" }]));
  expect(text).toMatch(/measure +B minus A +95 % interval/);
  expect(text).not.toContain("slope");
});
