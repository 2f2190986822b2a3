// The perturbation of the player state against the closed forms of error propagation (JCGM 100:2008, from memory).
import { describe, expect, test } from "vitest";
import { bump, handMadeShot } from "./hand-made-shot.ts";
import { addressState, STATE, stateAt, stateRows } from "./player-state.ts";
import type { Shot } from "./shot.ts";
import { momentAt } from "./shot-moments.ts";
import { jointSpread, type Spread, spreadAt, stateErrors } from "./state-errors.ts";
import { stateQuantity } from "./state-quantities.ts";

const SHOT = handMadeShot({
  lead: { upN: () => 560, aheadN: () => -30, targetN: () => 20, copTargetM: () => 0.17, copAheadM: () => 0.04 },
  trail: { upN: () => 240, aheadN: () => 25, copTargetM: () => -0.14, copAheadM: () => -0.05 },
});

/** The spread with only some sources, the others of both plates 0. */
function spreadWith(only: Partial<Shot["sigmas"]["lead"]>, quantity: Parameters<typeof stateQuantity>[0]): Spread {
  const none = { zeroN: 0, zeroNm: 0, gain: 0, crosstalk: 0, placeM: 0 };
  const shot: Shot = {
    ...SHOT,
    lie: { ...SHOT.lie, sdDeg: 0 },
    sigmas: {
      lead: { ...SHOT.sigmas.lead!, ...none, ...only },
      trail: { ...SHOT.sigmas.trail!, ...none, ...only },
      both: undefined,
    },
  };
  const errors = stateErrors(shot, addressState(shot), { clockSlope: undefined, noiseShare: 0 });
  return spreadAt(stateQuantity(quantity, undefined, shot)!, errors);
}

describe("one-sigma errors of a player state", () => {
  test("total force: zeros of two plates in quadrature; gain of each plate's own force, not of the sum", () => {
    expect(Math.sqrt(spreadWith({ zeroN: 2 }, "both.up").shared)).toBeCloseTo(2 * Math.SQRT2, 9);
    expect(Math.sqrt(spreadWith({ gain: 0.005 }, "both.up").shared)).toBeCloseTo(0.005 * Math.hypot(560, 240), 9);
    expect(Math.sqrt(spreadWith({ crosstalk: 0.002 }, "both.ahead").shared)).toBeCloseTo(
      0.002 * Math.hypot(560, 240),
      9,
    );
  });

  test("load share: 100 sqrt(((1 - s) sigma_lead)² + (s sigma_trail)²) / load", () => {
    const expected = (100 * Math.hypot(0.3 * 0.005 * 560, 0.7 * 0.005 * 240)) / 800;
    expect(Math.sqrt(spreadWith({ gain: 0.005 }, "lead.share").shared)).toBeCloseTo(expected, 5);
  });

  test("heel to toe: a moment's zero over the load, a force's zero by its arm from the plate's centre, the place itself", () => {
    const perMm = 100 / 280;
    expect(Math.sqrt(spreadWith({ zeroNm: 0.5 }, "lead.heelToe").shared)).toBeCloseTo((perMm * 500) / 560, 6);
    // r - c = 40 mm ahead: sigma = 40 mm x 2 N / 560 N
    expect(Math.sqrt(spreadWith({ zeroN: 2 }, "lead.heelToe").shared)).toBeCloseTo((perMm * 40 * 2) / 560, 4);
    expect(Math.sqrt(spreadWith({ placeM: 0.002 }, "lead.heelToe").shared)).toBeCloseTo(2 * perMm, 9);
    expect(spreadWith({ gain: 0.005 }, "lead.heelToe").shared).toBeCloseTo(0, 12);
  });

  test("free moment: the moment's zero, and a place error changes nothing", () => {
    const free = spreadWith({ zeroNm: 0.5 }, "lead.freeMoment").shared;
    // B errors move the CoP: F_h of 36 N times 0.5 N m / 560 N
    expect(Math.sqrt(free)).toBeCloseTo(Math.hypot(0.5, (0.5 / 560) * Math.hypot(20, 30)), 6);
    expect(spreadWith({ placeM: 0.002 }, "lead.freeMoment").shared).toBeCloseTo(0, 12);
  });

  test("margin on a ridge of the outline: a place error lowers it to both sides, and counts", () => {
    const shot: Shot = { ...SHOT, lead: handMadeShot().lead };
    const quantity = stateQuantity("lead.margin", undefined, shot)!;
    const spread = spreadAt(quantity, stateErrors(shot, addressState(shot), { clockSlope: undefined, noiseShare: 0 }));
    expect(Math.sqrt(spread.shared)).toBeGreaterThan(1.9);
  });

  test("noise: the filter lets 22.8 % of it through; a clock error moves only the trail plate", () => {
    const moving = handMadeShot({
      trail: { upN: (t) => 400 + 100 * bump(2.8, 0.1)(t) },
      change: (s) => ({ ...s, clockSigmaMs: 2 }),
    });
    const rows = stateRows(moving, 2500, 3200);
    const spread = spreadAt(stateQuantity("both.up", "turf", moving)!, momentAt(moving, rows, 2770).errors);
    expect(Math.sqrt(spread.noise)).toBeCloseTo(Math.SQRT2 * 0.22786 * 0.5, 5);
    // slope of the bump at u = -0.3: 100 x 6 x 0.3 x (1 - 0.09)² / 0.1 s, times 2 ms
    expect(Math.sqrt(spread.clock)).toBeCloseTo(((100 * 6 * 0.3 * 0.91 ** 2) / 0.1) * 0.002, 2);
  });

  test("what is wrong in two states alike cancels in their difference", () => {
    const errors = stateErrors(SHOT, addressState(SHOT), { clockSlope: undefined, noiseShare: 0 });
    const up = stateQuantity("both.up", "turf", SHOT)!;
    const spread = jointSpread((states) => up(states, STATE.size) - up(states, 0), [errors, errors]);
    expect(spread.shared).toBeCloseTo(0, 12);
  });

  test("a state outside the rows is missing, on a sample it is the sample", () => {
    const rows = stateRows(SHOT, 100, 110);
    const out = new Float64Array(STATE.size);
    expect(stateAt(rows, 99.9, out)[0]).toBeNaN();
    expect(stateAt(rows, 109, out)[STATE.up]).toBe(560);
    expect(stateAt(rows, 109.1, out)[0]).toBeNaN();
  });
});
