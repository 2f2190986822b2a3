import type { Recording, Where } from "@underfoot/domain";
import { said } from "./c3d-findings.ts";
import { headerFrom } from "./c3d-header.ts";
import { countOf, countsOf, numbersOf, parametersFrom, textsOf } from "./c3d-parameters.ts";
import { opened } from "./c3d-recording.ts";
import { c3dFaults } from "./faults.ts";
import { recordingFormat } from "./recording-from-bytes.ts";
import { textSniff } from "./text-sniff.ts";

/** What tells files of one kind from those of another: their columns, and for C3D their plates. */
export interface ColumnFingerprint {
  readonly format: Recording["format"];
  /** Channels or columns in the file's order, as labelled. */
  readonly columns: readonly string[];
  /** As announced; NaN where nothing says it. */
  readonly rateHz: number;
  /** Equal where two files have the same columns with the same units on the same plates, at the same rate. */
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
  const { columns, time } = textSniff(isWhole || end === 0 ? head : head.subarray(0, end), {}, where);
  const units = columns.map(({ unit }) => unit).join(" ");
  return fingerprint({
    format: "text",
    columns: columns.map(({ name }) => name),
    rateHz: time?.value.rateHz ?? Number.NaN,
    rest: units,
  });
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
  // The analog rate as written, else the header's; how many samples a frame really has is settled when it is read whole.
  const rateHz = numbersOf(parameters, "ANALOG:RATE")?.[0] ?? header.rateHz * Math.max(1, header.samplesPerFrame);
  return fingerprint({ format: "c3d", columns, rateHz, rest: [...plates, units].join("|") });
}

function fingerprint({
  rest,
  ...known
}: Omit<ColumnFingerprint, "key"> & { readonly rest: string }): ColumnFingerprint {
  const { format, columns, rateHz } = known;
  return { ...known, key: JSON.stringify([format, columns, Number(rateHz.toPrecision(3)), rest]) };
}
