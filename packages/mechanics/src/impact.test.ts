import { random } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { soundImpact, soundImpacts, triggerImpact, triggerImpacts } from "./impact.ts";

describe("impact from a trigger", () => {
  it("is the first rising edge through half the step, between samples", () => {
    const values = Float64Array.from({ length: 1000 }, (_, i) => (i < 400 ? 0.1 : i === 400 ? 2 : 5));
    const found = triggerImpact({ values }, 1000)!;
    expect(found.sigmaMs).toBe(0.5);
    expect(found.timeS).toBeCloseTo((400 + (2.55 - 2) / 3) / 1000, 12);
  });

  it("is not found on a channel of noise, a constant or a falling edge", () => {
    const draw = random(3, "noise");
    for (const values of [
      Float64Array.from({ length: 2000 }, () => draw.normal()),
      new Float64Array(100).fill(5),
      Float64Array.from({ length: 100 }, (_, i) => (i < 50 ? 5 : 0)),
      new Float64Array(0),
    ]) {
      expect(triggerImpact({ values }, 1000)).toBeUndefined();
    }
  });
});

describe("the impacts of a whole session", () => {
  const impactsS = [1.5, 9.25, 17];

  it("are the rising edges of the trigger, a bounce within a second counting nothing", () => {
    const values = new Float64Array(20_000).fill(0.1);
    for (const timeS of impactsS) {
      values.fill(5, 1000 * timeS, 1000 * timeS + 50);
      values.fill(5, 1000 * timeS + 80, 1000 * timeS + 90);
    }
    const found = [...triggerImpacts({ values }, 1000)].map(({ timeS }) => timeS);
    expect(found).toHaveLength(3);
    for (const [k, timeS] of found.entries()) expect(Math.abs(timeS - impactsS[k]!)).toBeLessThan(0.001);
  });

  it("are the clicks of the sound, its echo within a second counting nothing", () => {
    const draw = random(5, "sound");
    const rateHz = 2000;
    const values = Float64Array.from({ length: 20 * rateHz }, () => draw.normal());
    for (const timeS of impactsS.flatMap((one) => [one, one + 0.2])) {
      for (let i = 0; i < 20; i++)
        values[timeS * rateHz + i]! += 60 * Math.exp(-i / 6) * Math.cos(2 * Math.PI * 0.31 * i);
    }
    const found = [...soundImpacts({ values }, rateHz)].map(({ timeS }) => timeS);
    expect(found).toHaveLength(3);
    for (const [k, timeS] of found.entries()) expect(Math.abs(timeS - impactsS[k]!)).toBeLessThan(0.00101);
  });
});

describe("impact from sound", () => {
  /** Noise of sd 1 and at 1.5 s a click that dies away within some milliseconds. */
  const clicked = (rateHz: number, size: number) => {
    const draw = random(5, "sound");
    return Float64Array.from({ length: 3 * rateHz }, (_, i) => {
      const t = i / rateHz - 1.5;
      return (
        draw.normal() + (t < 0 ? 0 : size * Math.exp(-t / 0.003) * Math.cos(2 * Math.PI * 0.31 * (i - 1.5 * rateHz)))
      );
    });
  };

  it("is the click within 1 ms, at the rate of sound cards and of plates", () => {
    for (const rateHz of [1000, 2000, 44100]) {
      const found = soundImpact({ values: clicked(rateHz, 60) }, rateHz)!;
      expect(found.sigmaMs).toBe(1);
      expect(Math.abs(found.timeS - 1.5)).toBeLessThan(0.00101);
    }
  });

  it("counts the way of the sound from the ball: 3.43 m are 10 ms", () => {
    const near = soundImpact({ values: clicked(2000, 60) }, 2000)!;
    const far = soundImpact({ values: clicked(2000, 60) }, 2000, { distanceM: 3.43 })!;
    expect(near.timeS - far.timeS).toBeCloseTo(0.01, 12);
  });

  it("is not found where nothing stands out", () => {
    expect(soundImpact({ values: clicked(2000, 0) }, 2000)).toBeUndefined();
    expect(soundImpact({ values: new Float64Array(2000) }, 2000)).toBeUndefined();
  });
});
