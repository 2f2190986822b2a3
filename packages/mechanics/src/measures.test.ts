import { describe, expect, test } from "vitest";
import { bwFromN, CATALOGUE, catalogueEntry } from "./catalogue.ts";
import { bump, handMadeShot, rectangularSole } from "./hand-made-shot.ts";
import { findingsFromMeasures } from "./measure-findings.ts";
import { measuresFromShot } from "./measures.ts";
import type { Measure, Shot } from "./shot.ts";

function measure(shot: Shot, id: string, axes?: "turf" | "level"): Measure {
  const found = measuresFromShot(shot).filter((m) => m.id === id && (axes === undefined || m.axes === axes));
  expect(found, id).toHaveLength(1);
  return found[0]!;
}

describe("measures of a shot made by hand", () => {
  test("every entry of the catalogue is there once for each of its axes, in its order, with its unit", () => {
    const wanted = CATALOGUE.flatMap(({ id, axes, unit }) => axes.map((a) => `${id} ${a} ${unit}`));
    expect(measuresFromShot(handMadeShot()).map(({ id, axes, unit }) => `${id} ${axes} ${unit}`)).toEqual(wanted);
  });

  test("load share, loads and weight of a quiet stance of 500 N and 300 N", () => {
    const shot = handMadeShot({ lead: { upN: () => 500 }, trail: { upN: () => 300 } });
    expect(measure(shot, "lead.share.at.address").value).toBeCloseTo(62.5, 12);
    expect(measure(shot, "lead.share.at.impact").value).toBeCloseTo(62.5, 12);
    expect(measure(shot, "lead.load.at.address").value).toBeCloseTo(500, 10);
    expect(measure(shot, "trail.load.at.impact").value).toBeCloseTo(300, 10);
    expect(measure(shot, "both.weight.mean")).toMatchObject({ value: 800, sigma: 4, sigmaShared: 4, unit: "N" });
    expect(bwFromN(960, 800)).toBe(1.2);
  });

  test("share by closed form: sigma of two gains of 0.5 % and two zeros of 2 N", () => {
    // d share = 100 ((1 - s) dL - s dT) / load, dL = hypot(0.005 L, 2), noise of the filter aside (address)
    const shot = handMadeShot({ lead: { upN: () => 500 }, trail: { upN: () => 300 } });
    const expected = (100 * Math.hypot(0.375 * Math.hypot(2.5, 2), 0.625 * Math.hypot(1.5, 2))) / 800;
    expect(measure(shot, "lead.share.at.address").sigma).toBeCloseTo(expected, 3);
  });

  test("a peak is read to a part of a sample, in N and ms from impact", () => {
    const shot = handMadeShot({ lead: { upN: (t) => 400 + 200 * bump(2.8004, 0.2)(t) } });
    const peak = measure(shot, "both.up.peak", "turf");
    expect(peak.value).toBeCloseTo(1000, 4);
    expect(measure(shot, "both.up.peakTime", "turf").value).toBeCloseTo(-149.6, 2);
    expect(measure(shot, "lead.up.peak", "turf").value).toBeCloseTo(600, 4);
    expect(peak.slopeShare).toBeCloseTo(0, 12);
    // gain: hypot(0.5 % of 600 N, 0.5 % of 400 N); zeros: 2 N each; noise sqrt(2) x 0.228 x 0.5 N
    expect(peak.sigma).toBeCloseTo(Math.hypot(3, 2, 2, 2, Math.SQRT2 * 0.2279 * 0.5), 1);
    expect(peak.sigmaShared).toBeCloseTo(Math.hypot(3, 2, 2, 2), 2);
  });

  test("two equal peaks have a height but no time", () => {
    const shot = handMadeShot({ lead: { upN: (t) => 400 + 200 * bump(2.5, 0.1)(t) + 200 * bump(2.8, 0.1)(t) } });
    expect(measure(shot, "both.up.peak", "turf").isValid).toBe(true);
    const time = measure(shot, "both.up.peakTime", "turf");
    expect(time).toMatchObject({ isValid: false, why: "two peaks" });
    expect(time.value).toBeNaN();
  });

  test("impulse is the change of momentum: a force of 100 N over the quiet stance for 0.35 s is 35 N s", () => {
    const shot = handMadeShot({ lead: { targetN: (t) => (t > 2 ? 110 : 10) } });
    expect(measure(shot, "both.target.impulse", "turf").value).toBeCloseTo(35, 9);
    expect(measure(shot, "both.up.impulse", "turf").value).toBeCloseTo(0, 9);
  });

  test("rate of force development: a ramp of 1500 N/s", () => {
    const shot = handMadeShot({ lead: { upN: (t) => 400 + 1500 * Math.min(0.2, Math.max(0, t - 2.65)) } });
    expect(measure(shot, "both.up.rise", "turf").value).toBeCloseTo(1500, 6);
    expect(measure(shot, "lead.up.rise", "turf").value).toBeCloseTo(1500, 6);
  });

  test("unweighting: 80 N off 800 N is 10 %", () => {
    const shot = handMadeShot({ trail: { upN: (t) => 400 - 80 * bump(2.4, 0.2)(t) } });
    expect(measure(shot, "both.up.dip").value).toBeCloseTo(10, 4);
    expect(measure(shot, "both.up.dip").axes).toBe("turf");
  });

  test("foot coordinates on a rectangle of 0.28 m x 0.1 m", () => {
    // 70 mm ahead of the middle: 75 % heel to toe; 20 mm to the outer (target) side: 70 %; 30 mm from the edge
    const shot = handMadeShot({ lead: { copTargetM: () => 0.17, copAheadM: () => 0.07 } });
    expect(measure(shot, "lead.heelToe.at.impact").value).toBeCloseTo(75, 9);
    expect(measure(shot, "lead.innerOuter.at.impact").value).toBeCloseTo(70, 9);
    expect(measure(shot, "lead.margin.at.impact").value).toBeCloseTo(30, 9);
    expect(measure(shot, "trail.heelToe.at.top").value).toBeCloseTo(50, 9);
  });

  test("combined CoP, its range and path: lead load from 400 to 600 N of 800 N over 0.3 m", () => {
    const rise = (t: number): number => 200 * Math.min(1, Math.max(0, (t - 2.3) / 0.4));
    const shot = handMadeShot({ lead: { upN: (t) => 400 + rise(t) }, trail: { upN: (t) => 400 - rise(t) } });
    expect(measure(shot, "both.copTarget.at.address").value).toBeCloseTo(0, 9);
    expect(measure(shot, "both.copTarget.at.impact").value).toBeCloseTo(75, 9);
    // the parabola through a kink overshoots by an eighth of a step, 0.02 mm
    expect(measure(shot, "both.copTarget.range").value).toBeCloseTo(75, 1);
    expect(measure(shot, "both.cop.path").value).toBeGreaterThan(74.9);
    expect(measure(shot, "both.copAhead.at.impact").value).toBeCloseTo(0, 9);
  });

  test("turning torque of opposed pushes: 50 N ahead under each foot, 0.3 m apart, is a couple of 15 N m", () => {
    const push = (t: number): number => 50 * bump(2.9, 0.2)(t);
    const shot = handMadeShot({
      lead: { aheadN: (t) => -push(t), freeMomentNm: (t) => 4 * bump(2.9, 0.2)(t) },
      trail: { aheadN: push },
    });
    expect(measure(shot, "both.couple.peak").value).toBeCloseTo(15, 5);
    expect(measure(shot, "lead.freeMoment.peak").value).toBeCloseTo(4, 5);
    expect(measure(shot, "both.turn.peak").value).toBeCloseTo(19, 5);
    expect(measure(shot, "both.turn.peakTime").value).toBeCloseTo(-50, 3);
  });

  test("required friction of 300 N along on 500 N into the turf is 0.6, a caution", () => {
    const shot = handMadeShot({ lead: { upN: () => 500, targetN: (t) => 300 * bump(2.8, 0.1)(t) } });
    const measures = measuresFromShot(shot);
    expect(measures.find(({ id }) => id === "lead.friction.peak")!.value).toBeCloseTo(0.6, 5);
    expect(findingsFromMeasures(shot, measures).map(({ code }) => code)).toEqual(["friction-high"]);
  });

  test("friction from 0.7 on is a strong caution; a foot under 10 % of weight is not asked", () => {
    const shot = handMadeShot({ lead: { upN: () => 400, targetN: (t) => 320 * bump(2.8, 0.1)(t) } });
    const findings = findingsFromMeasures(shot, measuresFromShot(shot));
    expect(findings.map(({ code }) => code)).toEqual(["friction-very-high"]);
    const light = handMadeShot({ trail: { upN: () => 60, targetN: () => 60 } });
    expect(measure(light, "trail.friction.peak")).toMatchObject({ isValid: false, why: "foot too light" });
  });

  test("lean and slope share on a lie: a motionless player is all slope share in turf axes, upright in level ones", () => {
    const sinP = Math.sin((5 * Math.PI) / 180);
    const cosP = Math.cos((5 * Math.PI) / 180);
    const half = { targetN: () => 400 * sinP, upN: () => 400 * cosP };
    const shot = handMadeShot({
      lead: half,
      trail: half,
      change: (s) => ({ ...s, lie: { ...s.lie, pitchDeg: 5 } }),
    });
    const turf = measure(shot, "both.target.at.impact", "turf");
    expect(turf.value).toBeCloseTo(69.725, 3);
    expect(turf.slopeShare).toBeCloseTo(turf.value, 9);
    expect(measure(shot, "both.target.at.impact", "level").value).toBeCloseTo(0, 9);
    expect(measure(shot, "both.target.at.impact", "level").slopeShare).toBeUndefined();
    expect(measure(shot, "both.leanTarget.at.impact", "turf").value).toBeCloseTo(5, 9);
    expect(measure(shot, "both.leanTarget.at.impact", "turf").slopeShare).toBeCloseTo(5, 9);
    expect(measure(shot, "both.leanTarget.at.impact", "level").value).toBeCloseTo(0, 9);
    // one foot's slope share is half of it at half the load; friction demand is tan 5° = 0.0875
    expect(measure(shot, "lead.target.peak", "turf").slopeShare).toBeCloseTo(34.862, 3);
    expect(measure(shot, "lead.friction.peak").slopeShare).toBeCloseTo(0.08749, 5);
    // the inclinometer's 0.2° moves the level force only
    const level = measure(shot, "both.target.at.impact", "level");
    expect(level.sigma ** 2 - turf.sigma ** 2).toBeGreaterThan((0.9 * 800 * 0.2 * Math.PI) / 180);
  });

  test("no slope share is claimed where nobody gave a lie", () => {
    const shot = handMadeShot({ change: (s) => ({ ...s, isLieKnown: false }) });
    expect(measure(shot, "both.target.at.impact", "turf").slopeShare).toBeUndefined();
  });

  test("speed of the centre of mass at an event and its peak time, with the sigma of the motion and of the event", () => {
    // force of 80 kg: 80 dv/dt = 80 x 0.3 x 3 (1 - u²)² (-2 u) / 0.5
    const u = (t: number): number => Math.max(-1, Math.min(1, (t - 2.9) / 0.5));
    const shot = handMadeShot({
      speedTargetMPerS: (t) => 0.3 * bump(2.9, 0.5)(t),
      lead: { targetN: (t) => -288 * (1 - u(t) ** 2) ** 2 * u(t) },
    });
    const atImpact = measure(shot, "both.speedTarget.at.impact", "turf");
    expect(atImpact.value).toBeCloseTo(0.3 * 0.99 ** 3, 9);
    // slope there: 0.3 x 3 (1 - u²)² (-2 u) / 0.5 with u = 0.1: -0.353 m/s² times 5 ms
    expect(atImpact.sigma).toBeCloseTo(Math.hypot(0.005, 0.353 * 0.005), 4);
    const time = measure(shot, "both.speedTarget.peakTime", "turf");
    expect(time.value).toBeCloseTo(-50, 3);
    // sway: 80 kg x 0.005 m/s² over a slope of 576 N/s is 0.7 ms; crosstalk as in the stance; impact 5 ms; noise
    expect(time.sigma).toBeGreaterThan(Math.hypot(5, 0.7));
    expect(time.sigma).toBeLessThan(Math.hypot(5, 3));
  });

  test("times and tempo: 600 ms back, 350 ms down, marks good to 5 ms", () => {
    const shot = handMadeShot();
    expect(measure(shot, "both.backswing.duration")).toMatchObject({ unit: "ms" });
    expect(measure(shot, "both.backswing.duration").value).toBeCloseTo(600, 9);
    expect(measure(shot, "both.downswing.duration").sigma).toBeCloseTo(Math.hypot(5, 5), 9);
    expect(measure(shot, "both.tempo.ratio").value).toBeCloseTo(600 / 350, 9);
  });

  test("peak order in words, together when closer than two sigmas of their difference", () => {
    const at = (timeS: number) => (t: number) => 80 * bump(timeS, 0.12)(t);
    const apart = handMadeShot({ lead: { targetN: at(2.7), aheadN: at(2.75), upN: (t) => 400 + at(2.85)(t) } });
    expect(measure(apart, "both.peakOrder.text", "turf").text).toBe("target, ahead, up");
    expect(measure(apart, "both.peakGap.targetToUp", "turf").value).toBeCloseTo(150, 2);
    const close = handMadeShot({ lead: { targetN: at(2.7), aheadN: at(2.8001), upN: (t) => 400 + at(2.8)(t) } });
    expect(measure(close, "both.peakOrder.text", "turf").text).toBe("target, up and ahead together");
  });
});

describe("what cannot be measured says why", () => {
  test("a player who stands still has no peak times and no peak order", () => {
    const still = handMadeShot();
    expect(measure(still, "both.peakOrder.text", "turf")).toMatchObject({ isValid: false, why: "no clear peak" });
    expect(measure(still, "both.peakGap.aheadToUp", "turf").why).toBe("no clear peak");
    expect(measure(still, "both.target.peakTime", "turf").why).toBe("two peaks");
    expect(measure(still, "both.speedTarget.peakTime", "turf").why).toBe("no clear peak");
  });

  test("a missing event is named", () => {
    const shot = handMadeShot({ change: (s) => ({ ...s, events: s.events.filter(({ event }) => event !== "top") }) });
    expect(measure(shot, "both.target.at.top", "turf")).toMatchObject({ isValid: false, why: "top not found" });
    expect(measure(shot, "both.target.impulse", "turf").why).toBe("top not found");
    expect(measure(shot, "both.up.peak", "turf").isValid).toBe(true);
  });

  test("a gap in the window makes a measure invalid, elsewhere not", () => {
    const hole = (t: number): number => (t > 2.4 && t < 2.5 ? Number.NaN : 400);
    const shot = handMadeShot({ lead: { upN: hole } });
    expect(measure(shot, "both.up.peak", "turf")).toMatchObject({ isValid: false, why: "gap in the recording" });
    expect(measure(shot, "both.up.at.impact", "turf").isValid).toBe(true);
    expect(measure(shot, "both.up.rise", "turf").isValid).toBe(true);
    expect(measure(shot, "both.cop.path")).toMatchObject({ isValid: false, why: "gap in the recording" });
  });

  test("untraced feet, light feet, one plate for both, clocks too far apart", () => {
    const untraced = handMadeShot({ change: (s) => ({ ...s, soles: { lead: undefined, trail: undefined } }) });
    expect(measure(untraced, "lead.heelToe.at.top").why).toBe("feet not traced");
    const light = handMadeShot({ trail: { upN: () => 50 } });
    expect(measure(light, "trail.heelToe.at.top").why).toBe("foot too light");
    const one = handMadeShot({
      change: (s) => ({
        ...s,
        lead: undefined,
        trail: undefined,
        sigmas: { lead: undefined, trail: undefined, both: s.sigmas.lead },
      }),
    });
    expect(measure(one, "lead.share.at.top").why).toBe("each foot needs its own plate");
    expect(measure(one, "both.up.at.top", "turf")).toMatchObject({ isValid: true, value: 800 });
    expect(measure(one, "both.turn.at.impact").value).toBeCloseTo(0, 9);
    const apart = handMadeShot({ change: (s) => ({ ...s, isClockWithheld: true, clockSigmaMs: 8 }) });
    expect(measure(apart, "both.turn.peak").why).toBe("the plates' clocks are too far apart");
    expect(measure(apart, "both.copTarget.at.impact").isValid).toBe(false);
    expect(measure(apart, "lead.heelToe.at.impact").isValid).toBe(true);
    const unplaced = handMadeShot({
      change: (s) => ({ ...s, both: { ...s.both, copTargetM: s.both.copTargetM.map(() => Number.NaN) } }),
    });
    expect(measure(unplaced, "both.couple.peak").why).toBe("nobody said where the plates lie");
    expect(measure(unplaced, "lead.freeMoment.peak").isValid).toBe(true);
  });

  test("a peak over saturated samples reads at least, and the finding names it", () => {
    const shot = handMadeShot({
      lead: { upN: (t) => 400 + 200 * bump(2.8, 0.2)(t) },
      change: (s) => ({ ...s, isSaturated: s.isSaturated.map((_, i) => (i > 2790 && i < 2810 ? 1 : 0)) }),
    });
    expect(measure(shot, "both.up.peak", "turf")).toMatchObject({ isValid: true, isAtLeast: true });
    const findings = findingsFromMeasures(shot, measuresFromShot(shot));
    expect(findings.map(({ code }) => code)).toEqual(["peak-at-least"]);
    expect(findings[0]!.sentence).toContain("both.up.peak");
  });

  test("outside the outline is said only beyond two sigmas", () => {
    const outsideBy = (mm: number): string[] => {
      const shot = handMadeShot({ lead: { copTargetM: () => 0.2 + mm / 1000 } });
      return findingsFromMeasures(shot, measuresFromShot(shot)).map(({ code }) => code);
    };
    expect(outsideBy(2)).toEqual([]);
    expect(outsideBy(15)).toEqual(["outside", "outside"]);
  });

  test("an event outside the recording, one sample, no events at all: no number, no exception", () => {
    const late = handMadeShot({
      change: (s) => ({ ...s, events: s.events.map((e) => (e.event === "finish" ? { ...e, timeS: 9 } : e)) }),
    });
    expect(measure(late, "lead.share.at.finish").isValid).toBe(false);
    expect(measure(late, "both.up.peak", "turf").why).toBe("outside the recording");
    const none = measuresFromShot(handMadeShot({ change: (s) => ({ ...s, events: [] }) }));
    expect(none.filter(({ isValid, id }) => isValid && !id.includes("address")).map(({ id }) => id)).toEqual([
      "both.weight.mean",
    ]);
    expect(none.every(({ isValid, value, sigma }) => !isValid || (Number.isFinite(value) && sigma >= 0))).toBe(true);
  });
});

test("a sole far away changes nothing but the numbers of that foot", () => {
  const shot = handMadeShot({
    change: (s) => ({ ...s, soles: { ...s.soles, lead: rectangularSole(0.3) } }),
  });
  expect(measure(shot, "trail.heelToe.at.top").value).toBeCloseTo(50, 9);
  expect(measure(shot, "lead.margin.at.impact").value).toBeCloseTo(-100, 6);
});

test("the catalogue knows its ids", () => {
  expect(catalogueEntry("both.up.rise")).toMatchObject({ family: "rate-of-force-development", unit: "N/s" });
  expect(catalogueEntry("both.up.jump")).toBeUndefined();
});
