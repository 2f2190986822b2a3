import type { Where } from "@underfoot/domain";
import { c3dFindings, type Said } from "./c3d-findings.ts";
import type { NumberReader } from "./c3d-numbers.ts";
import { fixedText } from "./c3d-text.ts";

/** Where one parameter's data lie and of what type they are; read when asked for. */
interface C3dParameter {
  /** -1 text, 1 byte, 2 integer, 4 real. */
  readonly type: number;
  readonly dimensions: readonly number[];
  readonly at: number;
  /** First byte after the data, inside the file. */
  readonly end: number;
}

export interface C3dParameters {
  readonly numbers: NumberReader;
  /** By `GROUP:NAME`, upper case. */
  readonly byName: ReadonlyMap<string, C3dParameter>;
}

interface Raw {
  readonly id: number;
  readonly name: string;
  readonly parameter: C3dParameter;
}

interface Section {
  readonly numbers: NumberReader;
  readonly bytes: Uint8Array;
  readonly at: number;
  /** The end as the section's block count says. */
  readonly softEnd: number;
  /** Where data begin or the file ends: no record starts past it. */
  readonly hardEnd: number;
}

/** More than any file seen, so that a made-up section cannot fill the memory (ours). */
const MOST_RECORDS = 20_000;
const MOST_VALUES = 65_535;
const BLOCK = 512;
const WIDTH: Readonly<Record<number, number>> = { [-1]: 1, 1: 1, 2: 2, 4: 4 };

const isPrintable = (bytes: Uint8Array): boolean => bytes.every((byte) => byte >= 0x20 && byte < 0x7f);
const product = (factors: readonly number[]): number => factors.reduce((all, factor) => all * factor, 1);

/** The parameter whose type byte is at `at`; undefined where its type or dimensions make no sense. */
function parameterAt(
  section: Section,
  at: number,
  next: number,
): { parameter: C3dParameter; size: number } | undefined {
  const { bytes, numbers } = section;
  if (at + 2 > bytes.length) return undefined;
  const type = numbers.view.getInt8(at);
  const width = WIDTH[type];
  const rank = bytes[at + 1] as number;
  const data = at + 2 + rank;
  if (width === undefined || rank > 7 || data > bytes.length) return undefined;
  const dimensions = [...bytes.subarray(at + 2, data)];
  const size = width * product(dimensions);
  const limit = Math.min(bytes.length, Math.max(next, section.hardEnd));
  return { parameter: { type, dimensions, at: data, end: Math.min(data + size, limit) }, size };
}

interface Scan {
  readonly groups: Map<number, string>;
  readonly raws: Raw[];
}

/** Takes one record in. Returns where the next one starts, or undefined at the end. */
function takeRecord(section: Section, at: number, where: Where, scan: Scan, out: Said): number | undefined {
  const { bytes, numbers, hardEnd } = section;
  const length = Math.abs(numbers.view.getInt8(at));
  const id = numbers.view.getInt8(at + 1);
  if (length === 0) return undefined;
  const offsetAt = at + 2 + length;
  const letters = bytes.subarray(at + 2, offsetAt);
  const offset = offsetAt + 2 <= hardEnd ? numbers.uint16(offsetAt) : 1;
  const next = offset === 0 ? hardEnd : offsetAt + offset;
  if (!isPrintable(letters) || (offset !== 0 && offset < 3) || next > bytes.length) {
    out.say(c3dFindings.paramGarbage(where, at));
    return undefined;
  }
  const name = fixedText(letters).toUpperCase();
  if (id < 0) {
    if (!scan.groups.has(-id)) scan.groups.set(-id, name);
  } else {
    const found = parameterAt(section, offsetAt + 2, next);
    if (found === undefined) out.say(c3dFindings.paramType(where, name));
    else {
      if (offset !== 0 && found.parameter.at + found.size > next) {
        out.say(c3dFindings.paramLength(where, name, found.size, next - found.parameter.at));
      }
      scan.raws.push({ id, name, parameter: found.parameter });
    }
  }
  if (offset !== 0 && next > hardEnd) out.say(c3dFindings.paramGarbage(where, next));
  return offset === 0 ? undefined : next;
}

function scanSection(section: Section, where: Where, out: Said): Scan {
  const scan: Scan = { groups: new Map(), raws: [] };
  let at: number | undefined = section.at + 4;
  let isOver = false;
  for (let count = 0; at !== undefined && at + 2 <= section.hardEnd; count++) {
    const recordAt: number = at;
    at = count < MOST_RECORDS ? takeRecord(section, recordAt, where, scan, out) : undefined;
    if (count === MOST_RECORDS) out.say(c3dFindings.paramGarbage(where, recordAt));
    isOver ||= (at ?? recordAt) > section.softEnd && scan.raws.length > 0;
  }
  if (isOver) out.say(c3dFindings.paramOverrun(where));
  return scan;
}

function named(scan: Scan, where: Where, out: Said): Map<string, C3dParameter> {
  const byName = new Map<string, C3dParameter>();
  const orphans: string[] = [];
  const twice: string[] = [];
  for (const { id, name, parameter } of scan.raws) {
    const group = scan.groups.get(id);
    const key = `${group ?? `#${id}`}:${name}`;
    if (group === undefined) orphans.push(key);
    if (byName.has(key)) twice.push(key);
    else byName.set(key, parameter);
  }
  if (orphans.length > 0) out.say(c3dFindings.paramOrphan(where, orphans.length, orphans[0] as string));
  if (twice.length > 0) out.say(c3dFindings.paramTwice(where, twice.length, twice[0] as string));
  return byName;
}

/**
 * The parameter section that begins at byte `at`, read as far as it is sound.
 *
 * Its end is the block count's, but a section that runs on is followed to the data or the file's end.
 * Data are only located here, so memory is a few words per parameter. `dataAt` is where data begin, in bytes.
 */
export function parametersFrom(
  numbers: NumberReader,
  bytes: Uint8Array,
  { at, dataAt, where }: { readonly at: number; readonly dataAt: number; readonly where: Where },
  out: Said,
): C3dParameters {
  const [first = 0, key = 0, blocks = 0] = bytes.subarray(at, at + 3);
  if (first !== 1 || key !== 0x50) out.say(c3dFindings.paramKey(where, first, key));
  const hardEnd = dataAt > at ? Math.min(dataAt, bytes.length) : bytes.length;
  const section = { numbers, bytes, at, softEnd: at + blocks * BLOCK, hardEnd };
  const byName = named(scanSection(section, where, out), where, out);
  if (byName.size === 0) out.say(c3dFindings.noParameters(where));
  return { numbers, byName };
}

/** The parameter and its continuations NAME2 .. NAME9, up to the first that is missing. */
function withContinuations({ byName }: C3dParameters, name: string): C3dParameter[] {
  const found: C3dParameter[] = [];
  const first = byName.get(name);
  if (first === undefined) return found;
  found.push(first);
  for (let digit = 2; digit <= 9; digit++) {
    const next = byName.get(`${name}${digit}`);
    if (next === undefined) break;
    found.push(next);
  }
  return found;
}

function textsIn(numbers: NumberReader, { type, dimensions, at, end }: C3dParameter): string[] {
  if (type !== -1) return [];
  const width = dimensions[0] ?? 1;
  const count = Math.min(
    product(dimensions.slice(1)),
    MOST_VALUES,
    width === 0 ? MOST_VALUES : Math.ceil((end - at) / width),
  );
  const { buffer, byteOffset } = numbers.view;
  return Array.from({ length: count }, (_, i) => {
    const from = at + i * width;
    return fixedText(new Uint8Array(buffer, byteOffset + from, Math.max(0, Math.min(width, end - from))));
  });
}

function numbersIn(numbers: NumberReader, parameter: C3dParameter, isUnsigned: boolean): number[] {
  const { type, at, end } = parameter;
  if (type === -1) return textsIn(numbers, parameter).map((text) => (text.trim() === "" ? Number.NaN : Number(text)));
  const count = Math.min(MOST_VALUES, Math.floor((end - at) / type));
  const one = (i: number): number => {
    if (type === 4) return numbers.real(at + 4 * i);
    if (type === 2) return isUnsigned ? numbers.uint16(at + 2 * i) : numbers.int16(at + 2 * i);
    return isUnsigned ? numbers.view.getUint8(at + i) : numbers.view.getInt8(at + i);
  };
  return Array.from({ length: count }, (_, i) => one(i));
}

/** All numbers of a parameter in file order, whatever their type; integers signed. Undefined where there is none such. */
export function numbersOf(parameters: C3dParameters, name: string): number[] | undefined {
  const found = withContinuations(parameters, name);
  if (found.length === 0) return undefined;
  return found.flatMap((parameter) => numbersIn(parameters.numbers, parameter, false));
}

/** As `numbersOf`, integers unsigned: what is counted. */
export function countsOf(parameters: C3dParameters, name: string): number[] | undefined {
  const found = withContinuations(parameters, name);
  if (found.length === 0) return undefined;
  return found.flatMap((parameter) => numbersIn(parameters.numbers, parameter, true));
}

/** The first of `countsOf`, if it is a finite number. */
export function countOf(parameters: C3dParameters, name: string): number | undefined {
  const count = countsOf(parameters, name)?.[0];
  return count !== undefined && Number.isFinite(count) ? count : undefined;
}

/** All texts of a parameter; none where there is none such. */
export function textsOf(parameters: C3dParameters, name: string): string[] {
  return withContinuations(parameters, name).flatMap((parameter) => textsIn(parameters.numbers, parameter));
}
