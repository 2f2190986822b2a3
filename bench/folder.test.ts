import { expect, test } from "vitest";
import { run } from "./folder.ts";

test("a small folder: every good file is a shot, every bad one a sentence, all known the second time", async () => {
  expect(await run(["--files", "42", "--bad", "37"])).toMatchObject({
    ...{ files: 42, bad: 37, shots: 5, sentences: 37, knownAgain: 5, computed: 5 },
  });
});
