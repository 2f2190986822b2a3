import type { Measure } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { sheetModel } from "./sheet-model.ts";

const modelOf = (options: Parameters<typeof handMadeShot>[0] = {}, measures: readonly Measure[] = []) =>
  sheetModel(handMadeShot(options), measures, { axes: "turf" });

test("the sheet shows 150 ms before start to 150 ms after finish, from impact", () => {
  const model = modelOf();
  expect([model.time.startMs, model.time.endMs, model.time.zeroText]).toEqual([-1150, 650, "ms from impact"]);
  expect(model.timesMs.length).toBe(901);
  expect(model.columns.map((column) => column.id)).toEqual(["travel", "speed", "push", "ahead", "up"]);
});

test("missing start and finish give room around impact; a wanted time is kept", () => {
  const model = modelOf({ without: ["start", "finish"] });
  expect([model.time.startMs, model.time.endMs]).toEqual([-1500, 1000]);
  const wanted = sheetModel(handMadeShot(), [], { axes: "turf", startMs: -300, endMs: 100 });
  expect([wanted.timesMs[0], wanted.timesMs.at(-1)]).toEqual([expect.closeTo(-300, 6), expect.closeTo(100, 6)]);
});

test("without impact, time counts from the first sample and says so", () => {
  const model = modelOf({ without: ["start", "impact", "finish", "delivery", "top"] });
  expect([model.time.startMs, model.time.endMs]).toEqual([0, 5000]);
  expect(model.time.zeroText).toBe("ms from the first sample");
  expect(model.stair).toBeUndefined();
});

test("an estimated impact is not shown as a sure zero", () => {
  expect(modelOf({ sources: { impact: "estimated" } }).time.zeroText).toBe("ms from impact, estimated");
});

test("events carry glyph, time, source and band", () => {
  const { events } = modelOf();
  expect(events.map(({ event, glyph, detailText, isEstimated }) => [event, glyph, detailText, isEstimated])).toEqual([
    ["address", "none", "−2000 ms, middle of the quiet stance", true],
    ["start", "corner-down", "−1000 ms, est. ±50", true],
    ["top", "peak", "−500 ms, est. ±40", true],
    ["delivery", "bar", "−80 ms, marked ±4", false],
    ["impact", "ball", "0 ms, signal ±1", false],
    ["finish", "corner-up", "500 ms, est. ±60", true],
  ]);
  expect(events.map((event) => event.isInWindow)).toEqual([false, true, true, true, true, true]);
  expect([events[2]?.bandFromMs, events[2]?.bandToMs]).toEqual([-540, -460]);
});

test("lead share stands at the events", () => {
  expect(modelOf().fall.shareLabels.map((label) => label.text)).toEqual([
    "60 % lead at address",
    "60 %",
    "59 %",
    "83 %",
    "84 %",
    "89 %",
  ]);
});

test("a foot too light to place leaves a gap and a note", () => {
  const { fall } = modelOf({ lightS: [3.59, 5] });
  expect(fall.notes).toEqual(["trail foot too light to place after +90 ms"]);
  const trail = fall.trails.find((candidate) => candidate.foot === "trail")!;
  expect([trail.targetM[600], trail.targetM[640]]).toEqual([-0.2, NaN]);
});

test("a stretch without data is told apart from a light foot", () => {
  expect(modelOf({ gapS: [3.46, 3.472] }).fall.notes).toEqual([
    "no data from the lead plate from −40 to −28 ms",
    "no data from the trail plate from −40 to −28 ms",
  ]);
});

test("clocks too far apart: no combined pressure, and the fall says why", () => {
  const model = sheetModel({ ...handMadeShot(), isClockWithheld: true }, [], { axes: "turf" });
  expect(model.fall.trails.map((trail) => trail.foot)).toEqual(["lead", "trail"]);
  expect(model.fall.notes[0]).toBe("clocks too far apart: no combined pressure");
});

test("the sole holds outline, path and the events' places; delivery is read from the measure", () => {
  const heelToe: Measure = {
    id: "lead.heelToe.at.delivery",
    value: 51.5,
    unit: "%",
    sigma: 2,
    sigmaShared: 1,
    axes: undefined,
    isValid: true,
  };
  const { sole } = modelOf({}, [heelToe]);
  if (sole.kind !== "traced") throw new Error("the sole is traced");
  expect(sole.lengthM).toBeCloseTo(0.3);
  expect(sole.points.map((point) => point.event)).toContain("delivery");
  expect(sole.points.find((point) => point.event === "delivery")?.heelToePercent).toBeCloseTo(51.5, 1);
  expect([sole.delivery.heelToe.text, sole.delivery.heelToe.plusMinus]).toEqual(["52 %", "±2"]);
  const invalid = modelOf({}, [{ ...heelToe, isValid: false, why: "lead foot too light" }]).sole;
  expect(invalid).toMatchObject({ delivery: { why: "lead foot too light" } });
});

test("without an outline the sole says why and what to do", () => {
  expect(modelOf({ isTraced: false }).sole).toEqual({
    kind: "missing",
    title: "Lead foot: pressure",
    why: "The lead foot is not traced.",
    remedy: "Trace it on its plate.",
  });
});

test("the table twin gives every column at every event with unit and uncertainty", () => {
  const share: Measure = {
    id: "lead.share.at.delivery",
    value: 83,
    unit: "%",
    sigma: 0.9,
    sigmaShared: 0.3,
    axes: undefined,
    isValid: true,
  };
  const speed: Measure = {
    ...share,
    id: "both.speedTarget.at.impact",
    value: NaN,
    unit: "m/s",
    axes: "turf",
    isValid: false,
    why: "gap",
  };
  const { table } = modelOf({}, [share, { ...share, id: "lead.share.at.top", isValid: false, why: "gap" }, speed]);
  expect(table.rows.map((row) => row.title)).toEqual([
    "Lead share",
    "Travel",
    "Speed",
    "Push to target",
    "Ahead",
    "Up",
  ]);
  expect(table.heads.map((head) => head.event)).toHaveLength(6);
  const cell = (row: number, event: string) => table.rows[row]!.cells.find((candidate) => candidate.event === event)!;
  expect([cell(0, "delivery").value.text, cell(0, "delivery").value.plusMinus]).toEqual(["83.0 %", "±0.9"]);
  expect(cell(0, "top")).toMatchObject({ why: "gap", value: { text: "not known" } });
  expect(cell(2, "impact")).toMatchObject({ why: "gap" });
  expect(cell(3, "delivery").value).toMatchObject({ text: "104 N", plusMinus: "±3" });
  expect(cell(3, "address").value.text).toBe("not known");
});
