import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { architectureDocument } from "../tools/docs.ts";

test("docs/architecture.md is what the house says; run npm run docs after a change", () => {
  expect(readFileSync(join(import.meta.dirname, "architecture.md"), "utf8")).toBe(architectureDocument());
});
