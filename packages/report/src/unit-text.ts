import {
  asRatio,
  inBodyWeights,
  inDegrees,
  inMetresPerSecond,
  inMillimetres,
  inMilliseconds,
  inNewtonMetreSeconds,
  inNewtonMetres,
  inNewtonSeconds,
  inNewtons,
  inNewtonsPerSecond,
  inPercent,
  type NumberOptions,
  type NumberText,
} from "./numbers.ts";

type Writer = (value: number, sigma?: number, options?: NumberOptions) => NumberText;

/** How each unit of the catalogue is written. */
const WRITERS: Readonly<Record<string, Writer>> = {
  N: inNewtons,
  BW: inBodyWeights,
  ms: inMilliseconds,
  "%": inPercent,
  mm: (valueMm, sigmaMm, options) =>
    inMillimetres(valueMm / 1000, sigmaMm === undefined ? undefined : sigmaMm / 1000, options),
  "m/s": inMetresPerSecond,
  deg: inDegrees,
  "N m": inNewtonMetres,
  "N s": inNewtonSeconds,
  "N m s": inNewtonMetreSeconds,
  "N/s": inNewtonsPerSecond,
  "1": asRatio,
};

export function writerOfUnit(unit: string): Writer {
  return WRITERS[unit] ?? asRatio;
}

/** A value in a unit of the catalogue, written for people. `resolution`: such as half an interval; it decides the digits. */
export function unitText(value: number, unit: string, resolution?: number): NumberText {
  return writerOfUnit(unit)(value, resolution);
}

/** A difference or scatter in a unit of the catalogue: of two shares it is points, not percent. */
export function differenceText(value: number, unit: string, resolution?: number): NumberText {
  const written = unitText(value, unit, resolution);
  if (unit !== "%") return written;
  const points = /^−?1$/.test(written.number) ? "point" : "points";
  const [text, spoken] = [`${written.number} ${points}`, `${written.number.replace("−", "minus ")} ${points}`];
  return { ...written, unit: points, text, spoken };
}
