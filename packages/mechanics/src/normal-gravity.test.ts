import { describe, expect, it } from "vitest";
import reference from "../../../reference/mechanics.json" with { type: "json" };
import { normalGravity } from "./normal-gravity.ts";

describe("normal gravity", () => {
  it("is the published WGS84 value at 0, 45 and 90 degrees (9.7803253359, 9.80619777, 9.8321849379)", () => {
    expect(normalGravity(0, 0)).toBeCloseTo(9.7803253359, 10);
    expect(normalGravity(45, 0)).toBeCloseTo(9.80619777, 8);
    expect(normalGravity(90, 0)).toBeCloseTo(9.8321849379, 9);
  });

  it("agrees with both tables", () => {
    for (const row of reference.gravity) {
      expect(Math.abs(normalGravity(row.latitude_deg, row.height_m) - row.g_m_per_s2)).toBeLessThan(1e-9);
    }
    for (const row of reference.second.gravity.cases) {
      expect(Math.abs(normalGravity(row.latitude, row.heightM) / row.g - 1)).toBeLessThan(1e-12);
    }
  });
});
