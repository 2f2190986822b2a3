import type { Column } from "@underfoot/domain";
import { loaded } from "./loaded.ts";
import { turnOf } from "./player-wrench.ts";
import type { Settings } from "./settings.ts";
import type { FootSeries, PlateSigmas, PlayerWrench } from "./shot.ts";

/** What one plate's channels are still wrong by after the filter, one sigma. */
interface FilteredSigmas {
  readonly upN: number;
  readonly momentNm: number;
}

export interface FootOptions {
  readonly weightN: number;
  readonly padM: number;
  readonly settings: Settings;
  /** Share of the raw-minus-filtered noise that the filter lets through. */
  readonly noiseShare: number;
}

/**
 * Curves of one foot on a plate of its own, or of both feet on one plate.
 *
 *   r = ((B_t + h F_t) / F_u, (B_a + h F_a) / F_u),   T = N - (r_a F_t - r_t F_a),
 *   sigma_r = sqrt(sigma_M² + (d sigma_F)² + (d sqrt(2) gain F_u)²) / F_u,   d = |r - plate centre|
 *
 * Computed from the filtered wrench, never filtered itself; NaN where not loaded.
 */
export function footSeries(
  wrench: PlayerWrench,
  unfiltered: PlayerWrench,
  sigmas: PlateSigmas,
  options: FootOptions,
): FootSeries {
  const { padM, settings } = options;
  const isLoaded = loaded(wrench.upN, options.weightN, settings);
  const series = emptySeries(wrench, unfiltered, isLoaded);
  const { upN: sF, momentNm: sM } = filteredSigmas(sigmas, options.noiseShare);
  const gain2 = 2 * sigmas.gain * sigmas.gain;
  const { target: cT, ahead: cA } = sigmas.centre;
  const { targetN, aheadN, upN, bTargetNm, bAheadNm, turnNm } = wrench;
  for (let i = 0; i < isLoaded.length; i++) {
    if (isLoaded[i] === 0) continue;
    const load = upN[i]!;
    const rT = (bTargetNm[i]! + padM * targetN[i]!) / load;
    const rA = (bAheadNm[i]! + padM * aheadN[i]!) / load;
    const d2 = (rT - cT) * (rT - cT) + (rA - cA) * (rA - cA);
    const sigma = Math.sqrt(sM * sM + d2 * (sF * sF + gain2 * load * load)) / load;
    series.copTargetM[i] = rT;
    series.copAheadM[i] = rA;
    series.copSigmaM[i] = sigma;
    series.freeMomentNm[i] = turnNm[i]! - (rA * targetN[i]! - rT * aheadN[i]!);
    if (sigma <= settings.trustedCopSigmaM) series.isTrusted[i] = 1;
  }
  return series;
}

/** Curves of both feet from two plates, the couple between the feet and the lead foot's share of the load. */
export interface BothFeet {
  readonly both: FootSeries;
  readonly coupleNm: Column;
  readonly leadShare: Column;
}

/**
 * Both feet on plates of their own: wrenches added about the common point.
 *
 * While one foot is not loaded its free moment and the couple count 0 and the whole torque is the other's free moment;
 * the combined CoP stays that of the sum. The combined CoP's sigma:
 *
 *   sqrt((s sigma_r,lead)² + ((1-s) sigma_r,trail)² + (D sigma_s)²),   sigma_s = sqrt(((1-s) sigma_lead)² + (s sigma_trail)²) / load
 *
 * with D the distance of the feet's CoP (an unloaded foot counts at its plate's centre).
 */
export function bothFeet(
  feet: { readonly lead: FootSeries; readonly trail: FootSeries },
  sums: { readonly wrench: PlayerWrench; readonly unfiltered: PlayerWrench },
  sigmas: { readonly lead: PlateSigmas; readonly trail: PlateSigmas },
  options: FootOptions,
): BothFeet {
  const { lead, trail } = feet;
  const { padM, settings } = options;
  const isLoaded = loaded(sums.wrench.upN, options.weightN, settings);
  const both = emptySeries(sums.wrench, sums.unfiltered, isLoaded);
  const sampleCount = isLoaded.length;
  const coupleNm = new Float64Array(sampleCount).fill(Number.NaN);
  const leadShare = new Float64Array(sampleCount).fill(Number.NaN);
  const { targetN, aheadN, upN, bTargetNm, bAheadNm, turnNm } = sums.wrench;
  const variance = combinedVariance(feet, sigmas, options.noiseShare);
  for (let i = 0; i < sampleCount; i++) {
    if (isLoaded[i] === 0) continue;
    const load = upN[i]!;
    const share = lead.wrench.upN[i]! / load;
    const rT = (bTargetNm[i]! + padM * targetN[i]!) / load;
    const rA = (bAheadNm[i]! + padM * aheadN[i]!) / load;
    leadShare[i] = share;
    both.copTargetM[i] = rT;
    both.copAheadM[i] = rA;
    const sigma = Math.sqrt(variance(i, share)) / load;
    both.copSigmaM[i] = sigma;
    if (sigma <= settings.trustedCopSigmaM) both.isTrusted[i] = 1;
    const feetLoaded = lead.isLoaded[i]! + 2 * trail.isLoaded[i]!;
    if (feetLoaded === 3) {
      both.freeMomentNm[i] = turnNm[i]! - (rA * targetN[i]! - rT * aheadN[i]!);
      coupleNm[i] = turnOf(
        lead.copTargetM[i]! - trail.copTargetM[i]!,
        lead.copAheadM[i]! - trail.copAheadM[i]!,
        (1 - share) * lead.wrench.targetN[i]! - share * trail.wrench.targetN[i]!,
        (1 - share) * lead.wrench.aheadN[i]! - share * trail.wrench.aheadN[i]!,
      );
    } else if (feetLoaded > 0) {
      both.freeMomentNm[i] = feetLoaded === 1 ? lead.freeMomentNm[i]! : trail.freeMomentNm[i]!;
      coupleNm[i] = 0;
    }
  }
  return { both, coupleNm, leadShare };
}

/** Variance of the combined CoP times load², N² m², as a function of the sample and the lead share. */
function combinedVariance(
  { lead, trail }: { readonly lead: FootSeries; readonly trail: FootSeries },
  sigmas: { readonly lead: PlateSigmas; readonly trail: PlateSigmas },
  noiseShare: number,
): (i: number, share: number) => number {
  const sLead = filteredSigmas(sigmas.lead, noiseShare);
  const sTrail = filteredSigmas(sigmas.trail, noiseShare);
  const { centre: cLead, gain: gLead } = sigmas.lead;
  const { centre: cTrail, gain: gTrail } = sigmas.trail;
  return (i, share) => {
    const fLead = lead.wrench.upN[i]!;
    const fTrail = trail.wrench.upN[i]!;
    const isLead = lead.isLoaded[i] === 1;
    const isTrail = trail.isLoaded[i] === 1;
    const leadT = isLead ? lead.copTargetM[i]! : cLead.target;
    const leadA = isLead ? lead.copAheadM[i]! : cLead.ahead;
    const trailT = isTrail ? trail.copTargetM[i]! : cTrail.target;
    const trailA = isTrail ? trail.copAheadM[i]! : cTrail.ahead;
    const dLead2 = (leadT - cLead.target) ** 2 + (leadA - cLead.ahead) ** 2;
    const dTrail2 = (trailT - cTrail.target) ** 2 + (trailA - cTrail.ahead) ** 2;
    const apart2 = (leadT - trailT) ** 2 + (leadA - trailA) ** 2;
    const gainLead2 = (gLead * fLead) ** 2;
    const gainTrail2 = (gTrail * fTrail) ** 2;
    const own =
      sLead.momentNm ** 2 +
      sTrail.momentNm ** 2 +
      dLead2 * (sLead.upN ** 2 + 2 * gainLead2) +
      dTrail2 * (sTrail.upN ** 2 + 2 * gainTrail2);
    const split = (1 - share) ** 2 * (sLead.upN ** 2 + gainLead2) + share ** 2 * (sTrail.upN ** 2 + gainTrail2);
    return own + apart2 * split;
  };
}

function filteredSigmas(sigmas: PlateSigmas, noiseShare: number): FilteredSigmas {
  return {
    upN: Math.hypot(sigmas.zeroN, noiseShare * sigmas.noiseN.up),
    momentNm: Math.hypot(sigmas.zeroNm, noiseShare * Math.max(sigmas.noiseNm.target, sigmas.noiseNm.ahead)),
  };
}

function emptySeries(wrench: PlayerWrench, unfiltered: PlayerWrench, isLoaded: Uint8Array): FootSeries {
  const missing = (): Column => new Float64Array(isLoaded.length).fill(Number.NaN);
  return {
    wrench,
    unfiltered,
    isLoaded,
    copTargetM: missing(),
    copAheadM: missing(),
    copSigmaM: missing(),
    isTrusted: new Uint8Array(isLoaded.length),
    freeMomentNm: missing(),
  };
}
