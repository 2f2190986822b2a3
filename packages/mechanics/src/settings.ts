/**
 * Every number that a result hangs on and that a user may change, with its default and source.
 * Stored with each result. (cp) common practice, no source; (sim) set by simulation with known truth.
 */
export interface Settings {
  /** Low-pass cut-off for force and moment, Hz, or Winter's residual analysis (Winter, Biomechanics and Motor Control, 4th ed.), or none. */
  readonly filter:
    | { readonly kind: "butterworth"; readonly cutoffHz: number }
    | { readonly kind: "residual" }
    | { readonly kind: "none" };
  /** Zero errors (one sigma) of each force and moment channel when nothing else is known. */
  readonly zeroSigmaN: number;
  readonly zeroSigmaNm: number;
  /** Gain error of each plate, share of its force (one sigma). */
  readonly gainSigma: number;
  /** Crosstalk of load into horizontal force (one sigma), share of the load. */
  readonly crosstalkSigma: number;
  /** Where a plate lies against the outlines, m (one sigma). */
  readonly placeSigmaM: number;
  /** Inclinometer, degrees (one sigma), unless the lie says otherwise. */
  readonly inclinometerSigmaDeg: number;
  /** Loaded from max(onN, onShare W) until max(offN, offShare W). */
  readonly loadOnN: number;
  readonly loadOnShare: number;
  readonly loadOffN: number;
  readonly loadOffShare: number;
  /** A foot's CoP is drawn and measured only while its sigma is at most this, m. */
  readonly trustedCopSigmaM: number;
  /** Clock error between plates beyond which measures of both plates are withheld, ms. */
  readonly clockLimitMs: number;
  /** Uncertainties of estimated events, ms (sim, except impact and delivery: cp). */
  readonly estimatedSigmaMs: {
    readonly start: number;
    readonly top: number;
    readonly delivery: number;
    readonly impact: number;
    readonly finish: number;
  };
  /** Of a mark without its own sd, ms: a frame picked by eye at 60 frames a second, 0.58 x 16.7 (formats, placing video). */
  readonly markSigmaMs: number;
  /** Delivery before impact where nothing marks it, ms (cp). */
  readonly deliveryBeforeImpactMs: number;
  /** Impact after the largest up force where nothing marks it, ms (cp). */
  readonly impactAfterUpPeakMs: number;
  /** Quiet-standing sway: sd of the mean CoM speed over a window, m/s, horizontal and up (sim: the simulator sways by 3 to 5 mm/s, up 0.6 of it; decision 0020). */
  readonly swaySpeedMPerS: number;
  readonly swaySpeedUpMPerS: number;
  /** Drift and hidden sway as an error of acceleration, m/s² (sim). */
  readonly driftMPerS2: number;
  readonly driftUpMPerS2: number;
  /** Speed left at the closing window, m/s (sim). */
  readonly closingSpeedMPerS: number;
  /** Caution and strong caution for required friction (cp). */
  readonly frictionCaution: number;
  readonly frictionStrongCaution: number;
}

export const DEFAULT_SETTINGS: Settings = {
  filter: { kind: "butterworth", cutoffHz: 25 },
  zeroSigmaN: 2,
  zeroSigmaNm: 0.5,
  gainSigma: 0.005,
  crosstalkSigma: 0.002,
  placeSigmaM: 0.002,
  inclinometerSigmaDeg: 0.2,
  loadOnN: 30,
  loadOnShare: 0.04,
  loadOffN: 20,
  loadOffShare: 0.03,
  trustedCopSigmaM: 0.01,
  clockLimitMs: 5,
  estimatedSigmaMs: { start: 50, top: 40, delivery: 30, impact: 60, finish: 60 },
  markSigmaMs: 9.7,
  deliveryBeforeImpactMs: 80,
  impactAfterUpPeakMs: 60,
  swaySpeedMPerS: 0.004,
  swaySpeedUpMPerS: 0.0024,
  driftMPerS2: 0.0035,
  driftUpMPerS2: 0.001,
  closingSpeedMPerS: 0.0103,
  frictionCaution: 0.5,
  frictionStrongCaution: 0.7,
};
