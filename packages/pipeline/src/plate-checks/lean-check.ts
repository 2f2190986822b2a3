import type { Recording, ShotFacts } from "@underfoot/domain";
import { quietLean, type Settings } from "@underfoot/mechanics";
import { checkFaults } from "./check-faults.ts";
import { type PlateCheckFacts, type PlateCheckResult, part } from "./check-outcome.ts";
import { checkedPlates } from "./check-plates.ts";

/**
 * Lean of a quiet stance against the inclinometer (`slopeCheck`): pitch and roll within max(0.5°, 2.5 sigma). On the flat it
 * is the same check with 0. The recording's own unloaded stretch, if there is one, is taken as zero.
 *
 * @throws UnderfootError `lie-missing`, `target-missing`, `plates-missing` where facts are wanted; `not-still`; as `quietLean`
 */
export function leanCheck(recording: Recording, facts: PlateCheckFacts, settings: Settings): PlateCheckResult {
  if (facts.lie === undefined) throw checkFaults.lieMissing();
  const whole = standingFacts(facts);
  const plates = checkedPlates(recording, facts, settings);
  const zeroed = whole.plates.map((fact) => {
    const zero = plates.find(({ index }) => index === fact.plate)?.zero;
    if (zero === undefined) return fact;
    return { ...fact, zero: [zero.first / recording.rateHz, zero.end / recording.rateHz] as const };
  });
  const lean = quietLean(recording, { ...whole, plates: zeroed }, settings);
  if (!lean?.isStill) throw checkFaults.notStill();
  const { slope, lie, window, forceN } = lean;
  const angle = (name: "Pitch" | "Roll", stanceDeg: number, saidDeg: number) => {
    const found = Math.abs(stanceDeg - saidDeg);
    return part({
      name,
      allowed: slope.allowedDeg,
      found,
      unit: "°",
      sentence: `${name} by the stance ${stanceDeg.toFixed(2)}°, by the inclinometer ${saidDeg.toFixed(1)}°: ${found.toFixed(2)}° apart, ${slope.allowedDeg.toFixed(2)}° allowed.`,
    });
  };
  return {
    parts: [angle("Pitch", slope.pitchDeg, lie.pitchDeg), angle("Roll", slope.rollDeg, lie.rollDeg)],
    detail: {
      fromS: window.first / recording.rateHz,
      toS: window.end / recording.rateHz,
      pitchDeg: slope.pitchDeg,
      rollDeg: slope.rollDeg,
      sigmaDeg: slope.sigmaDeg,
      forceN,
      zeroedPlates: zeroed.filter(({ zero }) => Array.isArray(zero)).map(({ plate }) => plate),
    },
    remedy:
      "Read the inclinometer again along the target line and square to it; check the target direction, which way the plates are turned, their zero and crosstalk.",
  };
}

/** The facts of a shot, for somebody who only stands. */
function standingFacts({ handed, target, plates, ...rest }: PlateCheckFacts): ShotFacts {
  if (handed === undefined || target === undefined) throw checkFaults.axesMissing();
  if (!plates?.some(({ foot }) => foot !== "none")) throw checkFaults.feetMissing();
  return { ...rest, handed, target, plates, feet: [], events: [], keep: "kept" };
}
