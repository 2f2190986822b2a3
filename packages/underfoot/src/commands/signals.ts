import { mkdir, writeFile } from "node:fs/promises";
import { basename, extname, join } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { recordingFromBytes } from "@underfoot/formats";
import { DEFAULT_SETTINGS, type Settings } from "@underfoot/mechanics";
import { labSignals, playerSignals, type SignalColumns, shotOutcome } from "@underfoot/pipeline";
import { type Call, type Command, choice, someFiles } from "../command.ts";
import { faultLine, fileFault } from "../file-fault.ts";
import { print, progress } from "../output.ts";
import { mappingOf, recordingFile } from "../recording-file.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot signals FILE... --frame lab|turf|level [--filter none|default|HZ] [--format csv|json] [--out-dir DIR] [--sidecar FILE] [--mapping FILE]

Every sample as numbers, missing ones empty, in full precision. Force is the ground's on the player.

  --frame lab     per plate k: p{k}_fx_n ... p{k}_mz_nm (moment about the plate's surface centre),
                  p{k}_cop_x_m ... (empty below ${DEFAULT_SETTINGS.loadOffN} N), p{k}_free_moment_nm. As written: no zero taken, nothing repaired.
  --frame turf    lead_, trail_, both_ along target, ahead, up (up square to the plates), couple, turning torque,
                  load share, speed and travel of the centre of mass. Needs a sidecar; zero as the rules say.
  --frame level   the same with up against gravity; CoP stays in the turf plane.
  --filter        none (default), default (${DEFAULT_SETTINGS.filter.kind === "butterworth" ? DEFAULT_SETTINGS.filter.cutoffHz : ""} Hz, zero phase), or a cut-off in Hz.
  --mapping       for delimited text: which column is which force of which plate (docs/formats/text.md)
  --out-dir       one file a recording, NAME.FRAME.csv; needed for CSV of more than one recording.

  underfoot signals chip-01.c3d --frame turf --filter default > chip-01.csv
`;

function filterOf(call: Call): Settings["filter"] {
  const word = call.values["filter"] ?? "none";
  if (word === "none") return { kind: "none" };
  if (word === "default") return DEFAULT_SETTINGS.filter;
  const cutoffHz = Number(word);
  if (!(cutoffHz > 0) || !Number.isFinite(cutoffHz))
    throw new UsageFault(`--filter is "${word}"; it must be none, default or a cut-off in Hz.`);
  return { kind: "butterworth", cutoffHz };
}

async function columnsOf(
  file: string,
  frame: "lab" | "turf" | "level",
  filter: Settings["filter"],
  sidecar: string | undefined,
  mappingPath: string | undefined,
): Promise<SignalColumns> {
  const mapping = await mappingOf(mappingPath);
  const source = await recordingFile(file, sidecar);
  if (frame === "lab") {
    const recording = recordingFromBytes(source.bytes, { file, ...mapping });
    if (filter.kind === "residual")
      throw new UsageFault("The residual filter needs a shot; use --frame turf or level.");
    return labSignals(recording, { settings: DEFAULT_SETTINGS, filter, leastLoadN: DEFAULT_SETTINGS.loadOffN });
  }
  const outcome = shotOutcome({ ...source, ...mapping, settings: { ...DEFAULT_SETTINGS, filter } });
  if (outcome.status === "error") throw new UnderfootError(outcome);
  if (outcome.status === "needs-facts") {
    throw new UnderfootError({
      code: "sidecar-missing",
      sentence: `${frame} axes need to know where the target is, and no sidecar says so for ${file}.`,
      remedy: "Put NAME.shot.json beside the recording, name one with --sidecar, or use --frame lab.",
      where: { file },
    });
  }
  return playerSignals(outcome.shot, frame);
}

const ROWS_AT_ONCE = 500;

/** CSV in pieces: head row, dot decimals, missing empty. */
function* csvPieces(columns: SignalColumns): Generator<string> {
  yield `${columns.map(({ name }) => name).join(",")}\n`;
  const count = columns[0]?.values.length ?? 0;
  for (let first = 0; first < count; first += ROWS_AT_ONCE) {
    let piece = "";
    for (let i = first; i < Math.min(count, first + ROWS_AT_ONCE); i++) {
      piece += `${columns.map(({ values }) => (Number.isFinite(values[i]) ? String(values[i]) : "")).join(",")}\n`;
    }
    yield piece;
  }
}

/** One recording as JSON, column by column. */
function* jsonPieces(file: string, columns: SignalColumns): Generator<string> {
  yield `{"file": ${JSON.stringify(file)}, "status": "ok", "columns": {`;
  for (const [k, { name, values }] of columns.entries()) {
    yield `${k > 0 ? "," : ""}\n${JSON.stringify(name)}: [`;
    for (let first = 0; first < values.length; first += ROWS_AT_ONCE) {
      const part = Array.prototype.slice.call(values, first, first + ROWS_AT_ONCE) as number[];
      yield `${first > 0 ? "," : ""}${part.map((value) => (Number.isFinite(value) ? String(value) : "null")).join(",")}`;
    }
    yield "]";
  }
  yield "\n}}";
}

interface Wanted {
  readonly frame: "lab" | "turf" | "level";
  readonly format: "csv" | "json";
  readonly outDir: string | undefined;
  readonly filter: Settings["filter"];
  readonly sidecar: string | undefined;
}

function wantedOf(call: Call, fileCount: number): Wanted {
  if (call.values["frame"] === undefined)
    throw new UsageFault('Say which axes: --frame lab, turf or level. See "underfoot signals --help".');
  const frame = choice(call, "frame", ["lab", "turf", "level"], "lab");
  const format = choice(call, "format", ["csv", "json"], "csv");
  const outDir = call.values["out-dir"];
  const sidecar = call.values["sidecar"];
  if (format === "csv" && !outDir && fileCount > 1)
    throw new UsageFault("CSV of several recordings needs --out-dir DIR: one file each.");
  if (sidecar !== undefined && fileCount > 1)
    throw new UsageFault("--sidecar belongs to one recording; name one file, or put a NAME.shot.json beside each.");
  return { frame, format, outDir, filter: filterOf(call), sidecar };
}

async function give(file: string, columns: SignalColumns, { frame, format, outDir }: Wanted): Promise<void> {
  const pieces = format === "csv" ? csvPieces(columns) : jsonPieces(file, columns);
  if (outDir) await writeFile(join(outDir, `${basename(file, extname(file))}.${frame}.${format}`), pieces);
  else for (const piece of pieces) await print(piece);
}

async function run(call: Call): Promise<number> {
  const files = someFiles(call, "signals");
  const wanted = wantedOf(call, files.length);
  if (wanted.outDir) await mkdir(wanted.outDir, { recursive: true });
  const isArray = wanted.format === "json" && !wanted.outDir;
  let failed = 0;
  if (isArray) await print("[\n");
  for (const [k, file] of files.entries()) {
    if (isArray && k > 0) await print(",\n");
    try {
      await give(
        file,
        await columnsOf(file, wanted.frame, wanted.filter, wanted.sidecar, call.values["mapping"]),
        wanted,
      );
    } catch (fault) {
      if (fault instanceof UsageFault) throw fault;
      failed++;
      const entry = fileFault(file, fault);
      process.stderr.write(faultLine(entry));
      if (isArray) await print(JSON.stringify(entry));
    }
    progress(k + 1, files.length, "Computed");
  }
  if (isArray) await print("\n]\n");
  return failed > 0 ? 1 : 0;
}

export const signals: Command = {
  name: "signals",
  summary: "every sample as numbers, in laboratory, turf or level axes",
  help: HELP,
  options: {
    frame: { type: "string" },
    filter: { type: "string" },
    format: { type: "string" },
    "out-dir": { type: "string" },
    sidecar: { type: "string" },
    mapping: { type: "string" },
  },
  run,
};
