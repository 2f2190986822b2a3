import fc from "fast-check";
import { expect, test } from "vitest";
import { inNewtons } from "./numbers.ts";

const written = (value: number, sigma: number): { number: number; plusMinus: number } => {
  const { number, plusMinus = "±0" } = inNewtons(value, sigma);
  return { number: Number(number.replace("−", "-")), plusMinus: Number(plusMinus.slice(1)) };
};

test("rounding moves a value by no more than half its last figure, which is the uncertainty's", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -5000, max: 5000, noNaN: true }),
      fc.double({ min: 0.1, max: 900, noNaN: true }),
      (value, sigma) => {
        const { number, plusMinus } = written(value, sigma);
        const step = 10 ** Math.floor(Math.log10(plusMinus) + 1e-9);
        expect(Math.abs(number - value)).toBeLessThanOrEqual(step / 2 + 1e-9);
        expect(Math.abs(plusMinus - sigma)).toBeLessThanOrEqual(step / 2 + 1e-9);
      },
    ),
  );
});

test("a hyphen never stands for a minus", () => {
  fc.assert(fc.property(fc.double({ noNaN: true }), (value) => !inNewtons(value).text.includes("-")));
});
