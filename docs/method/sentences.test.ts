import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { sentencesDocument } from "../../tools/docs.ts";

test("docs/method/sentences.md is what the rules are; run npm run docs after a change", () => {
  expect(readFileSync(join(import.meta.dirname, "sentences.md"), "utf8")).toBe(sentencesDocument());
});
