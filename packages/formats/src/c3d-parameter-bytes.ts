/** One value of a C3D parameter. `dimensions` default to the number of values; one value alone is a scalar. */
export type C3dValue =
  | { readonly kind: "integer" | "real"; readonly values: readonly number[]; readonly dimensions?: readonly number[] }
  | { readonly kind: "text"; readonly values: readonly string[] };

export interface C3dGroup {
  readonly name: string;
  /** Name, value, description. */
  readonly parameters: readonly (readonly [string, C3dValue, string?])[];
}

/** Shortest forms: a scalar, a list, a table of numbers, one text, a list of texts. */
export const integers = (values: readonly number[], dimensions?: readonly number[]): C3dValue =>
  dimensions === undefined ? { kind: "integer", values } : { kind: "integer", values, dimensions };
export const reals = (values: readonly number[], dimensions?: readonly number[]): C3dValue =>
  dimensions === undefined ? { kind: "real", values } : { kind: "real", values, dimensions };
export const texts = (values: readonly string[]): C3dValue => ({ kind: "text", values });

/** A C3D dimension is one byte. */
const LARGEST_DIMENSION = 255;
const BLOCK = 512;
const TYPE_CODE = { text: 0xff, integer: 2, real: 4 } as const;

function utf8(text: string): number[] {
  const bytes: number[] = [];
  for (const match of encodeURIComponent(text).matchAll(/%([0-9A-F]{2})|(.)/g)) {
    bytes.push(match[1] === undefined ? (match[2] ?? "").charCodeAt(0) : Number.parseInt(match[1], 16));
  }
  return bytes;
}

function textData(values: readonly string[]): { dimensions: number[]; data: number[] } {
  const rows = values.map((value) => utf8(value).slice(0, LARGEST_DIMENSION));
  const width = Math.max(1, ...rows.map((row) => row.length));
  const data = rows.flatMap((row) => [...row, ...new Array<number>(width - row.length).fill(0x20)]);
  return { dimensions: values.length === 1 ? [width] : [width, values.length], data };
}

function numberData(value: Exclude<C3dValue, { kind: "text" }>): { dimensions: number[]; data: number[] } {
  const width = value.kind === "integer" ? 2 : 4;
  const view = new DataView(new ArrayBuffer(value.values.length * width));
  value.values.forEach((number, i) => {
    if (value.kind === "integer") view.setUint16(2 * i, number & 0xffff, true);
    else view.setFloat32(4 * i, number, true);
  });
  const dimensions = value.dimensions ?? (value.values.length === 1 ? [] : [value.values.length]);
  return { dimensions: [...dimensions], data: [...new Uint8Array(view.buffer)] };
}

/** One record: name length, id, name, way to the next record, what it holds. */
function record(id: number, name: string, body: readonly number[]): number[] {
  const letters = utf8(name);
  const offset = body.length + 2;
  if (offset > 0xffff) throw new RangeError(`parameter ${name} takes ${offset} bytes; a record holds 65535`);
  return [letters.length, id & 0xff, ...letters, offset & 0xff, offset >> 8, ...body];
}

function described(body: readonly number[], description = ""): number[] {
  const letters = utf8(description).slice(0, LARGEST_DIMENSION);
  return [...body, letters.length, ...letters];
}

function parameterRecord(id: number, [name, value, description]: C3dGroup["parameters"][number]): number[] {
  const { dimensions, data } = value.kind === "text" ? textData(value.values) : numberData(value);
  if (dimensions.some((dimension) => dimension > LARGEST_DIMENSION)) {
    throw new RangeError(`parameter ${name} has a dimension over ${LARGEST_DIMENSION}`);
  }
  return record(id, name, described([TYPE_CODE[value.kind], dimensions.length, ...dimensions, ...data], description));
}

/**
 * The parameter section of a C3D file: groups numbered from 1 in the order given, Intel numbers, padded to whole blocks of 512 bytes.
 *
 * Integers are written modulo 65536, so counts up to 65535 fit. Throws a RangeError where a text, a dimension or a
 * record is longer than the format holds. Source: The C3D File Format User Guide, "The parameter section".
 */
export function parameterBytes(groups: readonly C3dGroup[]): Uint8Array<ArrayBuffer> {
  const records = groups.flatMap((group, i) => [
    ...record(-(i + 1), group.name, described([])),
    ...group.parameters.flatMap((parameter) => parameterRecord(i + 1, parameter)),
  ]);
  const blocks = Math.ceil((4 + records.length + 2) / BLOCK);
  if (blocks > LARGEST_DIMENSION) throw new RangeError(`the parameters take ${blocks} blocks; the format holds 255`);
  const bytes = new Uint8Array(blocks * BLOCK);
  bytes.set([1, 0x50, blocks, 84]);
  bytes.set(records, 4);
  return bytes;
}
