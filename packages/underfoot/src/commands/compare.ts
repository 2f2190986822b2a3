import { asJson, type ComparedMeasure } from "@underfoot/compare";
import type { ComparisonAnswer, ComparisonAsk } from "@underfoot/library";
import {
  type ComparisonReading,
  comparisonReading,
  type PairReading,
  pairReading,
  type UsualReading,
  usualReading,
} from "@underfoot/report";
import { listOf, marginsOf, narrowed, QUERY_HELP, queryOf, viewOf } from "../asked-of-shots.ts";
import { type Call, type Command, choice, noFiles } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { jsonText, print, progress, stopSignal, tableText } from "../output.ts";

const HELP = `underfoot compare --a QUERY --b QUERY [options] [--format table|json] [--library DIR]

What differs between B and A beyond the player's own scatter and beyond the slope. A is what it is held against. One
shot by its id on one side is held against the usual of the other; one on each side are only said to be so far apart.

  --player CODE       --session ID    hold for both sides, where these do not say it themselves
  --measures A,B      these only; as left out: every measure. The fewer are looked at, the less must be allowed for
  --curve NAME        a whole curve, such as both.target or lead.share; as often as wanted
  --axes              turf (along the slope; as left out) or level (along gravity: without the slope's share)
  --registration      impact (as left out) or events: how curves are brought to one time scale
  --margin M=VALUE    smallest difference of a measure that would matter, set before looking; as often as wanted
  --times N           how often these shots were looked at, this time included; as left out 1
  --seed N            for what is drawn; as left out 1. The same seed gives the same answer
${LIBRARY_HELP}

${QUERY_HELP}

  underfoot compare --player P01 --a "intent=stock;lieName=flat" --b "intent=low;lieName=flat"
  underfoot compare --a "lieName=flat;intent=low" --b "lieName=upslope;intent=low" --player P01 --axes level
  underfoot compare --a "intent=low" --b "shot=ID" --curve both.target --format json

The JSON holds every number there is, the seed included. Verdicts: beyond scatter; beyond, but not after so many looks;
within scatter; too few to tell. Exit code: 0 compared, 1 it could not be, 2 wrong usage.
`;

const lines = (texts: readonly { readonly text: string }[]): string => texts.map(({ text }) => `${text}\n`).join("");
const axesOf = (column: string): string => {
  const [, axes] = column.split(" ");
  return axes === undefined ? "" : `, ${axes}`;
};

/** Largest first, as the page has them. */
function inSteps(measures: readonly ComparedMeasure[]): readonly string[] {
  const size = ({ steps }: ComparedMeasure): number => (Number.isNaN(steps) ? -1 : Math.abs(steps));
  return measures.toSorted((one, other) => size(other) - size(one)).map(({ column }) => column);
}

function conditionsText(reading: ComparisonReading, order: readonly string[], names: readonly string[]): string {
  const rows = new Map(reading.rows.map((row) => [row.column, row]));
  const head = [
    "measure",
    `A: ${names[0]}`,
    `B: ${names[1]}`,
    "B minus A",
    "95 % interval",
    "slope's share",
    "verdict",
  ];
  const table = order.flatMap((column) => {
    const row = rows.get(column);
    if (row === undefined) return [];
    const { title, a, b, difference, interval, slopeShare, verdict } = row;
    return [[`${title}${axesOf(column)}`, a, b, difference, interval, slopeShare, verdict]];
  });
  const { different, headline, curves, notices, looks } = reading;
  return `${lines(different)}${headline.text}\n\n${tableText([head, ...table])}\n${lines(curves)}${lines(notices)}${lines(looks)}`;
}

function usualText({ headline, rows, looks }: UsualReading): string {
  const table = rows.map(({ column, title, value, usual, slopeShare, isOutside }) => [
    ...[`${title}${axesOf(column)}`, value, usual, slopeShare],
    isOutside ? "outside" : "",
  ]);
  const head = ["measure", "this shot", "usual", "slope's share", ""];
  return `${headline.text}\n\n${tableText([head, ...table])}\n${lines(looks)}`;
}

function pairText({ headline, rows, looks }: PairReading): string {
  const table = rows.map(({ column, title, a, b, difference, slopeShare, usualDifference }) => [
    ...[`${title}${axesOf(column)}`, a, b, difference, slopeShare],
    usualDifference,
  ]);
  const head = ["measure", "A", "B", "B minus A", "slope's share", "two such shots usually differ by"];
  return `${headline.text}\n\n${tableText([head, ...table])}\n${lines(looks)}`;
}

function answerText(answer: ComparisonAnswer): string {
  if (answer.kind === "shot-usual") return usualText(usualReading(answer));
  if (answer.kind === "shot-pair") return pairText(pairReading(answer));
  return conditionsText(comparisonReading(answer), inSteps(answer.measures), [answer.a.name, answer.b.name]);
}

async function run(call: Call): Promise<number> {
  noFiles(call, "compare");
  const format = choice(call, "format", ["table", "json"], "table");
  const [a, b] = [queryOf(call, "a"), queryOf(call, "b")];
  const options: Omit<ComparisonAsk, "a" | "b"> = {
    ...viewOf(call),
    measures: listOf(call, "measures"),
    margins: marginsOf(call),
  };
  return withLibrary(call, {}, async (library) => {
    const ask = { ...options, a: await narrowed(library, call, a), b: await narrowed(library, call, b) };
    const answer = await library.compare.comparison(ask, {
      signal: stopSignal(),
      onProgress: ({ done, total }) => progress(done, total, "Shots computed"),
    });
    await print(format === "json" ? jsonText(asJson(answer)) : answerText(answer));
    return 0;
  });
}

export const compare: Command = {
  name: "compare",
  summary: "what differs between two conditions beyond scatter and slope",
  help: HELP,
  options: {
    a: { type: "string" },
    b: { type: "string" },
    player: { type: "string" },
    session: { type: "string" },
    measures: { type: "string" },
    curve: { type: "string", multiple: true },
    axes: { type: "string" },
    registration: { type: "string" },
    margin: { type: "string", multiple: true },
    times: { type: "string" },
    seed: { type: "string" },
    format: { type: "string" },
    library: { type: "string" },
  },
  run,
};
