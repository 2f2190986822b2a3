import fc from "fast-check";
import { expect, test } from "vitest";
import { butterworthLowPass, type LowPass } from "./low-pass.ts";
import { zeroPhase } from "./zero-phase.ts";

const signal = fc
  .array(fc.double({ min: -2000, max: 2000, noNaN: true }), { minLength: 30, maxLength: 120 })
  .map((values) => Float64Array.from(values));
const filter = fc
  .record({ cutoffHz: fc.double({ min: 5, max: 90, noNaN: true }), rateHz: fc.constantFrom(200, 500, 1000) })
  .map(butterworthLowPass);

function expectClose(found: Float64Array, wanted: Float64Array, tolerance: number): void {
  found.forEach((value, i) => {
    expect(Math.abs(value - wanted[i]!)).toBeLessThan(tolerance);
  });
}

test("it is linear", () => {
  fc.assert(
    fc.property(signal, fc.double({ min: -3, max: 3, noNaN: true }), filter, (x, factor, low) => {
      const other = x.map((_, i) => 100 * Math.sin(i * 0.7));
      const together = zeroPhase(
        x.map((value, i) => factor * value + other[i]!),
        low,
      );
      const apart = zeroPhase(x, low);
      const rest = zeroPhase(other, low);
      expectClose(
        together,
        apart.map((value, i) => factor * value + rest[i]!),
        1e-7,
      );
    }),
  );
});

test("it knows no direction of time, where the signal is at rest at both ends", () => {
  fc.assert(
    fc.property(signal, (middle) => {
      // The passes start in different ends; with rest long enough for the transient to die, order does not matter.
      const x = new Float64Array(middle.length + 1200);
      x.set(middle, 600);
      const low: LowPass = butterworthLowPass({ cutoffHz: 25, rateHz: 1000 });
      expectClose(zeroPhase(x.slice().reverse(), low).reverse(), zeroPhase(x, low), 1e-7);
    }),
    { numRuns: 30 },
  );
});

const size = fc.double({ min: -1000, max: 1000, noNaN: true });

test("a constant passes unchanged", () => {
  fc.assert(
    fc.property(size, fc.integer({ min: 30, max: 200 }), filter, (level, n, low) => {
      const x = new Float64Array(n).fill(level);
      expectClose(zeroPhase(x, low), x, 1e-8);
    }),
  );
});

test("a ramp passes unchanged away from its ends", () => {
  const low = butterworthLowPass({ cutoffHz: 25, rateHz: 500 });
  fc.assert(
    fc.property(size, size, fc.integer({ min: 400, max: 600 }), (level, rise, n) => {
      const x = Float64Array.from({ length: n }, (_, i) => level + (rise * i) / n);
      expectClose(zeroPhase(x, low).subarray(100, n - 100), x.subarray(100, n - 100), 1e-7);
    }),
  );
});
