import { availableParallelism } from "node:os";
import type { MovedMeasure, Recomputation, RecomputeOptions } from "@underfoot/library";
import { differenceText } from "@underfoot/report";
import { type Call, type Command, choice, noFiles, wholeNumber } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { countText, jsonText, print, progress, stopSignal, tableText } from "../output.ts";
import { playerByCode } from "../player-by-code.ts";

const HELP = `underfoot recompute [--all] [--player CODE] [--session ID] [--workers N] [--format table|json] [--library DIR]

Computes the shots whose numbers are missing, or were made from other facts, with other settings or by another
version, on all cores, and says which numbers moved: in how many shots, by how much at most. Recordings and facts
stay as they are.

  --all               those that are up to date too
  --player CODE       --session ID    these shots only
  --workers N         how many at once; as left out: one for each core (${availableParallelism()} here)
${LIBRARY_HELP}

Ctrl+C stops after the shots in hand; what was computed stays. Exit code: 0 all, 1 some shot failed, 2 wrong usage.
`;

/** Measures whose largest change is listed; all of them are in the JSON. */
const MOST_LISTED = 20;

function movedRow({ column, title, unit, shots, appeared, vanished, largestChange, shotId }: MovedMeasure): string[] {
  const axes = column.split(" ")[1];
  return [
    axes === undefined ? title : `${title}, ${axes}`,
    String(shots),
    largestChange === 0 ? "" : differenceText(largestChange, unit, Math.abs(largestChange) / 10).text,
    appeared + vanished === 0 ? "" : `${appeared} appeared, ${vanished} vanished`,
    shotId,
  ];
}

function movedText(moved: readonly MovedMeasure[]): string {
  if (moved.length === 0) return "No number that was kept before moved.\n";
  const shown = moved.slice(0, MOST_LISTED);
  const more = moved.length > shown.length ? `and ${moved.length - shown.length} more; all with --format json.\n` : "";
  const table = tableText([["measure", "shots", "largest change", "", "in the shot"], ...shown.map(movedRow)]);
  return `${countText(moved.length, "measure")} moved, the most moved against its uncertainty first:\n${table}${more}`;
}

function recomputationText({ computed, current, changedMeanwhile, faults, moved, isCancelled }: Recomputation): string {
  const lines = [
    `${countText(computed, "shot")} computed, ${current.toLocaleString("en-GB")} up to date already.\n`,
    ...(changedMeanwhile > 0
      ? [`Somebody changed ${countText(changedMeanwhile, "shot")} meanwhile; run it once more for these.\n`]
      : []),
    ...(isCancelled ? ["Stopped as asked; what was computed stays. The same command again goes on.\n"] : []),
    ...(computed > 0 ? [movedText(moved)] : []),
    ...faults.map(({ shotId, sentence, remedy }) => `The shot ${shotId} was not computed: ${sentence} ${remedy}\n`),
  ];
  return lines.join("");
}

async function run(call: Call): Promise<number> {
  noFiles(call, "recompute");
  const format = choice(call, "format", ["table", "json"], "table");
  const workers = wholeNumber(call, "workers", { least: 1, most: 256, fallback: availableParallelism() });
  const { player, session } = call.values;
  return withLibrary(call, {}, async (library) => {
    const options: RecomputeOptions = {
      workers,
      scope: call.switches.has("all") ? "all" : "stale",
      signal: stopSignal(),
      onProgress: ({ done, total }) => progress(done, total, "Computed"),
      ...(player === undefined ? {} : { playerId: (await playerByCode(library, player)).id }),
      ...(session === undefined ? {} : { sessionId: (await library.sessions.byId(session)).id }),
    };
    const done = await library.recompute(options);
    await print(format === "json" ? jsonText(done) : recomputationText(done));
    return done.faults.length > 0 || done.isCancelled ? 1 : 0;
  });
}

export const recompute: Command = {
  name: "recompute",
  summary: "compute what is missing or out of date, and say which numbers moved",
  help: HELP,
  options: {
    all: { type: "boolean" },
    player: { type: "string" },
    session: { type: "string" },
    workers: { type: "string" },
    format: { type: "string" },
    library: { type: "string" },
  },
  run,
};
