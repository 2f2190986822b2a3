import { readFileSync } from "node:fs";
import { join } from "node:path";
import { routes } from "@underfoot/protocol";
import { expect, test } from "vitest";
import { serverForTests } from "../server-for-tests.ts";
import { bodyExample } from "./curl-text.ts";
import { apiDocument, apiDocumentText } from "./open-api.ts";
import { shapeText } from "./shape-text.ts";

const document = apiDocument();
const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
);

test("docs/formats/openapi.json is the protocol; run npm run docs after a change", () => {
  const file = join(import.meta.dirname, "../../../../docs/formats/openapi.json");
  expect(readFileSync(file, "utf8")).toBe(apiDocumentText());
});

test("every address of the protocol is described, with the shape of its answer", () => {
  expect(operations).toHaveLength(Object.keys(routes).length + 1);
  for (const { path, operation } of operations) {
    const good = operation.responses["200"] ?? operation.responses["201"] ?? operation.responses["101"];
    expect(good, path).toBeDefined();
    expect(operation.summary, path).toMatch(/^[A-Z]/);
  }
});

test("every reference of the document leads somewhere", () => {
  const text = apiDocumentText();
  for (const [, name] of text.matchAll(/"\$ref": "#\/components\/schemas\/([^"]+)"/g))
    expect(document.components.schemas[name ?? ""], name).toBeDefined();
});

test("the body of each example is one that the address accepts", () => {
  for (const route of Object.values(routes)) {
    if (!("request" in route && "body" in route.request && "application/json" in route.request.body.content)) continue;
    const operation = document.paths[route.path]?.[route.method];
    const { schema } = route.request.body.content["application/json"];
    const parsed = operation && schema.safeParse(bodyExample(operation, document));
    expect(parsed?.error?.issues ?? [], `${route.method} ${route.path}`).toEqual([]);
    expect(parsed?.success).toBe(true);
  }
});

test("shapes in words: what may be left out, limits, lists, choices", () => {
  const shape = {
    type: "object",
    required: ["day", "plates"],
    properties: {
      day: { type: "string", pattern: "^\\d{4}-(0[1-9])$" },
      massKg: { type: ["number", "null"], minimum: 15, maximum: 250, description: "Scales." },
      plates: { type: "array", minItems: 1, maxItems: 4, items: { $ref: "#/components/schemas/LaidPlate" } },
      foot: { type: "string", enum: ["lead", "trail"] },
    },
  };
  expect(shapeText(shape)).toBe(
    [
      "{",
      "  day: text (YYYY-MM-DD)",
      "  massKg?: number (15 to 250) or null  // Scales.",
      "  plates: list of LaidPlate, 1 to 4 of them",
      '  foot?: "lead" | "trail"',
      "}",
    ].join("\n"),
  );
});

test("the page names every address, has no script and nothing from elsewhere, and each link in it leads somewhere", async () => {
  const at = await serverForTests();
  const answer = await at.ask("GET", "/api");
  expect(answer.headers.get("content-type")).toContain("text/html");
  const html = await answer.text();
  for (const { path, method } of operations) expect(html).toContain(`<code>${method.toUpperCase()} ${path}</code>`);
  expect(html).not.toMatch(/<script|<img|@import|url\(|(href|src)="(?![/#])/);
  const ids = new Set([...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
  for (const [, to] of html.matchAll(/href="#([^"]+)"/g)) expect(ids, to).toContain(to);
  expect(ids.size).toBe([...html.matchAll(/ id="/g)].length);
  expect(await (await at.ask("GET", "/api/openapi.json")).json()).toEqual(JSON.parse(apiDocumentText()));
  await at.end();
});
