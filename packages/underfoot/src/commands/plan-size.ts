import { columnOf } from "@underfoot/compare";
import { catalogueEntry } from "@underfoot/mechanics";
import { planSize } from "@underfoot/pipeline";
import { narrowed, QUERY_HELP, queryOf } from "../asked-of-shots.ts";
import { type Call, type Command, choice, noFiles, wholeNumber } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { jsonText, print, progress, stopSignal } from "../output.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot plan-size --measure ID --query QUERY --difference D [options] [--format table|json] [--library DIR]

How many shots of each of two conditions show a difference, from the player's own scatter in earlier shots.

  --measure ID        such as lead.share.at.impact
  --difference D      smallest difference that would matter, in the measure's unit
  --count N           shots planned of each condition: what these could show
  --axes              turf (as left out) or level
  --player CODE       --session ID    hold where the query does not say it itself
${LIBRARY_HELP}

${QUERY_HELP}

  underfoot plan-size --player P01 --measure lead.share.at.impact --query "lieName=flat" --difference 5

Scatter is that of shots of the same session, intent, lie and club. Exit code: 0 said, 1 it could not be, 2 wrong usage.
`;

function differenceOf(call: Call): number {
  const text = call.values["difference"];
  const value = text === undefined || text.trim() === "" ? Number.NaN : Number(text);
  if (Number.isFinite(value)) return value;
  throw new UsageFault(
    text === undefined
      ? "--difference D is missing: the smallest difference that would matter."
      : `--difference is "${text}"; it must be a number, in the measure's unit.`,
  );
}

/** Column and unit of the measure in these axes, or in the only ones it has. */
function measureOf(call: Call): { readonly column: string; readonly unit: string; readonly title: string } {
  const axes = choice(call, "axes", ["turf", "level"], "turf");
  const id = call.values["measure"];
  if (id === undefined) throw new UsageFault("--measure ID is missing: name what is to be compared.");
  const entry = catalogueEntry(id);
  if (entry === undefined || entry.statistic === "text")
    throw new UsageFault(`There is no measure "${id}"; "underfoot measure FILE --format json" shows their ids.`);
  const { axes: versions, unit, title } = entry;
  return { column: columnOf(id, versions.includes(axes) ? axes : versions[0]), unit, title };
}

async function run(call: Call): Promise<number> {
  noFiles(call, "plan-size");
  const format = choice(call, "format", ["table", "json"], "table");
  const { column, unit, title } = measureOf(call);
  const [difference, query] = [differenceOf(call), queryOf(call, "query")];
  const count =
    call.values["count"] === undefined ? undefined : wholeNumber(call, "count", { least: 2, most: 1000, fallback: 2 });
  return withLibrary(call, {}, async (library) => {
    const shots = await library.compare.shots(await narrowed(library, call, query), {
      signal: stopSignal(),
      onProgress: ({ done, total }) => progress(done, total, "Shots computed"),
    });
    const conditions = new Map<string, number[]>();
    for (const { label, player, sessionId, day, intent, lieName, club, measures } of shots) {
      if (label !== "kept") continue;
      const name = JSON.stringify([player, sessionId ?? day, intent, lieName, club]);
      conditions.set(name, [...(conditions.get(name) ?? []), measures.get(column)?.value ?? Number.NaN]);
    }
    const asked = { values: [...conditions.values()], difference, unit };
    const size = planSize(count === undefined ? asked : { ...asked, counts: [count, count] });
    const all = { measure: column, title, unit, difference, countShots: shots.length, ...size };
    await print(format === "json" ? jsonText(all) : `${title}. ${size.sentence}\n`);
    return 0;
  });
}

export const planSizeCommand: Command = {
  name: "plan-size",
  summary: "how many shots show a difference, from earlier scatter",
  help: HELP,
  options: {
    measure: { type: "string" },
    query: { type: "string" },
    difference: { type: "string" },
    count: { type: "string" },
    axes: { type: "string" },
    player: { type: "string" },
    session: { type: "string" },
    format: { type: "string" },
    library: { type: "string" },
  },
  run,
};
