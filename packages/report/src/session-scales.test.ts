import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { sessionScales } from "./session-scales.ts";
import { sheetModel } from "./sheet-model.ts";

test("the scales of a session hold each of its shots, and a sheet made with them keeps them", () => {
  const shots = [{ pitchDeg: 5 }, { pitchDeg: -5 }, { pitchDeg: 0, braking: 3 }].map(handMadeShot);
  const models = shots.map((shot) => sheetModel(shot, [], { axes: "turf" }));
  const scales = sessionScales(models);
  for (const { id, domain } of models.flatMap((model) => model.columns)) {
    expect(scales.domains?.[id]?.min).toBeLessThanOrEqual(domain.min);
    expect(scales.domains?.[id]?.max).toBeGreaterThanOrEqual(domain.max);
  }
  const again = sheetModel(shots[0]!, [], { axes: "turf", ...scales });
  expect(again.columns.map(({ id, domain }) => [id, domain])).toEqual(
    again.columns.map(({ id }) => [id, scales.domains?.[id]]),
  );
  expect(again.plan.arrowNPerM).toBe(Math.max(...models.map(({ plan }) => plan.arrowNPerM)));
});

test("a session without shots fixes nothing", () => {
  expect(sessionScales([])).toEqual({});
});
