import type { PlayerAxes } from "@underfoot/domain";
import { CATALOGUE, type Measure } from "@underfoot/mechanics";
import { sha256Of } from "../disk/recording-store.ts";

/** Which measure stands where in the packed values: "both.target.peak turf", "lead.share.at.impact". */
export interface ValueLayout {
  readonly id: string;
  readonly columns: readonly string[];
}

export function columnName(measure: string, axes: PlayerAxes | undefined): string {
  return axes === undefined ? measure : `${measure} ${axes}`;
}

/** The layout of this version: the catalogue of measures in its order, each with its axes. */
export function currentLayout(): ValueLayout {
  const columns = CATALOGUE.flatMap(({ id, axes }) => axes.map((one) => columnName(id, one)));
  return { id: sha256Of(JSON.stringify(columns)), columns };
}

export const VALUE_BYTES: number = Float64Array.BYTES_PER_ELEMENT;
export const SIGMA_BYTES: number = Float32Array.BYTES_PER_ELEMENT;

export interface PackedMeasures {
  readonly values: Uint8Array<ArrayBuffer>;
  readonly sigmas: Uint8Array<ArrayBuffer>;
  /** The part of each sigma that all shots of a session share, as the sigmas are. */
  readonly shared: Uint8Array<ArrayBuffer>;
  /** What gravity alone explains, as Float32; NaN where nothing. */
  readonly shares: Uint8Array<ArrayBuffer>;
  /** Of measures that are text, by column. */
  readonly texts: Readonly<Record<string, string>>;
}

/** Values as Float64 and sigmas as Float32 (six digits of an uncertainty are plenty), little endian; NaN where not valid. */
export function packedMeasures(measures: readonly Measure[], { columns }: ValueLayout): PackedMeasures {
  const values = new DataView(new ArrayBuffer(columns.length * VALUE_BYTES));
  const sigmas = new DataView(new ArrayBuffer(columns.length * SIGMA_BYTES));
  const shared = new DataView(new ArrayBuffer(columns.length * SIGMA_BYTES));
  const shares = new DataView(new ArrayBuffer(columns.length * SIGMA_BYTES));
  const texts: Record<string, string> = {};
  const places = new Map(columns.map((name, k) => [name, k]));
  columns.forEach((_, k) => {
    values.setFloat64(k * VALUE_BYTES, Number.NaN, true);
    for (const view of [sigmas, shared, shares]) view.setFloat32(k * SIGMA_BYTES, Number.NaN, true);
  });
  for (const { id, axes, value, sigma, sigmaShared, slopeShare, text, isValid } of measures) {
    const name = columnName(id, axes);
    const place = places.get(name);
    if (place === undefined || !isValid) continue;
    values.setFloat64(place * VALUE_BYTES, value, true);
    sigmas.setFloat32(place * SIGMA_BYTES, sigma, true);
    shared.setFloat32(place * SIGMA_BYTES, sigmaShared, true);
    shares.setFloat32(place * SIGMA_BYTES, slopeShare ?? Number.NaN, true);
    if (text !== undefined) texts[name] = text;
  }
  const bytesOf = ({ buffer }: DataView<ArrayBuffer>): Uint8Array<ArrayBuffer> => new Uint8Array(buffer);
  return {
    values: bytesOf(values),
    sigmas: bytesOf(sigmas),
    shared: bytesOf(shared),
    shares: bytesOf(shares),
    texts,
  };
}

/** One value of packed bytes; NaN where they end before it. */
export function valueAt(bytes: Uint8Array, place: number): number {
  if ((place + 1) * VALUE_BYTES > bytes.byteLength) return Number.NaN;
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getFloat64(place * VALUE_BYTES, true);
}

export function sigmaAt(bytes: Uint8Array, place: number): number {
  if ((place + 1) * SIGMA_BYTES > bytes.byteLength) return Number.NaN;
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getFloat32(place * SIGMA_BYTES, true);
}
