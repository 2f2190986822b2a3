/** A number made for people. */
export interface NumberText {
  /** Number, space and unit: "−62 ms", "at least 135 N". */
  readonly text: string;
  /** The number alone, with a real minus sign. */
  readonly number: string;
  readonly unit: string;
  /** One sigma to one figure, without unit: "±0.02". Absent where no uncertainty was given. */
  readonly plusMinus?: string;
  /** In words, for a screen reader: "minus 62 milliseconds". */
  readonly spoken: string;
}

/** How one kind of quantity is written. */
interface QuantityKind {
  readonly unit: string;
  readonly one: string;
  readonly many: string;
  /** Decimals where no uncertainty is known. */
  readonly decimals: number;
  /** Never more decimals than this, however small the uncertainty. */
  readonly mostDecimals: number;
  /** Degrees stand close to the number; every other unit has a space before it (SI brochure, 9th ed., 5.4.3). */
  readonly isClose?: boolean;
}

export interface NumberOptions {
  /** The true value may be larger: a sensor was at the end of its range. */
  readonly isAtLeast?: boolean;
}

/** Every kind of quantity that people are shown, in one table. */
const KINDS = {
  newtons: { unit: "N", one: "newton", many: "newtons", decimals: 0, mostDecimals: 1 },
  bodyWeights: { unit: "BW", one: "body weight", many: "body weights", decimals: 2, mostDecimals: 3 },
  milliseconds: { unit: "ms", one: "millisecond", many: "milliseconds", decimals: 0, mostDecimals: 1 },
  seconds: { unit: "s", one: "second", many: "seconds", decimals: 2, mostDecimals: 3 },
  percent: { unit: "%", one: "percent", many: "percent", decimals: 0, mostDecimals: 1 },
  metres: { unit: "m", one: "metre", many: "metres", decimals: 1, mostDecimals: 2 },
  centimetres: { unit: "cm", one: "centimetre", many: "centimetres", decimals: 1, mostDecimals: 2 },
  millimetres: { unit: "mm", one: "millimetre", many: "millimetres", decimals: 0, mostDecimals: 1 },
  metresPerSecond: { unit: "m/s", one: "metre per second", many: "metres per second", decimals: 2, mostDecimals: 3 },
  degrees: { unit: "°", one: "degree", many: "degrees", decimals: 1, mostDecimals: 2, isClose: true },
  newtonMetres: { unit: "N m", one: "newton metre", many: "newton metres", decimals: 0, mostDecimals: 1 },
  newtonSeconds: { unit: "N s", one: "newton second", many: "newton seconds", decimals: 1, mostDecimals: 2 },
  newtonMetreSeconds: {
    unit: "N m s",
    one: "newton metre second",
    many: "newton metre seconds",
    decimals: 1,
    mostDecimals: 2,
  },
  newtonsPerSecond: { unit: "N/s", one: "newton per second", many: "newtons per second", decimals: 0, mostDecimals: 0 },
  kilograms: { unit: "kg", one: "kilogram", many: "kilograms", decimals: 1, mostDecimals: 2 },
  hertz: { unit: "Hz", one: "hertz", many: "hertz", decimals: 0, mostDecimals: 1 },
  ratio: { unit: "", one: "", many: "", decimals: 2, mostDecimals: 3 },
} as const satisfies Record<string, QuantityKind>;

/** A value that is missing, in every table and at every ruler. */
const MISSING = "not known";

/**
 * Decimals that an uncertainty justifies: its first figure, after rounding to one figure (GUM 7.2.6 asks for no more
 * than two; one is taken here). 0.023 → 2, 0.96 → 0, 23 → -1 (tens). Never more than `most`.
 */
function decimalsFromSigma(sigma: number, most: number): number {
  const exponent = Number(sigma.toExponential(0).split("e")[1]);
  return Math.min(-exponent, most);
}

/** Half a step goes away from zero, so that a difference and its opposite are of one size; Math.round alone takes −1.5 to −1. */
function roundedTo(value: number, step: number): number {
  return Math.sign(value) * Math.round(Math.abs(value) / step) * step;
}

/** `value` with `decimals` (negative: rounded to tens, hundreds), a real minus sign, and no negative zero. */
function digits(value: number, decimals: number): string {
  const step = 10 ** Math.max(0, -decimals);
  const plain = roundedTo(value, step).toFixed(0);
  const text = decimals > 0 ? value.toFixed(decimals) : plain;
  return /[1-9]/.test(text) ? text.replace("-", "−") : text.replace("-", "");
}

function sigmaIsKnown(sigma: number | undefined): sigma is number {
  return sigma !== undefined && Number.isFinite(sigma) && sigma > 0;
}

function decimalsOf(kind: QuantityKind, sigma: number | undefined): number {
  return sigmaIsKnown(sigma) ? decimalsFromSigma(sigma, kind.mostDecimals) : kind.decimals;
}

function written(kind: QuantityKind, value: number, sigma?: number, options: NumberOptions = {}): NumberText {
  if (!Number.isFinite(value)) return { text: MISSING, number: "–", unit: kind.unit, spoken: MISSING };
  const decimals = decimalsOf(kind, sigma);
  const bare = digits(value, decimals);
  const number = options.isAtLeast ? `at least ${bare}` : bare;
  const gap = kind.isClose || kind.unit === "" ? "" : " ";
  const word = bare === "1" ? kind.one : kind.many;
  const finest = 10 ** -decimals;
  return {
    text: `${number}${gap}${kind.unit}`,
    number,
    unit: kind.unit,
    spoken: `${number.replace("−", "minus ")} ${word}`.trimEnd(),
    ...(sigmaIsKnown(sigma) ? { plusMinus: `±${digits(Math.max(sigma, finest), decimals)}` } : {}),
  };
}

/** A force in N: 134.6 ± 2.4 → "135 N", "±2". */
export function inNewtons(forceN: number, sigmaN?: number, options?: NumberOptions): NumberText {
  return written(KINDS.newtons, forceN, sigmaN, options);
}

/** A load in body weights (1 BW = m g): 1.2 → "1.20 BW". */
export function inBodyWeights(loadBw: number, sigmaBw?: number, options?: NumberOptions): NumberText {
  return written(KINDS.bodyWeights, loadBw, sigmaBw, options);
}

/** A time in ms, from impact unless said: -62.4 ± 4 → "−62 ms". */
export function inMilliseconds(timeMs: number, sigmaMs?: number, options?: NumberOptions): NumberText {
  return written(KINDS.milliseconds, timeMs, sigmaMs, options);
}

/** A time from the first sample, in s. */
export function inSeconds(timeS: number, sigmaS?: number, options?: NumberOptions): NumberText {
  return written(KINDS.seconds, timeS, sigmaS, options);
}

/** A share in percent (give 83, not 0.83). */
export function inPercent(sharePercent: number, sigmaPercent?: number, options?: NumberOptions): NumberText {
  return written(KINDS.percent, sharePercent, sigmaPercent, options);
}

/** A distance in cm, from metres: 0.028 → "2.8 cm". */
export function inCentimetres(distanceM: number, sigmaM?: number, options?: NumberOptions): NumberText {
  return written(KINDS.centimetres, distanceM * 100, sigmaM === undefined ? undefined : sigmaM * 100, options);
}

/** A distance in mm, from metres: 0.0284 → "28 mm". */
export function inMillimetres(distanceM: number, sigmaM?: number, options?: NumberOptions): NumberText {
  return written(KINDS.millimetres, distanceM * 1000, sigmaM === undefined ? undefined : sigmaM * 1000, options);
}

/** A speed in m/s. */
export function inMetresPerSecond(speedMPerS: number, sigmaMPerS?: number, options?: NumberOptions): NumberText {
  return written(KINDS.metresPerSecond, speedMPerS, sigmaMPerS, options);
}

/** A length in m, such as a carry: 31.26 → "31.3 m". */
export function inMetres(lengthM: number, sigmaM?: number, options?: NumberOptions): NumberText {
  return written(KINDS.metres, lengthM, sigmaM, options);
}

/** An angle in degrees: 5 ± 0.2 → "5.0°". */
export function inDegrees(angleDeg: number, sigmaDeg?: number, options?: NumberOptions): NumberText {
  return written(KINDS.degrees, angleDeg, sigmaDeg, options);
}

/** A torque in N m. */
export function inNewtonMetres(torqueNm: number, sigmaNm?: number, options?: NumberOptions): NumberText {
  return written(KINDS.newtonMetres, torqueNm, sigmaNm, options);
}

/** An impulse in N s. */
export function inNewtonSeconds(impulseNs: number, sigmaNs?: number, options?: NumberOptions): NumberText {
  return written(KINDS.newtonSeconds, impulseNs, sigmaNs, options);
}

/** An impulse of a torque in N m s. */
export function inNewtonMetreSeconds(impulseNms: number, sigmaNms?: number, options?: NumberOptions): NumberText {
  return written(KINDS.newtonMetreSeconds, impulseNms, sigmaNms, options);
}

/** A rate of force development in N/s. */
export function inNewtonsPerSecond(rateNPerS: number, sigmaNPerS?: number, options?: NumberOptions): NumberText {
  return written(KINDS.newtonsPerSecond, rateNPerS, sigmaNPerS, options);
}

/** A mass in kg. */
export function inKilograms(massKg: number, sigmaKg?: number, options?: NumberOptions): NumberText {
  return written(KINDS.kilograms, massKg, sigmaKg, options);
}

/** A sampling rate or cut-off in Hz. */
export function inHertz(rateHz: number, sigmaHz?: number, options?: NumberOptions): NumberText {
  return written(KINDS.hertz, rateHz, sigmaHz, options);
}

/** A number without unit: required friction, tempo. */
export function asRatio(ratio: number, sigma?: number, options?: NumberOptions): NumberText {
  return written(KINDS.ratio, ratio, sigma, options);
}

/**
 * A value rounded as it will be written, so that a sum of rounded parts adds up in a sentence.
 * @param sigmaN  the uncertainty that decides the decimals; unknown: whole newtons
 */
export function roundedNewtons(forceN: number, sigmaN?: number): number {
  const decimals = Math.min(decimalsOf(KINDS.newtons, sigmaN), KINDS.newtons.mostDecimals);
  const step = 10 ** -decimals;
  return roundedTo(forceN, step);
}
