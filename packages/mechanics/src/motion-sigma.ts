import type { Column, Samples } from "@underfoot/domain";
import { type Closing, closingVariance } from "./motion.ts";

/** What makes the motion along one axis uncertain. */
export interface MotionSigmaOptions {
  readonly rateHz: number;
  /** Middle sample of the quiet window: t is counted from there. */
  readonly middle: number;
  readonly sigma0: number;
  readonly sigmaB: number;
  /** sigma_m / m. */
  readonly massShare: number;
  /** e sqrt(2) g of this axis, m/s²: what a full change of load share from one plate to the other is wrong by. */
  readonly shiftMPerS2: number;
  /** ∫ (s - s_q) dt and its integral, s and s², n samples, from the middle; 0 throughout for one plate. */
  readonly shiftS: Samples;
  readonly shiftS2: Samples;
  readonly closing: Closing | undefined;
}

/**
 * One sigma of velocity and displacement along one axis, n samples each.
 *
 *   sigma_v² = sigma_0² + (sigma_b t)² + G² + (v sigma_m / m)²      closed: - (sigma_0² + sigma_b² t T)² / D
 *   sigma_x² = (sigma_0 t)² + (sigma_b t²/2)² + G_x² + (x sigma_m / m)²      closed: - (sigma_0² t + sigma_b² t² T/2)² / D
 *   D = sigma_0² + sigma_b² T² + sigma_e²,   G = e sqrt(2) g |∫(s - s_q)|,  G_x its double integral
 *
 * The correction counts from the window's middle on; before it k(0) is used. White noise adds under 0.2 mm/s and is left out.
 */
export function motionSigmas(
  speedMPerS: Samples,
  travelM: Samples,
  options: MotionSigmaOptions,
): { readonly speedMPerS: Column; readonly travelM: Column } {
  const { rateHz, middle, sigma0, sigmaB, massShare, shiftMPerS2, shiftS, shiftS2, closing } = options;
  const speedSigma = new Float64Array(speedMPerS.length);
  const travelSigma = new Float64Array(speedMPerS.length);
  const s0 = sigma0 * sigma0;
  const sb = sigmaB * sigmaB;
  const afterS = closing?.afterS ?? 0;
  const perVariance = closing === undefined ? 0 : 1 / closingVariance(closing);
  for (let i = 0; i < speedSigma.length; i++) {
    const tS = (i - middle) / rateHz;
    const t2 = tS * tS;
    const laterS = Math.max(0, tS);
    const known = s0 + sb * laterS * afterS;
    const shift = shiftMPerS2 * shiftS[i]!;
    const byMass = massShare * speedMPerS[i]!;
    const v2 = s0 + sb * t2 + shift * shift + byMass * byMass - known * known * perVariance;
    const knownX = s0 * tS + (sb * laterS * laterS * afterS) / 2;
    const shiftX = shiftMPerS2 * shiftS2[i]!;
    const byMassX = massShare * travelM[i]!;
    const x2 = s0 * t2 + (sb * t2 * t2) / 4 + shiftX * shiftX + byMassX * byMassX - knownX * knownX * perVariance;
    speedSigma[i] = Math.sqrt(Math.max(0, v2));
    travelSigma[i] = Math.sqrt(Math.max(0, x2));
  }
  return { speedMPerS: speedSigma, travelM: travelSigma };
}
