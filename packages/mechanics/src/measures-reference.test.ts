// Whole shots from a simulator written apart (another language, another hand; reference/mechanics.py), truth known.
import { existsSync, readFileSync } from "node:fs";
import type { Recording } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import table from "../../../reference/mechanics-shot.json" with { type: "json" };
import { type WholeShotTable, wholeShotFacts, wholeShotRecording } from "../../../reference/whole-shot.ts";
import { measuresFromShot } from "./measures.ts";
import { DEFAULT_SETTINGS } from "./settings.ts";
import type { Measure } from "./shot.ts";
import { shotFromRecording } from "./shot-from-recording.ts";

/** Full-rate tables of three shots, two of them with sensor errors; absent in many checkouts. */
const TABLES = new URL("../../../../shared/data/checks/mechanics/", import.meta.url);
const NAMES = ["right-flat-stock", "right-upslope-high", "left-downslope-low"];

function fullTable(name: string): { readonly facts: WholeShotTable; readonly recording: Recording } {
  const facts = JSON.parse(readFileSync(new URL(`shot-${name}.json`, TABLES), "utf8")) as WholeShotTable;
  const lines = readFileSync(new URL(`shot-${name}.csv`, TABLES), "utf8")
    .trim()
    .split("\n")
    .slice(1);
  return {
    facts,
    recording: wholeShotRecording(
      facts,
      lines.map((line) => line.split(",").map(Number)),
    ),
  };
}

/**
 * The measure that a row of the table is the truth of. Rows without brackets of forces are of turf axes. The tables count
 * copAhead from their origin, the catalogue from the middle between the soles' midpoints.
 */
function pairs(facts: WholeShotTable, measures: readonly Measure[]): { measure: Measure; truth: number; id: string }[] {
  const { lead, trail } = facts.feet;
  const middleMm = [lead.heel, lead.toe, trail.heel, trail.toe].reduce((sum, end) => sum + 250 * end[1]!, 0);
  return Object.entries(facts.true_measures).flatMap(([key, value]) => {
    const [id = "", bracket] = key.split(" ");
    const axes = bracket === undefined ? undefined : bracket.slice(1, -1);
    const measure = measures.find((m) => m.id === id && (m.axes === undefined || m.axes === (axes ?? "turf")));
    if (measure === undefined) return [];
    return [{ id: key, measure, truth: id.startsWith("both.copAhead") ? value - middleMm : value }];
  });
}

function expectWithin3Sigma(facts: WholeShotTable, recording: Recording): number {
  const settings = { ...DEFAULT_SETTINGS, crosstalkSigma: 0.003 };
  const measures = measuresFromShot(shotFromRecording(recording, wholeShotFacts(facts), settings));
  const found = pairs(facts, measures);
  for (const { id, measure, truth } of found) {
    if (!measure.isValid) expect(["two peaks", "foot too light"], id).toContain(measure.why);
    else expect([id, Math.abs(measure.value - truth) <= 3 * measure.sigma]).toEqual([id, true]);
  }
  return found.length;
}

describe("measures of whole shots from a simulator written apart", () => {
  const facts = table.facts as unknown as WholeShotTable;
  const recording = wholeShotRecording(facts, table.samples);

  test("every one lies within three of its own sigmas of the truth", () => {
    expect(expectWithin3Sigma(facts, recording)).toBeGreaterThan(70);
  });

  test("with exact sensors peaks are within 0.1 % of the largest force or torque, their times within 2 ms", () => {
    const measures = measuresFromShot(shotFromRecording(recording, wholeShotFacts(facts)));
    const rows = pairs(facts, measures).filter(({ measure }) => measure.isValid);
    const scale: Readonly<Record<string, number>> = { N: 1e-3 * 900, "N m": 1e-3 * 45, ms: 2, "1": 1e-3, "%": 0.1 };
    let seen = 0;
    for (const { id, measure, truth } of rows) {
      if (!/\.(peak|peakTime)( |$)/.test(id)) continue;
      seen += 1;
      expect([id, Math.abs(measure.value - truth) < scale[measure.unit]!]).toEqual([id, true]);
    }
    expect(seen).toBeGreaterThan(12);
  });

  test.skipIf(!existsSync(TABLES)).each(NAMES)("%s, full rate: every one within three of its own sigmas", (name) => {
    const full = fullTable(name);
    expect(expectWithin3Sigma(full.facts, full.recording)).toBeGreaterThan(70);
  });
});
