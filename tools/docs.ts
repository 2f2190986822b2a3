// Writes docs/architecture.md from architecture.json and the comments at the rooms' doors, docs/method/sentences.md from
// the rules of the report, and docs/formats/openapi.json from the protocol.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { COMPARISON_RULES, SENTENCE_RULES } from "../packages/report/src/index.ts";
import { apiDocumentText } from "../packages/server/src/index.ts";

const root = join(import.meta.dirname, "..");
const target = join(root, "docs/architecture.md");

interface Architecture {
  readonly floors: readonly (readonly string[])[];
  readonly rooms: Readonly<
    Record<string, { readonly pure: boolean; readonly mayUse: readonly string[]; readonly outside: readonly string[] }>
  >;
}

/** The comment a room's door opens with, as one paragraph. */
function doorComment(room: string): string {
  const lines = readFileSync(join(root, "packages", room, "src/index.ts"), "utf8").split("\n");
  const end = lines.findIndex((line) => !line.startsWith("//"));
  return lines
    .slice(0, end)
    .map((line) => line.replace(/^\/\/ ?/, ""))
    .join(" ");
}

/** The text of docs/architecture.md. */
export function architectureDocument(): string {
  const { floors, rooms } = JSON.parse(readFileSync(join(root, "architecture.json"), "utf8")) as Architecture;
  const rows = floors.flatMap((floor, k) =>
    floor.map((name) => {
      const room = rooms[name];
      const uses =
        [...(room?.mayUse ?? []), ...(room?.outside ?? []).map((one) => `\`${one}\``)].join(", ") || "nothing";
      return `| ${k} | ${name}${room?.pure ? " (pure)" : ""} | ${doorComment(name)} | ${uses} |`;
    }),
  );
  return `# Architecture

Made from architecture.json and the rooms' doors by \`npm run docs\`; a test holds it to them.

A room depends only on rooms of lower floors, and only on those named. Pure rooms know no file, network, page, clock or dice: the same code runs in the command, the server, the page and its worker.

\`\`\`
bytes -> Recording -> PlateWrench -> Shot -> Measures -> sentences, pictures, tables
         formats      mechanics                          report
\`\`\`

| floor | room | what it knows | may use |
| --- | --- | --- | --- |
${rows.join("\n")}
`;
}

/** Braces and bars as a Markdown table shows them. */
const cell = (text: string): string => text.replaceAll("|", "\\|");

/** The text of docs/method/sentences.md. */
export function sentencesDocument(): string {
  const chapters = COMPARISON_RULES.map(({ title, speaks, rules }) => {
    const rows = rules.map(
      ({ id, condition, templates }) =>
        `| \`${id}\` | ${cell(condition)} | ${templates.map((template) => cell(template)).join("<br>")} |`,
    );
    const how = speaks === "first" ? "The first of these that may speak." : "Each of these that may speak.";
    return `## ${title}\n\n${how}\n\n| rule | may be said when | words |\n| --- | --- | --- |\n${rows.join("\n")}\n`;
  });
  const ofShots = SENTENCE_RULES.map(({ id, place, condition }) => `| \`${id}\` | ${place} | ${cell(condition)} |`);
  return `# Every sentence and its rule

Made from the rules themselves (\`packages/report/src\`) by \`npm run docs\`; a test holds it to them.

Every sentence about a shot, a comparison, a result, a study or a year is made by one of these rules, from results only. Pointing at a sentence, or moving the focus to it, shows its rule and the numbers it was made from. \`{x}\` is filled in with value and unit; of \`{more|less}\` one word is said. Numbers are rounded to the first digit of half their interval and are not finer than the measure's own uncertainty; a difference of two shares is in points. \`{p}\` has three decimals or is "below 0.001", and says whether all labellings were counted ("exact") or how many were drawn. A range beside a size is counted in its direction: "8 points less (4 to 12 points)". Level 0.95 and 0.05, two-sided.

**What no rule says**, whatever the numbers, and tests refuse: that something is significant or proved; that a player always or never does something; that two things are the same, or that there is no difference, unless a margin was set before and shown to hold; a verdict from one shot or from fewer than five; better, worse or improved; a cause, from things that went together; a word on players at large from fewer than six; where a difference lies, from a cluster; p = 0; a percent change of a share, an angle or a force; that a body goes back, from a force; a difference between lies without the slope's share; a risk of injury; a ranking of players, a norm or an ideal.

${chapters.join("\n")}
## One shot

What a body does is said from its speed, and only beyond its uncertainty; the words are made shot by shot.

| rule | place | may be said when |
| --- | --- | --- |
${ofShots.join("\n")}
`;
}

if (import.meta.main) {
  writeFileSync(target, architectureDocument());
  writeFileSync(join(root, "docs/method/sentences.md"), sentencesDocument());
  writeFileSync(join(root, "docs/formats/openapi.json"), apiDocumentText());
}
