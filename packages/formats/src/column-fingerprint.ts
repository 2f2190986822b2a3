import type { Recording, Where } from "@underfoot/domain";
import { said } from "./c3d-findings.ts";
import { headerFrom } from "./c3d-header.ts";
import { countOf, countsOf, parametersFrom, textsOf } from "./c3d-parameters.ts";
import { opened } from "./c3d-recording.ts";
import { c3dFaults } from "./faults.ts";
import { recordingFormat } from "./recording-from-bytes.ts";
import { textSniff } from "./text-sniff.ts";

/** What tells files of one kind from those of another: their columns, and for C3D their plates. */
export interface ColumnFingerprint {
  readonly format: Recording["format"];
  /** Channels or columns in the file's order, as labelled. */
  readonly columns: readonly string[];
  /** Equal where two files have the same columns with the same units on the same plates. */
  readonly key: string;
}

const BLOCK = 512;
const LINE_FEED = 0x0a;

/**
 * The fingerprint of a file from its first bytes, without its numbers: 64 kB are enough for nearly every file.
 *
 * @param head     the first bytes; the last line of a text may be cut in two unless `isWhole`
 * @param isWhole  the head is all of the file
 * @throws UnderfootError as the reader of its kind, also where the head is too short: try again with the whole file
 */
export function columnFingerprint(
  head: Uint8Array,
  { file, isWhole = false }: { readonly file: string; readonly isWhole?: boolean },
): ColumnFingerprint {
  const where = { file };
  if (recordingFormat(head, file) === "c3d" || /\.c3d$/i.test(file)) return c3dFingerprint(head, { isWhole, where });
  const end = head.lastIndexOf(LINE_FEED) + 1;
  const { columns } = textSniff(isWhole || end === 0 ? head : head.subarray(0, end), {}, where);
  const names = columns.map(({ name }) => name);
  return { format: "text", columns: names, key: keyOf("text", names, columns.map(({ unit }) => unit).join(" ")) };
}

function c3dFingerprint(
  head: Uint8Array,
  { isWhole, where }: { readonly isWhole: boolean; readonly where: Where },
): ColumnFingerprint {
  const { numbers, parameterAt } = opened(head, where, said());
  const header = headerFrom(numbers);
  const dataAt = (header.dataBlock - 1) * BLOCK;
  // The parameters may run on to the data: with less than that nothing is certain.
  if (!isWhole && dataAt > head.length)
    throw c3dFaults.paramBlockOutside(where, header.dataBlock, Math.ceil(head.length / BLOCK));
  const parameters = parametersFrom(numbers, head, { at: parameterAt, dataAt, where }, said());
  const labels = textsOf(parameters, "ANALOG:LABELS");
  const count = Math.min(countOf(parameters, "ANALOG:USED") ?? header.analogPerFrame, 0xffff);
  const columns = Array.from({ length: count }, (_, k) => labels[k] || `Channel ${k + 1}`);
  const plates = ["TYPE", "CHANNEL"].map((name) => countsOf(parameters, `FORCE_PLATFORM:${name}`)?.join(" ") ?? "");
  const units = textsOf(parameters, "ANALOG:UNITS").join(" ");
  return { format: "c3d", columns, key: keyOf("c3d", columns, [...plates, units].join("|")) };
}

const keyOf = (format: string, columns: readonly string[], rest: string): string =>
  JSON.stringify([format, columns, rest]);
