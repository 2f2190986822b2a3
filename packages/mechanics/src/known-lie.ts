import type { Finding, Lie, ShotFacts } from "@underfoot/domain";
import { lieFromUp, type TurfAxes } from "./axes.ts";
import { shotFindings } from "./faults.ts";
import type { Settings } from "./settings.ts";
import type { Shot } from "./shot.ts";

/** Beyond this the given lie and the level laboratory disagree, degrees (ours). */
const LIE_CONFLICT_DEG = 1;

/** The lie as given; else from the plates in a level laboratory whose up is given; else flat and unknown. */
export function knownLie(
  facts: ShotFacts,
  axes: TurfAxes,
  settings: Settings,
): { readonly lie: Lie; readonly isLieKnown: boolean; readonly findings: readonly Finding[] } {
  const fromLab = facts.up === undefined ? undefined : lieFromUp(axes, facts.up);
  if (facts.lie !== undefined) {
    const differenceDeg =
      fromLab === undefined
        ? 0
        : Math.hypot(fromLab.pitchDeg - facts.lie.pitchDeg, fromLab.rollDeg - facts.lie.rollDeg);
    const findings = differenceDeg > LIE_CONFLICT_DEG ? [shotFindings.lieConflict(differenceDeg)] : [];
    return { lie: facts.lie, isLieKnown: true, findings };
  }
  const sdDeg = settings.inclinometerSigmaDeg;
  if (fromLab === undefined) {
    return { lie: { pitchDeg: 0, rollDeg: 0, source: "assumed", sdDeg }, isLieKnown: false, findings: [] };
  }
  return {
    lie: { ...fromLab, source: "assumed", sdDeg },
    isLieKnown: true,
    findings: [shotFindings.lieFromLab(fromLab.pitchDeg, fromLab.rollDeg)],
  };
}

/** What must be said about the lie: that nobody gave it, or that the quiet stance does not lean as on it. */
export function lieFindings(
  check: Shot["slopeCheck"],
  { lie, isLieKnown }: { readonly lie: Lie; readonly isLieKnown: boolean },
): readonly Finding[] {
  if (!isLieKnown) return [shotFindings.lieUnknown(check.pitchDeg, check.rollDeg)];
  if (check.agrees) return [];
  const measured = [check.pitchDeg, check.rollDeg] as const;
  return [shotFindings.slopeDisagrees(measured, [lie.pitchDeg, lie.rollDeg], check.allowedDeg)];
}
