import { type ShotOutcome, shotOutcome } from "@underfoot/pipeline";
import { measuresCsv, measureTable } from "@underfoot/report";
import { type Call, type Command, choice, someFiles } from "../command.ts";
import { type FileFault, faultLine, fileFault } from "../file-fault.ts";
import { jsonText, print, progress, tableText } from "../output.ts";
import { mappingOf, recordingFile } from "../recording-file.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot measure FILE... [--sidecar FILE] [--format table|json|csv] [--mapping FILE]

The events and measures of each shot, every number with its unit and its uncertainty (one standard deviation).
A sidecar NAME.shot.json beside NAME.c3d is found by itself. It says what a recording cannot: which way the
target is, which hand the player is, which foot stands on which plate, the lie. Without one you get loads,
pressure per plate and weight, and a sentence on what is missing.

  underfoot measure chip-01.c3d
  underfoot measure chip-01.c3d --sidecar other.shot.json --format json
  underfoot measure day1/*.c3d --format csv > day1.csv

  --mapping FILE   for delimited text: which column is which force of which plate (docs/formats/text.md)

JSON: one array, one entry a file, in the order given; a value is null where it is not valid, and "why" says why.
`;

type Entry = ({ readonly file: string } & Exclude<ShotOutcome, { status: "error" }>) | FileFault;

async function entryOf(file: string, sidecar: string | undefined, mappingPath: string | undefined): Promise<Entry> {
  try {
    const mapping = await mappingOf(mappingPath);
    const outcome = shotOutcome({ ...(await recordingFile(file, sidecar)), ...mapping });
    if (outcome.status === "error")
      return { file, status: "error", code: outcome.code, sentence: outcome.sentence, remedy: outcome.remedy };
    return { file, ...outcome };
  } catch (fault) {
    return fileFault(file, fault);
  }
}

function eventsOf(entry: Entry): readonly { event: string; timeS: number; source: string; sigmaMs: number }[] {
  return entry.status === "ok" ? entry.shot.events : [];
}

function jsonEntry(entry: Entry): object {
  if (entry.status === "error") return { ...entry, events: [], measures: [], findings: [] };
  return {
    file: entry.file,
    status: "ok",
    ...(entry.status === "needs-facts"
      ? { code: "sidecar-missing", sentence: entry.findings.find(({ code }) => code === "sidecar-missing")?.sentence }
      : {}),
    events: eventsOf(entry),
    measures: entry.measures.map(({ id, value, text, unit, sigma, sigmaShared, axes, slopeShare, isValid, why }) => ({
      id,
      value: text ?? (isValid ? value : null),
      unit,
      sigma: isValid ? sigma : null,
      sigmaShared: isValid ? sigmaShared : null,
      ...(axes === undefined ? {} : { axes }),
      ...(slopeShare === undefined ? {} : { slopeShare }),
      valid: isValid,
      ...(why === undefined ? {} : { why }),
    })),
    findings: entry.findings,
    provenance: entry.provenance,
  };
}

function entryText(entry: Entry): string {
  if (entry.status === "error") return `${entry.file}\n  ${entry.sentence} ${entry.remedy}\n`;
  const events = eventsOf(entry).map(
    ({ event, timeS, source, sigmaMs }) =>
      `  ${event} at ${timeS.toFixed(3)} s, ${source}, ±${sigmaMs.toFixed(0)} ms\n`,
  );
  const findings = entry.findings.map(({ severity, sentence, remedy }) => `  ${severity}: ${sentence} ${remedy}\n`);
  const table = tableText(measureTable(entry.measures).map((row) => [...row]));
  return `${entry.file}\n${events.join("")}${findings.join("")}${table}\n`;
}

async function run(call: Call): Promise<number> {
  const files = someFiles(call, "measure");
  const format = choice(call, "format", ["table", "json", "csv"], "table");
  const sidecar = call.values["sidecar"];
  if (sidecar !== undefined && files.length > 1)
    throw new UsageFault("--sidecar belongs to one recording; name one file, or put a NAME.shot.json beside each.");
  const entries: Entry[] = [];
  for (const [k, file] of files.entries()) {
    const entry = await entryOf(file, sidecar, call.values["mapping"]);
    entries.push(entry);
    if (format === "table") await print(entryText(entry));
    progress(k + 1, files.length, "Measured");
  }
  if (format === "json") await print(jsonText(entries.map(jsonEntry)));
  if (format === "csv")
    await print(
      measuresCsv(
        entries.map((entry) => ({ file: entry.file, measures: entry.status === "error" ? [] : entry.measures })),
      ),
    );
  const faults = entries.filter((entry) => entry.status === "error");
  if (format !== "table") for (const fault of faults) process.stderr.write(faultLine(fault));
  return faults.length > 0 ? 1 : 0;
}

export const measure: Command = {
  name: "measure",
  summary: "the events and measures of each shot, with uncertainty",
  help: HELP,
  options: { format: { type: "string" }, sidecar: { type: "string" }, mapping: { type: "string" } },
  run,
};
