import { exampleOf } from "./example-of.ts";
import type { ApiDocument, Operation } from "./open-api.ts";

/** In single quotes for a shell. */
const quoted = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;

/** What is sent as JSON in the example of an address: the least that is accepted. */
export function bodyExample({ requestBody }: Operation, document: ApiDocument): unknown {
  const schema = requestBody?.content["application/json"]?.schema;
  return schema === undefined ? undefined : exampleOf(schema, document.components.schemas);
}

/** The least that asks an address, for a terminal. */
export function curlText(method: string, path: string, operation: Operation, document: ApiDocument): string {
  const needed = (operation.parameters ?? []).filter((one) => one.in === "query" && one.required);
  const query = needed.map(
    ({ name, schema }) => `${name}=${exampleOf(schema ?? {}, document.components.schemas, name)}`,
  );
  const filled = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => name.toUpperCase());
  const address = `http://127.0.0.1:5178${filled}${query.length > 0 ? `?${query.join("&")}` : ""}`;
  const parts = ["curl", ...(method === "get" ? [] : ["-X", method.toUpperCase()]), quoted(address)];
  const content = operation.requestBody?.content ?? {};
  if (content["application/json"])
    parts.push("-H 'Content-Type: application/json'", "-d", quoted(JSON.stringify(bodyExample(operation, document))));
  if (content["multipart/form-data"])
    parts.push("-F recording=@chip.c3d", "-F 'sidecar=<chip.shot.json'", "-F 'ask={}'");
  return parts.join(" ");
}
