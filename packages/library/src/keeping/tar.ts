import type { FileReader, FileWriter } from "../disk/file-system.ts";
import { libraryFaults } from "../faults.ts";

// The container of a backup: a POSIX "ustar" archive (IEEE Std 1003.1-2017, pax, "ustar Interchange Format"), so that
// any tar reads it. Only plain files, whose names fit the 100 bytes of the name field.

const BLOCK = 512;
const NAME_BYTES = 100;
/** Eleven octal digits. */
const MOST_BYTES = 8 ** 11 - 1;
/** What is read or written at once. */
const PIECE = 1 << 20;

const encoder = new TextEncoder();
const decoder = new TextDecoder();

function octal(value: number, digits: number): string {
  return `${Math.floor(value).toString(8).padStart(digits, "0")}\0`;
}

/** The header of one plain file; times in whole seconds. */
export function tarHeader(name: string, byteCount: number, changedS: number): Uint8Array<ArrayBuffer> {
  const nameBytes = encoder.encode(name);
  if (nameBytes.length > NAME_BYTES || byteCount > MOST_BYTES)
    throw libraryFaults.wrong(
      `${name} (${byteCount} bytes) does not fit into a backup.`,
      "Back up the folder itself with the tools of your system.",
    );
  const header = new Uint8Array(BLOCK);
  const put = (text: string, at: number): void => header.set(encoder.encode(text), at);
  header.set(nameBytes, 0);
  put(octal(0o600, 7), 100);
  put(octal(0, 7), 108);
  put(octal(0, 7), 116);
  put(octal(byteCount, 11), 124);
  put(octal(changedS, 11), 136);
  put("        ", 148);
  put("0", 156);
  put("ustar\x0000", 257);
  const sum = header.reduce((total, byte) => total + byte, 0);
  put(`${octal(sum, 6)} `, 148);
  return header;
}

const padding = (byteCount: number): number => (BLOCK - (byteCount % BLOCK)) % BLOCK;

/** Adds one file that is read from elsewhere, piece by piece. */
export async function writeEntry(
  out: FileWriter,
  { name, changedS }: { readonly name: string; readonly changedS: number },
  source: FileReader,
  seen?: (piece: Uint8Array) => void,
): Promise<void> {
  await out.write(tarHeader(name, source.byteCount, changedS));
  for (let at = 0; at < source.byteCount; at += PIECE) {
    const piece = await source.read(at, PIECE);
    if (piece.length < Math.min(PIECE, source.byteCount - at))
      throw new RangeError(`${name} became shorter while it was read`);
    seen?.(piece);
    await out.write(piece);
  }
  await out.write(new Uint8Array(padding(source.byteCount)));
}

/** Adds one file from memory. */
export async function writeBytesEntry(
  out: FileWriter,
  { name, changedS }: { readonly name: string; readonly changedS: number },
  bytes: Uint8Array,
): Promise<void> {
  await out.write(tarHeader(name, bytes.length, changedS));
  await out.write(bytes);
  await out.write(new Uint8Array(padding(bytes.length)));
}

/** Two empty blocks end an archive. */
export async function writeEnd(out: FileWriter): Promise<void> {
  await out.write(new Uint8Array(2 * BLOCK));
}

export interface TarEntry {
  readonly name: string;
  readonly byteCount: number;
  /** Where its bytes begin. */
  readonly first: number;
}

function textAt(header: Uint8Array, first: number, length: number): string {
  const part = header.subarray(first, first + length);
  const end = part.indexOf(0);
  return decoder.decode(end < 0 ? part : part.subarray(0, end));
}

function entryFrom(header: Uint8Array, at: number, file: string): TarEntry {
  const stored = Number.parseInt(textAt(header, 148, 8).trim(), 8);
  const sum = header.reduce((total, byte, k) => total + (k >= 148 && k < 156 ? 0x20 : byte), 0);
  if (stored !== sum || textAt(header, 257, 5) !== "ustar")
    throw libraryFaults.notBackup(file, `byte ${at} begins no entry`);
  const size = textAt(header, 124, 12).trim();
  if (!/^[0-7]+$/.test(size)) throw libraryFaults.notBackup(file, `the entry at byte ${at} has no size`);
  return { name: textAt(header, 0, NAME_BYTES), byteCount: Number.parseInt(size, 8), first: at + BLOCK };
}

/**
 * The entries of an archive, in order.
 *
 * @throws UnderfootError library-not-backup where it is cut off or no archive
 */
export async function* tarEntries(source: FileReader, file: string): AsyncGenerator<TarEntry> {
  let at = 0;
  for (;;) {
    const header = await source.read(at, BLOCK);
    if (header.length < BLOCK)
      throw libraryFaults.notBackup(file, `it ends at byte ${at + header.length}, before its end mark`);
    if (header.every((byte) => byte === 0)) return;
    const entry = entryFrom(header, at, file);
    if (entry.first + entry.byteCount > source.byteCount)
      throw libraryFaults.notBackup(file, `it ends within ${entry.name}`);
    yield entry;
    at = entry.first + entry.byteCount + padding(entry.byteCount);
  }
}

/** The bytes of one entry, piece by piece. */
export async function* entryPieces(source: FileReader, { first, byteCount }: TarEntry): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < byteCount; at += PIECE) yield source.read(first + at, Math.min(PIECE, byteCount - at));
}
