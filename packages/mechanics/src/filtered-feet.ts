import type { Column, Finding } from "@underfoot/domain";
import { butterworthLowPass, noiseGain, residualCutoffHz, zeroPhaseMany } from "@underfoot/signal";
import type { CarriedFoot } from "./carried-feet.ts";
import { shotFindings } from "./faults.ts";
import { bothWrench } from "./player-wrench.ts";
import type { Settings } from "./settings.ts";
import type { PlayerWrench } from "./shot.ts";

/** Cut-off where the residual analysis finds none, and for the noise where nothing is filtered, Hz. */
const USUAL_CUTOFF_HZ = 25;
/** Cut-off of the total force from which windows and events are read, Hz (mechanics, weight and events). */
const SLOW_CUTOFF_HZ = 10;
/** A cut-off beyond this share of the sampling rate is no filter. */
const HIGHEST_CUTOFF_SHARE = 0.45;

/** The wrenches of the feet and their sum, filtered. */
export interface FilteredFeet {
  readonly cutoffHz: number | undefined;
  /** In the order of the feet. */
  readonly wrenches: readonly PlayerWrench[];
  readonly both: PlayerWrench;
  readonly unfilteredBoth: PlayerWrench;
  /** Total force with a 10 Hz low-pass: target, ahead, up, N. */
  readonly slow: readonly [Column, Column, Column];
  /** Turning torque about the combined CoP, from the wrench with the same low-pass, N m; of no use in flight. */
  readonly slowTurnNm: Column;
  readonly findings: readonly Finding[];
}

/** Zero-phase low-pass of every foot's six numbers; the sum of the filtered is the filtered sum. */
export function filteredFeet(feet: readonly CarriedFoot[], rateHz: number, settings: Settings): FilteredFeet {
  const findings: Finding[] = [];
  const cutoffHz = chosenCutoffHz(feet, rateHz, { settings, findings });
  const wrenches = feet.map(({ unfiltered }) =>
    cutoffHz === undefined ? unfiltered : lowPassed(unfiltered, { cutoffHz, rateHz }),
  );
  const unfilteredBoth = summed(feet.map((foot) => foot.unfiltered));
  const slowFilter = butterworthLowPass({ cutoffHz: SLOW_CUTOFF_HZ, rateHz });
  const slowBoth = wrenchOf(zeroPhaseMany(columnsOf(unfilteredBoth), slowFilter));
  return {
    cutoffHz,
    wrenches,
    both: summed(wrenches),
    unfilteredBoth,
    slow: [slowBoth.targetN, slowBoth.aheadN, slowBoth.upN],
    slowTurnNm: freeMomentColumn(slowBoth),
    findings,
  };
}

function summed(wrenches: readonly PlayerWrench[]): PlayerWrench {
  return wrenches.length === 1 ? wrenches[0]! : bothWrench(wrenches[0]!, wrenches[1]!);
}

function chosenCutoffHz(
  feet: readonly CarriedFoot[],
  rateHz: number,
  { settings, findings }: { readonly settings: Settings; readonly findings: Finding[] },
): number | undefined {
  const { filter } = settings;
  if (filter.kind === "none") return undefined;
  const wanted = filter.kind === "butterworth" ? filter.cutoffHz : residualCutoff(feet, rateHz, findings);
  if (wanted > 0 && wanted < HIGHEST_CUTOFF_SHARE * rateHz) return wanted;
  findings.push(shotFindings.filterOff(wanted, rateHz));
  return undefined;
}

/** The largest cut-off over the force channels of all feet. */
function residualCutoff(feet: readonly CarriedFoot[], rateHz: number, findings: Finding[]): number {
  let largest: number | undefined;
  for (const { unfiltered } of feet) {
    for (const column of [unfiltered.targetN, unfiltered.aheadN, unfiltered.upN]) {
      const { cutoffHz } = residualCutoffHz(column, rateHz);
      if (cutoffHz !== undefined && cutoffHz > (largest ?? 0)) largest = cutoffHz;
    }
  }
  if (largest === undefined) findings.push(shotFindings.residualNotFound());
  return largest ?? USUAL_CUTOFF_HZ;
}

/** The six numbers of a player wrench through the zero-phase low-pass. */
export function lowPassed(
  wrench: PlayerWrench,
  cutoff: { readonly cutoffHz: number; readonly rateHz: number },
): PlayerWrench {
  return wrenchOf(zeroPhaseMany(columnsOf(wrench), butterworthLowPass(cutoff)));
}

function columnsOf(w: PlayerWrench): readonly Column[] {
  return [w.targetN, w.aheadN, w.upN, w.bTargetNm, w.bAheadNm, w.turnNm];
}

function wrenchOf(columns: readonly Column[]): PlayerWrench {
  const [targetN, aheadN, upN, bTargetNm, bAheadNm, turnNm] = columns;
  return {
    targetN: targetN!,
    aheadN: aheadN!,
    upN: upN!,
    bTargetNm: bTargetNm!,
    bAheadNm: bAheadNm!,
    turnNm: turnNm!,
  };
}

function freeMomentColumn({ targetN, aheadN, upN, bTargetNm, bAheadNm, turnNm }: PlayerWrench): Column {
  const out = new Float64Array(upN.length);
  for (let i = 0; i < out.length; i++) {
    out[i] = turnNm[i]! - (bAheadNm[i]! * targetN[i]! - bTargetNm[i]! * aheadN[i]!) / upN[i]!;
  }
  return out;
}

/**
 * What the filter lets through of white noise, as a share of the sd of raw minus filtered.
 *
 *   sd filtered = h sd,  sd (raw - filtered) = sqrt(1 - 5/3 h²) sd,   h the noise gain
 *
 * since ∫ (1 + u⁴)^-1 = 4/3 ∫ (1 + u⁴)^-2 over 0..inf (beta function, DLMF 5.12.3). Without a filter the noise was
 * taken from a 25 Hz one and all of it is there.
 */
export function noiseShare(cutoffHz: number | undefined, rateHz: number): number {
  const h = noiseGain({ cutoffHz: cutoffHz ?? USUAL_CUTOFF_HZ, rateHz });
  const left = Math.sqrt(Math.max(0.05, 1 - (5 / 3) * h * h));
  return (cutoffHz === undefined ? 1 : h) / left;
}
