import { expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { cumulativeTrapezoid } from "./cumulative-trapezoid.ts";

test("equals scipy.integrate.cumulative_trapezoid with initial=0", () => {
  cumulativeTrapezoid(Float64Array.from(scipy.x), 200).forEach((value, i) => {
    expect(Math.abs(value - scipy.cumulativeTrapezoid[i]!)).toBeLessThan(1e-9);
  });
});

test("a falling force that changes sign: the speed never turns back (closed form)", () => {
  // 100 cos(pi t) N on 80 kg, 0..1 s: speed 100 / (80 pi) sin(pi t), travel 100 / (80 pi²) (1 - cos(pi t)).
  const acceleration = Float64Array.from({ length: 1001 }, (_, i) => (100 / 80) * Math.cos((Math.PI * i) / 1000));
  const speed = cumulativeTrapezoid(acceleration, 1000);
  const travel = cumulativeTrapezoid(speed, 1000);
  expect(speed[500]).toBeCloseTo(0.3979, 4);
  expect(Math.min(...speed)).toBeGreaterThan(-1e-12);
  expect(travel[1000]).toBeCloseTo(0.2533, 4);
});

test("0, 1 and 2 samples, in place, missing", () => {
  expect(cumulativeTrapezoid(new Float64Array(0), 10)).toHaveLength(0);
  expect([...cumulativeTrapezoid(Float64Array.of(7), 10)]).toEqual([0]);
  const x = Float64Array.of(1, 3, Number.NaN, 4);
  expect([...cumulativeTrapezoid(x, 10, x)]).toEqual([0, 0.2, NaN, NaN]);
  expect([...cumulativeTrapezoid(Float64Array.of(Number.NaN, 1), 10)]).toEqual([NaN, NaN]);
  expect(() => cumulativeTrapezoid(x, 10, new Float64Array(3))).toThrow(RangeError);
});
