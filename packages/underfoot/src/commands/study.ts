import { asJson } from "@underfoot/compare";
import type { StudyAsk } from "@underfoot/library";
import { type StudyReading, studyReading } from "@underfoot/report";
import { listOf, narrowed, QUERY_HELP, queryOf, viewOf } from "../asked-of-shots.ts";
import { type Call, type Command, choice, noFiles } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { jsonText, print, progress, stopSignal, tableText } from "../output.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot study --measure ID[,ID] --a QUERY --b QUERY [options] [--format table|json] [--library DIR]

Whether a difference, B minus A, holds across players: a mixed model for each measure, each player's own difference
beside it. Only shots of players who agreed to studies are counted.

  --measure ID        measures, such as lead.share.at.impact; commas between several
  --curve NAME        a whole curve, one difference a player; as often as wanted
  --axes              turf (as left out) or level
  --registration      impact (as left out) or events
  --shot-number       keeps the number of the shot in the model: learning, tiring
  --times N           how often these shots were looked at; as left out 1
  --seed N            for what is drawn; as left out 1
${LIBRARY_HELP}

${QUERY_HELP}

  underfoot study --measure lead.share.at.impact --a "intent=stock;lieName=flat" --b "intent=low;lieName=flat"

Below six players nothing is said of players in general. Exit code: 0 done, 1 it could not be done, 2 wrong usage.
`;

const lines = (texts: readonly { readonly text: string }[]): string => texts.map(({ text }) => `${text}\n`).join("");

/** A study as a table and its sentences. Between lies no difference stands without the slope’s share. */
export function studyText({ headline, looks, notices, curves, rows }: StudyReading): string {
  const isShared = rows.some(({ slopeShare }) => slopeShare !== "");
  const table = rows.map(({ column, raw, slopeShare, difference, interval, say, sentence }) => [
    ...[column, ...(isShared ? [raw || difference, slopeShare || "none"] : []), difference, interval, say],
    sentence.text,
  ]);
  const difference = isShared ? ["B minus A", "the slope alone", "without the slope"] : ["B minus A"];
  const head = ["measure", ...difference, "95 % interval", "over players", ""];
  return `${headline.text}\n\n${tableText([head, ...table])}\n${lines(curves)}${lines(notices)}${lines(looks)}`;
}

async function run(call: Call): Promise<number> {
  noFiles(call, "study");
  const format = choice(call, "format", ["table", "json"], "table");
  const [a, b, measures] = [queryOf(call, "a"), queryOf(call, "b"), listOf(call, "measure")];
  if (measures === undefined) throw new UsageFault("--measure ID is missing: name what is looked at across players.");
  const options: Omit<StudyAsk, "a" | "b"> = {
    ...viewOf(call),
    measures,
    withShotNumber: call.switches.has("shot-number"),
  };
  return withLibrary(call, {}, async (library) => {
    const ask = { ...options, a: await narrowed(library, call, a), b: await narrowed(library, call, b) };
    const answer = await library.compare.study(ask, {
      signal: stopSignal(),
      onProgress: ({ done, total }) => progress(done, total, "Shots computed"),
    });
    await print(format === "json" ? jsonText(asJson(answer)) : studyText(studyReading(answer)));
    return 0;
  });
}

export const study: Command = {
  name: "study",
  summary: "whether a difference holds across players",
  help: HELP,
  options: {
    a: { type: "string" },
    b: { type: "string" },
    measure: { type: "string" },
    curve: { type: "string", multiple: true },
    axes: { type: "string" },
    registration: { type: "string" },
    "shot-number": { type: "boolean" },
    times: { type: "string" },
    seed: { type: "string" },
    format: { type: "string" },
    library: { type: "string" },
  },
  run,
};
