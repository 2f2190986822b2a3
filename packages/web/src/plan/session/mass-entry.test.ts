import { expect, test } from "vitest";
import { kgFromMass, massFromKg } from "./mass-entry.ts";

test("pounds are kilograms by the international pound, 0.45359237 kg", () => {
  // 150 lb = 68.0388555 kg: NIST SP 811, appendix B.8, pound (avoirdupois) times 4.5359237 E-01.
  expect(kgFromMass(150, "lb")).toBeCloseTo(68.0388555, 9);
  expect(kgFromMass(20, "kg")).toBe(20);
  expect(massFromKg(68.0388555, "lb")).toBe(150);
  expect(massFromKg(20.004, "kg")).toBe(20);
});
