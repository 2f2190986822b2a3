import { INTENTS } from "@underfoot/domain";
import { SIMULATED_LIES, type SimulatedShot, simulatedPlayer, simulateShot } from "@underfoot/simulator";
import { expect, test } from "vitest";
import { turfAxes } from "./axes.ts";
import { type DetectorBlock, detectorStart, detectorStep, type ShotCut } from "./live-detector.ts";
import { plateWrench } from "./plate-wrench.ts";
import { playerWrench } from "./player-wrench.ts";
import { DEFAULT_SETTINGS } from "./settings.ts";

const LENGTH_S = 8;
const RATE_HZ = 500;

/** What a live stream of this shot would bring: both plates' player wrenches, unfiltered. */
function blockOf({ recording, facts }: SimulatedShot): DetectorBlock {
  const wrenches = recording.plates.map((plate) => {
    const fact = facts.plates.find((one) => one.plate === plate.index);
    return plateWrench(recording, plate, { fact, up: facts.up, settings: DEFAULT_SETTINGS });
  });
  const axes = turfAxes(wrenches[0]!.frame.normal, facts.target, facts.handed);
  const foot = (name: "lead" | "trail") => {
    const index = facts.plates.find((one) => one.foot === name)!.plate;
    return playerWrench(wrenches.find((one) => one.plate === index)!, axes, wrenches[0]!.frame.centreM);
  };
  return { lead: foot("lead"), trail: foot("trail") };
}

/** Largest angular momentum toward the target up to impact, N m s, from the simulator's own torque. */
function spinTowardNms({ truth }: SimulatedShot): number {
  const { timeS, spinNm } = truth.curves;
  let spinNms = 0;
  let largest = 0;
  for (let i = 1; i < timeS.length; i++) {
    if (timeS[i]! < truth.events.start || timeS[i]! > truth.events.impact + 0.1) continue;
    spinNms += ((spinNm[i]! + spinNm[i - 1]!) / 2) * (timeS[i]! - timeS[i - 1]!);
    largest = Math.max(largest, spinNms);
  }
  return largest;
}

interface Streamed {
  readonly cuts: readonly ShotCut[];
  readonly shots: readonly { readonly impactS: number; readonly spinTowardNms: number }[];
}

/**
 * One stream of 48 shots end to end, 8 s each: intents, lies, hands and players in turn, half of them with a waggle. The
 * lie changes from shot to shot, as if the plates were tilted under a standing player.
 */
function streamed(turnScale: number): Streamed {
  const lies = Object.values(SIMULATED_LIES);
  let state = detectorStart({ rateHz: RATE_HZ });
  const cuts: ShotCut[] = [];
  const shots = Array.from({ length: 48 }, (_, k) => {
    const shot = simulateShot({
      seed: 500 + k,
      player: simulatedPlayer({ seed: 1 + (k % 6), handed: k % 2 === 0 ? "right" : "left" }),
      intent: INTENTS[k % INTENTS.length]!,
      lie: lies[Math.floor(k / 5) % lies.length]!,
      rateHz: RATE_HZ,
      durationS: LENGTH_S,
      turnScale,
    });
    const step = detectorStep(state, blockOf(shot));
    state = step.state;
    cuts.push(...step.cuts);
    return { impactS: k * LENGTH_S + shot.truth.events.impact, spinTowardNms: spinTowardNms(shot) };
  });
  return { cuts, shots };
}

/** Each cut holds one impact and none is cut twice; gives the shots that were not found. */
function missed({ cuts, shots }: Streamed): { readonly impactS: number; readonly spinTowardNms: number }[] {
  const isIn = (impactS: number, { first, end }: ShotCut): boolean =>
    impactS >= first / RATE_HZ && impactS < end / RATE_HZ;
  for (const cut of cuts) expect(shots.filter((shot) => isIn(shot.impactS, cut))).toHaveLength(1);
  const counts = shots.map((shot) => cuts.filter((cut) => isIn(shot.impactS, cut)).length);
  expect(Math.max(...counts)).toBe(1);
  return shots.filter((_, k) => counts[k] === 0);
}

test("48 simulated shots of all intents, lies and hands: none missed, doubled or false", () => {
  expect(missed(streamed(1))).toEqual([]);
});

test("at 0.4 of the usual turn only shots of little angular momentum are missed, none is doubled or false", () => {
  const lost = missed(streamed(0.4));
  expect(lost.length).toBeLessThanOrEqual(5);
  for (const { spinTowardNms: spin } of lost) expect(spin).toBeLessThan(1.7);
});
