// Writes docs/architecture.md from architecture.json and the comments at the rooms' doors, and docs/formats/openapi.json
// from the protocol.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
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

if (import.meta.main) {
  writeFileSync(target, architectureDocument());
  writeFileSync(join(root, "docs/formats/openapi.json"), apiDocumentText());
}
