import { describe, expect, it } from "vitest";
import { TEXT_UNITS, textUnit, unitInName } from "./text-units.ts";

describe("textUnit", () => {
  // Factors: NIST Special Publication 811, appendix B (kgf, lbf, in); values typed from memory.
  it.each([
    ["kgf", 9.80665],
    ["lbf", 0.45359237 * 9.80665],
    ["kN", 1000],
    ["N mm", 0.001],
    ["N cm", 0.01],
    ["kgf m", 9.80665],
    ["in", 0.0254],
    ["cm", 0.01],
    ["mV", 0.001],
    ["us", 1e-6],
  ])("1 %s is %d in SI", (text, factor) => {
    expect(textUnit(text)?.toSi).toBeCloseTo(factor, 15);
  });

  it("reads the common spellings as one unit", () => {
    for (const text of ["Nm", "N-m", "N.m", "N*m", "N·m", "N m", " Nm "]) expect(textUnit(text)?.symbol).toBe("N m");
    for (const text of ["Nmm", "N.mm", "N-mm"]) expect(textUnit(text)?.symbol).toBe("N mm");
    for (const text of ["sec", "Seconds", "s"]) expect(textUnit(text)?.symbol).toBe("s");
    for (const text of ["µs", "μs", "us"]) expect(textUnit(text)?.symbol).toBe("us");
    for (const { symbol } of TEXT_UNITS) expect(textUnit(symbol)?.symbol).toBe(symbol);
  });

  it("takes nothing else for a unit: capitals count, and pounds may be mass", () => {
    for (const text of ["n", "nm", "MM", "kg", "lb", "", "constructor", "Hz"]) expect(textUnit(text)).toBeUndefined();
  });
});

describe("unitInName", () => {
  it.each([
    ["Time (s)", "s"],
    ["GRF[N]", "N"],
    ["Fz (left) [N]", "N"],
    ["Fz / N", "N"],
    ["Fz/left", ""],
    ["Channel 0", ""],
    ["Left (of two)", "of two"],
  ])("finds in %j the unit words %j", (name, unit) => {
    expect(unitInName(name)).toBe(unit);
  });
});
