import { type Recording, UnderfootError, type Where } from "@underfoot/domain";
import { recordingFromC3d } from "./c3d-recording.ts";
import type { ColumnMapping } from "./column-mapping-type.ts";
import { readingFaults } from "./reading-faults.ts";
import { recordingFromText } from "./recording-from-text.ts";
import { textSniff } from "./text-sniff.ts";
import type { BadRows } from "./text-table.ts";

const C3D_KEY = 0x50;
const HEADER_BYTES = 512;
const PNG = [0x89, 0x50, 0x4e, 0x47];

export interface ReadingOptions {
  /** The file's name, for sentences and for what its ending promises. */
  readonly file?: string;
  /** For delimited text. */
  readonly mapping?: ColumnMapping;
  readonly badRows?: BadRows;
  readonly where?: Where;
}

/** Which reader a file belongs to: by content; by its name only where the content does not tell. */
export function recordingFormat(bytes: Uint8Array, file?: string): Recording["format"] {
  const isNamedC3d = file !== undefined && /\.c3d$/i.test(file);
  // An empty file is what its name says. Text may have a P as its second letter, but no NUL; every C3D header has some.
  const isBinary = bytes.subarray(0, HEADER_BYTES).includes(0);
  const isC3d = !isPicture(bytes) && bytes[1] === C3D_KEY && (isBinary || (bytes[0] ?? 0) < 0x09);
  return isC3d || (isNamedC3d && (isBinary || bytes.length === 0)) ? "c3d" : "text";
}

/** The second byte of a PNG picture is that of C3D (PNG specification, section 5.2; from memory). */
const isPicture = (bytes: Uint8Array): boolean => PNG.every((byte, k) => bytes[k] === byte);

/**
 * A recording from the bytes of a file: C3D or delimited text, by content, not by name.
 *
 * @throws UnderfootError not-c3d where a file named .c3d is none; else what the reader of its kind throws
 */
export function recordingFromBytes(
  bytes: Uint8Array,
  { file, mapping, badRows, where }: ReadingOptions = {},
): Recording {
  const at: Where = { ...where, ...(file === undefined ? {} : { file }) };
  const isNamedC3d = file !== undefined && /\.c3d$/i.test(file);
  if (isPicture(bytes) && isNamedC3d) throw readingFaults.pictureNamedC3d(at);
  if (recordingFormat(bytes, file) === "c3d") return recordingFromC3d(bytes, at);
  const options = {
    where: at,
    ...(mapping === undefined ? {} : { mapping }),
    ...(badRows === undefined ? {} : { badRows }),
  };
  if (!isNamedC3d) return recordingFromText(bytes, options);
  const fault = textFault(bytes, at);
  if (fault !== undefined && bytes.subarray(0, HEADER_BYTES).some(isControl))
    throw readingFaults.neitherNamedC3d(at, fault);
  throw readingFaults.textNamedC3d(at, fault);
}

/** A byte that no text holds, in whatever encoding: below a space, and neither a tab, a line's end, a page's end nor an escape. */
const isControl = (byte: number): boolean => byte < 0x20 && !(byte >= 0x09 && byte <= 0x0d) && byte !== 0x1b;

/** Why the bytes are no table of numbers either; undefined where they are one. */
function textFault(bytes: Uint8Array, where: Where): UnderfootError | undefined {
  try {
    textSniff(bytes, {}, where);
    return undefined;
  } catch (error) {
    if (error instanceof UnderfootError) return error;
    throw error;
  }
}
