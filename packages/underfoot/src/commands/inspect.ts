import { columnMappingText, mappingProposal, recordingFromBytes, textSniff } from "@underfoot/formats";
import { inspection, type PlateInspection, type RecordingInspection } from "@underfoot/pipeline";
import { type Call, type Command, choice, someFiles } from "../command.ts";
import { type FileFault, faultLine, fileFault } from "../file-fault.ts";
import { jsonText, print, progress, tableText } from "../output.ts";
import { fileBytes, mappingOf } from "../recording-file.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot inspect FILE... [--format table|json] [--mapping FILE] [--propose-mapping]

What each recording holds: rates, channels, plates, events, and what is odd about it.
Forces are the ground's on the player, as written in the file: nothing zeroed, filtered or repaired.
For each plate the mean, least and largest of the three force components, along the plate's own
axes (z into the ground) and along the laboratory's.

  underfoot inspect chip-01.c3d
  underfoot inspect day1/*.c3d --format json > day1.json

  --mapping FILE      for delimited text: which column is which force of which plate (docs/formats/text.md)
  --propose-mapping   of one delimited text: prints a draft of such a mapping; what must be asked is listed
                      on standard error. Fill in what is empty, keep it, and name it with --mapping.

JSON: one array, one entry a file, in the order given.
`;

type Entry = ({ readonly file: string; readonly status: "ok" } & RecordingInspection) | FileFault;

const tenth = (value: number): string => (Number.isFinite(value) ? value.toFixed(1).replace("-", "\u2212") : "");

function plateRows(plate: PlateInspection): string[][] {
  const head = [`plate ${plate.index}, type ${plate.type}`];
  if (!plate.forceN) return [[...head, plate.fault?.sentence ?? ""]];
  const rows: string[][] = [];
  for (const [axes, components] of Object.entries(plate.forceN)) {
    for (const [axis, { mean, min, max }] of Object.entries(components)) {
      rows.push([
        rows.length === 0 ? (head[0] ?? "") : "",
        `${axes} F${axis}`,
        tenth(mean),
        tenth(min),
        tenth(max),
        String(plate.count),
      ]);
    }
  }
  return rows;
}

function entryText(entry: Entry): string {
  if (entry.status === "error") return `${entry.file}\n  ${entry.sentence} ${entry.remedy}\n`;
  const lines = [
    `${entry.file}`,
    `  ${entry.format}, ${entry.samples} samples at ${entry.rateHz} Hz (${entry.durationS.toFixed(2)} s), ${entry.channels.length} channels, ${entry.plates.length} plates`,
  ];
  const rows = entry.plates.flatMap(plateRows);
  if (rows.length > 0) {
    const table = tableText([["", "force, N", "mean", "least", "largest", "samples"], ...rows]);
    lines.push(
      ...table
        .trimEnd()
        .split("\n")
        .map((line) => `  ${line}`),
    );
  }
  for (const event of entry.events)
    lines.push(`  event ${event.label}${event.context ? ` (${event.context})` : ""} at ${event.timeS.toFixed(3)} s`);
  for (const { severity, sentence, remedy } of [...entry.findings, ...entry.guesses])
    lines.push(`  ${severity}: ${sentence} ${remedy}`);
  return `${lines.join("\n")}\n`;
}

async function entryOf(file: string, mappingPath: string | undefined): Promise<Entry> {
  try {
    const mapping = await mappingOf(mappingPath);
    return { file, status: "ok", ...inspection(recordingFromBytes(await fileBytes(file), { file, ...mapping })) };
  } catch (fault) {
    return fileFault(file, fault);
  }
}

/** A draft of a column mapping for one text, as JSON; the questions it leaves open on standard error. */
async function propose(files: readonly string[]): Promise<number> {
  const [file = "", ...others] = files;
  if (others.length > 0) throw new UsageFault("--propose-mapping looks at one file at a time.");
  try {
    const { mapping, questions } = mappingProposal(textSniff(await fileBytes(file)));
    await print(columnMappingText(mapping, { isDraft: true }));
    for (const { sentence, remedy } of questions) process.stderr.write(`${sentence} ${remedy}\n`);
    return 0;
  } catch (fault) {
    process.stderr.write(faultLine(fileFault(file, fault)));
    return 1;
  }
}

async function run(call: Call): Promise<number> {
  const files = someFiles(call, "inspect");
  if (call.switches.has("propose-mapping")) return propose(files);
  const format = choice(call, "format", ["table", "json"], "table");
  const entries: Entry[] = [];
  for (const [k, file] of files.entries()) {
    entries.push(await entryOf(file, call.values["mapping"]));
    if (format === "table") await print(entryText(entries[k]!));
    progress(k + 1, files.length, "Inspected");
  }
  if (format === "json") await print(jsonText(entries));
  const faults = entries.filter((entry) => entry.status === "error");
  if (format === "json") for (const fault of faults) process.stderr.write(faultLine(fault));
  return faults.length > 0 ? 1 : 0;
}

export const inspect: Command = {
  name: "inspect",
  summary: "what each recording holds",
  help: HELP,
  options: { format: { type: "string" }, mapping: { type: "string" }, "propose-mapping": { type: "boolean" } },
  run,
};
