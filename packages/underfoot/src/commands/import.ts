import { existsSync } from "node:fs";
import { performance } from "node:perf_hooks";
import { type ShotFacts, UnderfootError } from "@underfoot/domain";
import { type ColumnMapping, shotFactsFromSidecar, sidecarNamesFor } from "@underfoot/formats";
import type { Library, Recomputation } from "@underfoot/library";
import { type Call, type Command, choice, dayOf, someFiles } from "../command.ts";
import { failedFile, type ImportedFile, type ImportPlan, importedFiles } from "../import-files.ts";
import { faultLines, type ImportReport, summaryText } from "../import-report.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { jsonText, print, progress, stopSignal } from "../output.ts";
import { playerByCode } from "../player-by-code.ts";
import { fileBytes, mappingOf } from "../recording-file.ts";
import { RECORDING_ENDINGS, type RecordingPaths, recordingPaths } from "../recording-paths.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot import PATH... [--session new|ID] [--player CODE] [--day DAY] [--mapping NAME|FILE] [--facts FILE] [--dry-run] [--format table|json]

Brings recordings into the library, files and whole folders (${RECORDING_ENDINGS.map((ending) => ending.slice(1)).join(", ")}), each with the sidecar
NAME.shot.json beside it. The files stay as they are; the library keeps its own copy, and what it says is stored is
on the disk. A recording it has already is known by its content and not taken twice. One file that cannot be read
never stops the others: each is named at the end, with what to do. Then the new shots are computed.

  --session new       into a session for each player and day, opened where there is none yet
  --session ID        all of them into this session (underfoot list sessions)
  --player CODE       whose shots these are; as left out: whom each sidecar names
  --day DAY           YYYY-MM-DD; as left out: the session's, else the day each file was last written
  --mapping NAME|FILE for delimited text: which column is which force of which plate, by its name in this library or
                      from a file (docs/formats/text.md), which is then kept; as left out: the kept one that fits
  --facts FILE        a sidecar for every recording that has none of its own
  --take-cut-off      also what is cut off at its end; as left out such a file is named, for a whole copy may exist
  --dry-run           looks at everything and stores nothing
  --no-compute        leaves computing to "underfoot recompute"
${LIBRARY_HELP}

  underfoot import day1 --session new
  underfoot import chips/*.csv --mapping "bay 2" --player P01 --dry-run

Ctrl+C stops after the file in hand. Exit code: 0 all, 1 some file could not be brought in, 2 wrong usage.
`;

/** The mapping named: a file, else the name of a kept one. */
async function mappingNamed(library: Library, name: string | undefined): Promise<ColumnMapping | undefined> {
  if (name === undefined) return undefined;
  if (existsSync(name)) return (await mappingOf(name)).mapping;
  const kept = await library.mappings.list();
  const mapping = kept.find((one) => one.name === name);
  if (mapping) return mapping;
  throw new UnderfootError({
    code: "no-such-mapping",
    sentence: `--mapping "${name}" is no file, and this library keeps no mapping of that name; it has ${kept.length === 0 ? "none yet" : kept.map((one) => `"${one.name}"`).join(", ")}.`,
    remedy: "Name one of these or a mapping's file; underfoot inspect FILE --propose-mapping drafts one.",
  });
}

async function factsNamed(file: string | undefined): Promise<ShotFacts | undefined> {
  if (file === undefined) return undefined;
  const { facts } = shotFactsFromSidecar(new TextDecoder().decode(await fileBytes(file)), { file });
  // Written for one recording, taken for many: it names none of them.
  const { recordingFile: _, recordingSha256: __, ...others } = facts;
  return others;
}

async function placeNamed(library: Library, call: Call): Promise<ImportPlan["place"]> {
  const { session, player } = call.values;
  if (session !== undefined && session !== "new") return { sessionId: (await library.sessions.byId(session)).id };
  return {
    ...(session === "new" ? { isSessionOfDay: true } : {}),
    ...(player === undefined ? {} : { playerId: (await playerByCode(library, player)).id }),
  };
}

async function planOf(library: Library, call: Call, signal: AbortSignal): Promise<ImportPlan> {
  return {
    mapping: await mappingNamed(library, call.values["mapping"]),
    facts: await factsNamed(call.values["facts"]),
    place: await placeNamed(library, call),
    day: dayOf(call, "day"),
    isCutOffTaken: call.switches.has("take-cut-off"),
    isDryRun: call.switches.has("dry-run"),
    signal,
  };
}

/** Keeps a mapping that came from a file and fitted, unless another of its name is kept. */
async function keepMapping(
  library: Library,
  call: Call,
  files: readonly ImportedFile[],
  plan: ImportPlan,
): Promise<string | undefined> {
  const { mapping } = plan;
  const isFitting = files.some((file) => file.status !== "error" && file.mapping === mapping?.name);
  if (!mapping || plan.isDryRun || !isFitting || !existsSync(call.values["mapping"] ?? "")) return undefined;
  const isThere = (await library.mappings.list()).some(({ name }) => name === mapping.name);
  return isThere ? undefined : (await library.mappings.keep(mapping.name, mapping)).name;
}

async function compute(library: Library, shotIds: readonly string[], signal: AbortSignal): Promise<Recomputation> {
  return library.recompute({ shotIds, signal, onProgress: ({ done, total }) => progress(done, total, "Computed") });
}

/** Shots that were just computed and whose numbers stop at a finding. */
async function notComputable(library: Library, shotIds: readonly string[]): Promise<ImportReport["notComputable"]> {
  const wanted = new Set(shotIds);
  const failed: { shot: string; file: string; sentence: string }[] = [];
  let after: string | undefined;
  do {
    const page = await library.shots.find({ leastSeverity: "stop", limit: 500, ...(after ? { after } : {}) });
    for (const { id, fileName } of page.rows.filter((row) => wanted.has(row.id))) {
      if ((await library.results.get(id))?.status !== "error") continue;
      const stop = (await library.shots.byId(id)).findings.find(({ severity }) => severity === "stop");
      failed.push({ shot: id, file: fileName, sentence: stop ? `${stop.sentence} ${stop.remedy}` : "" });
    }
    after = page.next;
  } while (after !== undefined);
  return failed;
}

function sidecarsAlone({ recordings, sidecars }: RecordingPaths): readonly string[] {
  const wanted = new Set(recordings.flatMap((path) => sidecarNamesFor(path)));
  return sidecars.filter((path) => !wanted.has(path) && !/(^|[\\/])folder\.(shot|underfoot)\.json$/i.test(path));
}

async function importInto(library: Library, call: Call, paths: RecordingPaths): Promise<ImportReport> {
  const startMs = performance.now();
  const signal = stopSignal();
  const plan = await planOf(library, call, signal);
  const files: ImportedFile[] = paths.faults.map(failedFile);
  let lookedAt = 0;
  let stoppedBy: UnderfootError | undefined;
  try {
    for await (const file of importedFiles(library, paths.recordings, plan)) {
      files.push(file);
      progress(++lookedAt, paths.recordings.length, plan.isDryRun ? "Looked at" : "Brought in");
    }
  } catch (fault) {
    // What was stored until then is stored, and is said.
    if (!(fault instanceof UnderfootError)) throw fault;
    stoppedBy = fault;
  }
  const keptMapping = stoppedBy ? undefined : await keepMapping(library, call, files, plan);
  const fine = files.filter((file) => file.status !== "error");
  const newIds = fine.filter((file) => file.status === "stored" || file.factsSaid > 0).flatMap(({ shots }) => shots);
  const mayCompute = !stoppedBy && !plan.isDryRun && !call.switches.has("no-compute") && newIds.length > 0;
  const computation = mayCompute ? await compute(library, newIds, signal) : undefined;
  return {
    shots: fine.reduce((sum, { newShots }) => sum + newShots, 0),
    duplicates: fine.reduce((sum, { knownShots }) => sum + knownShots, 0),
    factsSaid: fine.reduce((sum, { factsSaid }) => sum + factsSaid, 0),
    files,
    passedOver: paths.passedOver,
    sidecarsAlone: sidecarsAlone(paths),
    notLookedAt: paths.recordings.length - lookedAt,
    isDryRun: plan.isDryRun,
    isDayOfFile: plan.day === undefined && plan.place.sessionId === undefined,
    ...(keptMapping === undefined ? {} : { keptMapping }),
    ...(computation ? { computation } : {}),
    notComputable: computation ? await notComputable(library, newIds) : [],
    ...(stoppedBy ? { stoppedBy: `${stoppedBy.message} ${stoppedBy.remedy}` } : {}),
    seconds: (performance.now() - startMs) / 1000,
  };
}

function checkUsage(call: Call): void {
  const { session, player } = call.values;
  if (session !== undefined && session !== "new" && player !== undefined)
    throw new UsageFault("A session has its player already; leave --player out, or use --session new.");
  dayOf(call, "day");
}

async function run(call: Call): Promise<number> {
  const named = someFiles(call, "import");
  const format = choice(call, "format", ["table", "json"], "table");
  checkUsage(call);
  const paths = await recordingPaths(named);
  if (paths.recordings.length + paths.faults.length === 0) {
    process.stderr.write(
      `No recording was found in ${named.join(", ")} (${paths.passedOver} other files). Recordings end in ${RECORDING_ENDINGS.join(" ")}.\n`,
    );
    return 1;
  }
  return withLibrary(call, { mayMake: true }, async (library) => {
    const report = await importInto(library, call, paths);
    if (format === "json") {
      await print(jsonText(report));
      process.stderr.write(faultLines(report));
    } else await print(summaryText(report));
    const isWhole = report.notLookedAt === 0 && report.files.every(({ status }) => status !== "error");
    return isWhole ? 0 : 1;
  });
}

export const importRecordings: Command = {
  name: "import",
  summary: "bring recordings into the library, files and whole folders",
  help: HELP,
  options: {
    session: { type: "string" },
    player: { type: "string" },
    day: { type: "string" },
    mapping: { type: "string" },
    facts: { type: "string" },
    "take-cut-off": { type: "boolean" },
    "dry-run": { type: "boolean" },
    "no-compute": { type: "boolean" },
    format: { type: "string" },
    library: { type: "string" },
  },
  run,
};
