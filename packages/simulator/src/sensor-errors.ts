import { type Column, type Random, random } from "@underfoot/domain";
import type { PlateColumns } from "./plate-wrench.ts";

/** How wrong sensors may be: one sigma each, drawn for every plate; noise between two limits. */
export interface SensorErrors {
  /** White noise of every force channel, N: drawn between these two. Moments have 0.3 of it in N m. */
  readonly noiseN: readonly [number, number];
  readonly zeroN: number;
  readonly zeroNm: number;
  readonly driftNPerS: number;
  readonly driftNmPerS: number;
  /** Of target, ahead and load each, and of the moment about z: share. */
  readonly gain: number;
  /** Load felt in each horizontal force, share. */
  readonly crosstalk: number;
  /** The plate lies this far from where the file says, along target and ahead, m. */
  readonly placeM: number;
  /** What the inclinometer is wrong by, degrees. */
  readonly inclinometerDeg: number;
  /** What the scale is wrong by, kg. */
  readonly scaleKg: number;
  /** Steps of the converter: 16 bit over the plate's range; 0: none. */
  readonly bits: 0 | 16;
  /** Trail plate's clock: offset and rate that are told with the recording, and what the telling is wrong by, ms. 0: one clock. */
  readonly clockOffsetMs: number;
  readonly clockPpm: number;
  readonly clockSdMs: number;
}

/** Ordinary plates: one sigma of the defaults that the computation assumes. */
export const DEFAULT_SENSORS: SensorErrors = {
  noiseN: [0.3, 1],
  zeroN: 2,
  zeroNm: 0.5,
  driftNPerS: 0.03,
  driftNmPerS: 0.006,
  gain: 0.005,
  crosstalk: 0.002,
  placeM: 0.002,
  inclinometerDeg: 0.2,
  scaleKg: 0.3,
  bits: 16,
  clockOffsetMs: 0,
  clockPpm: 0,
  clockSdMs: 0,
};

/** Faultless plates: the file holds the truth to rounding. */
export const EXACT_SENSORS: SensorErrors = {
  noiseN: [0, 0],
  zeroN: 0,
  zeroNm: 0,
  driftNPerS: 0,
  driftNmPerS: 0,
  gain: 0,
  crosstalk: 0,
  placeM: 0,
  inclinometerDeg: 0,
  scaleKg: 0,
  bits: 0,
  clockOffsetMs: 0,
  clockPpm: 0,
  clockSdMs: 0,
};

type Six = readonly [number, number, number, number, number, number];

/** What one plate is wrong by in a session, plate axes: Fx Fy Fz Mx My Mz about the surface centre. */
export interface PlateErrors {
  readonly noise: Six;
  readonly zero: Six;
  readonly driftPerS: Six;
  readonly gain: Six;
  /** Of load into Fx and Fy. */
  readonly crosstalk: readonly [number, number];
  /** The file's place less the true place, along target and ahead, m. */
  readonly placeM: readonly [number, number];
}

/** Draws one plate's errors; the same for every shot of a session. */
export function plateErrors(sensors: SensorErrors, sessionSeed: number, plate: number): PlateErrors {
  const draw = random(sessionSeed, `sensors of plate ${plate}`);
  const noiseN = sensors.noiseN[0] + (sensors.noiseN[1] - sensors.noiseN[0]) * draw.unit();
  const noiseNm = 0.3 * noiseN;
  const three = (sigma: number): [number, number, number] => [
    sigma * draw.normal(),
    sigma * draw.normal(),
    sigma * draw.normal(),
  ];
  const zero: Six = [...three(sensors.zeroN), ...three(sensors.zeroNm)];
  const driftPerS: Six = [...three(sensors.driftNPerS), ...three(sensors.driftNmPerS)];
  const [gainX, gainY, gainLoad] = three(sensors.gain);
  const gainTurn = sensors.gain * draw.normal();
  return {
    noise: [noiseN, noiseN, noiseN, noiseNm, noiseNm, noiseNm],
    zero,
    driftPerS,
    gain: [gainX, gainY, gainLoad, gainLoad, gainLoad, gainTurn],
    crosstalk: [sensors.crosstalk * draw.normal(), sensors.crosstalk * draw.normal()],
    placeM: [sensors.placeM * draw.normal(), sensors.placeM * draw.normal()],
  };
}

const TWO_TO_31 = 2 ** 31;

/** Adds normal noise by Marsaglia's polar method, two samples a time, from 32-bit numbers: fine enough for noise and quick. */
function addWhiteNoise(column: Column, sd: number, draw: Random): void {
  for (let i = 0; i < column.length; i += 2) {
    let u = 0;
    let v = 0;
    let square = 0;
    do {
      u = draw.u32() / TWO_TO_31 - 1;
      v = draw.u32() / TWO_TO_31 - 1;
      square = u * u + v * v;
    } while (square >= 1 || square === 0);
    const factor = sd * Math.sqrt((-2 * Math.log(square)) / square);
    column[i]! += u * factor;
    if (i + 1 < column.length) column[i + 1]! += v * factor;
  }
}

/** Spoils a plate's columns in place: gain and crosstalk, zero error and drift from the first sample, white noise. */
export function addPlateErrors(
  wrench: PlateColumns,
  { noise, zero, driftPerS, gain, crosstalk }: PlateErrors,
  { rateHz, draw }: { rateHz: number; draw: Random },
): void {
  const columns = [wrench.fx, wrench.fy, wrench.fz, wrench.mx, wrench.my, wrench.mz];
  const load = Float64Array.from(wrench.fz);
  columns.forEach((column, k) => {
    const factor = 1 + gain[k]!;
    const leak = k < 2 ? crosstalk[k]! : 0;
    const [offset, slope, sd] = [zero[k]!, driftPerS[k]! / rateHz, noise[k]!];
    for (let i = 0; i < column.length; i++) {
      column[i] = column[i]! * factor + leak * load[i]! + offset + slope * i;
    }
    if (sd > 0) addWhiteNoise(column, sd, draw);
  });
}

/** Cuts a channel to its converter's steps and ends, in place. */
export function digitise(column: Float64Array, fullScale: number, bits: number): void {
  const half = 2 ** (bits - 1);
  const step = fullScale / half;
  for (let i = 0; i < column.length; i++) {
    column[i] = step * Math.min(half - 1, Math.max(-half, Math.round(column[i]! / step)));
  }
}
