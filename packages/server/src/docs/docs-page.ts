import { curlText } from "./curl-text.ts";
import type { ApiDocument, Operation } from "./open-api.ts";
import type { Schema } from "./schema.ts";
import { shapeText } from "./shape-text.ts";

const STYLE = `
:root { color-scheme: light dark; --ink: #1d211f; --ground: #fbfaf6; --soft: #5b625e; --line: #d7d5cc; --code: #f0eee6 }
@media (prefers-color-scheme: dark) {
  :root { --ink: #e8e6df; --ground: #191c1b; --soft: #a5aba7; --line: #3a3f3d; --code: #232827 }
}
body { margin: 0 auto; padding: 1.5rem 1rem 4rem; max-width: 56rem; background: var(--ground); color: var(--ink);
  font: 1rem/1.5 system-ui, sans-serif }
h1, h2, h3 { line-height: 1.25 }
h2 { margin-top: 2.5rem; border-bottom: 1px solid var(--line) }
h3 { margin: 2rem 0 0.25rem; overflow-wrap: anywhere }
h3 code { background: none; padding: 0; font-size: 1.05rem }
p, li { max-width: 64ch }
.soft, dt { color: var(--soft) }
a { color: inherit }
code, pre { font: 0.875rem/1.45 ui-monospace, monospace; background: var(--code) }
code { padding: 0 0.2em }
pre { padding: 0.6rem 0.75rem; white-space: pre-wrap; overflow-wrap: anywhere }
nav > ul { columns: 16rem; column-gap: 2.5rem; padding: 0; list-style: none }
nav ul ul { padding-left: 1.2rem; margin-bottom: 0.6rem }
table { border-collapse: collapse; display: block; overflow-x: auto }
th, td { text-align: left; vertical-align: top; padding: 0.2rem 1rem 0.2rem 0 }
th { font-weight: 600; color: var(--soft) }
h4 { margin: 0.8rem 0 0.2rem; font-size: 0.95rem }
`;

const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

const anchor = (method: string, path: string): string => `${method}-${path.replaceAll(/[^\w]+/g, "-")}`;

/** Names of shapes lead to where the shape is told. */
function linked(text: string, names: readonly string[]): string {
  const known = new RegExp(`\\b(${names.join("|")})\\b`, "g");
  return escaped(text).replaceAll(known, (name) => `<a href="#shape-${name}">${name}</a>`);
}

function parametersTable({ parameters = [] }: Operation): string {
  if (parameters.length === 0) return "";
  const rows = parameters.map(
    ({ name, in: place, required, schema = {}, description }) =>
      `<tr><td><code>${escaped(name)}</code></td><td>${place === "path" ? "address" : "query"}${required ? "" : ", may be left out"}</td><td>${escaped(shapeText(schema))}${
        (description ?? schema.description) === undefined ? "" : `. ${escaped(description ?? schema.description ?? "")}`
      }</td></tr>`,
  );
  return `<h4>Parameters</h4><table><tr><th>name</th><th>where</th><th>what</th></tr>${rows.join("")}</table>`;
}

function contentBlock(
  title: string,
  content: Readonly<Record<string, { readonly schema?: Schema }>> | undefined,
  names: readonly string[],
): string {
  return Object.entries(content ?? {})
    .map(
      ([media, { schema = {} }]) =>
        `<h4>${title}, ${escaped(media)}</h4><pre>${linked(shapeText(schema), names)}</pre>`,
    )
    .join("");
}

function operationSection(method: string, path: string, operation: Operation, document: ApiDocument): string {
  const names = Object.keys(document.components.schemas);
  const good = Object.entries(operation.responses).find(([status]) => status < "400");
  const isSocket = operation.responses["101"] !== undefined;
  return [
    `<section aria-labelledby="${anchor(method, path)}">`,
    `<h3 id="${anchor(method, path)}"><code>${method.toUpperCase()} ${escaped(path)}</code></h3>`,
    `<p>${escaped(operation.summary ?? "")}.</p>`,
    operation.description === undefined ? "" : `<p>${escaped(operation.description)}</p>`,
    parametersTable(operation),
    contentBlock("What is sent", operation.requestBody?.content, names),
    contentBlock(`What comes back (${good?.[0] ?? ""})`, good?.[1].content, names),
    isSocket ? "" : `<h4>In a terminal</h4><pre>${escaped(curlText(method, path, operation, document))}</pre>`,
    "</section>",
  ].join("\n");
}

interface Told {
  readonly method: string;
  readonly path: string;
  readonly operation: Operation;
}

function byTag({ paths }: ApiDocument): ReadonlyMap<string, readonly Told[]> {
  const groups = new Map<string, Told[]>();
  for (const [path, methods] of Object.entries(paths)) {
    for (const [method, operation] of Object.entries(methods)) {
      const tag = operation.tags?.[0] ?? "Others";
      groups.set(tag, [...(groups.get(tag) ?? []), { method, path, operation }]);
    }
  }
  return groups;
}

function contents(groups: ReadonlyMap<string, readonly Told[]>): string {
  const lists = [...groups].map(
    ([tag, told]) =>
      `<li>${escaped(tag)}<ul>${told
        .map(
          ({ method, path, operation }) =>
            `<li><a href="#${anchor(method, path)}">${escaped(operation.summary ?? path)}</a></li>`,
        )
        .join("")}</ul></li>`,
  );
  return `<nav aria-label="Addresses"><ul>${lists.join("")}<li><a href="#shapes">Shapes</a></li></ul></nav>`;
}

/** The description of every address as one plain page: no script, nothing from elsewhere. */
export function docsPage(document: ApiDocument): string {
  const names = Object.keys(document.components.schemas);
  const groups = byTag(document);
  const sections = [...groups].map(
    ([tag, told]) =>
      `<h2>${escaped(tag)}</h2>\n${told.map(({ method, path, operation }) => operationSection(method, path, operation, document)).join("\n")}`,
  );
  const shapes = Object.entries(document.components.schemas).map(
    ([name, schema]) =>
      `<h3 id="shape-${escaped(name)}">${escaped(name)}</h3>${
        schema.description === undefined ? "" : `<p>${escaped(schema.description)}</p>`
      }<pre>${linked(shapeText(schema), names)}</pre>`,
  );
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Underfoot ${escaped(document.info.version)}: asking the library from a program</title>
<link rel="icon" href="/icon.svg">
<style>${STYLE}</style>
</head>
<body>
<header>
<h1>Asking the library from a program</h1>
${document.info.description
  .split("\n\n")
  .map((paragraph) => `<p>${escaped(paragraph).replaceAll(/`([^`]+)`/g, "<code>$1</code>")}</p>`)
  .join("\n")}
<p>The same for machines: <a href="/api/openapi.json">openapi.json</a> (OpenAPI ${escaped(document.openapi)}).
In the shapes, <code>?</code> stands behind what may be left out. ID in an example stands for an id that came with a list.</p>
</header>
<main>
${contents(groups)}
${sections.join("\n")}
<h2 id="shapes">Shapes</h2>
${shapes.join("\n")}
</main>
</body>
</html>
`;
}
