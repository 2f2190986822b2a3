import { type Intent, random, type ShotResult } from "@underfoot/domain";

/** Invented outcomes of a pitch of some 30 m: common practice, no source. */
const CARRY_M: Readonly<Record<Intent, number>> = { stock: 32, steep: 29, shallow: 33, low: 30, high: 27 };
const LAUNCH_DEG: Readonly<Record<Intent, number>> = { stock: 33, steep: 31, shallow: 34, low: 25, high: 42 };

function rounded(value: number, perUnit: number): number {
  return Math.round(value * perUnit) / perUnit;
}

/** What came of the shot, invented: strike, contact, start line, carry and launch. A mishit is struck from the heel, thin or fat, and falls short. */
export function shotResult({
  seed,
  intent,
  isMishit,
}: {
  seed: number;
  intent: Intent;
  isMishit: boolean;
}): ShotResult {
  const draw = random(seed, "result");
  const contact = isMishit ? (draw.unit() < 0.5 ? "thin" : "fat") : "clean";
  const short = isMishit ? 0.55 + 0.25 * draw.unit() : 1 + 0.05 * draw.normal();
  const heelMm = isMishit ? -16 : 0;
  return {
    strikeMm: [rounded(heelMm + 4 * draw.normal(), 1), rounded((isMishit ? -6 : 0) + 3 * draw.normal(), 1)],
    contact,
    startLineDeg: rounded(1.4 * draw.normal() + (isMishit ? 3 : 0), 10),
    carryM: rounded(CARRY_M[intent] * short, 10),
    launchDeg: rounded(LAUNCH_DEG[intent] + 2 * draw.normal() - (isMishit ? 6 : 0), 10),
    isGood: !isMishit,
  };
}
