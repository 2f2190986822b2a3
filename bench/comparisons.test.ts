import { expect, test } from "vitest";
import { run } from "./comparisons.ts";

test("the bench of comparisons gives all its figures, from a small library too", async () => {
  const { shots } = (await run(["--shots", "6"])) as { shots: Record<string, Record<string, object>> };
  expect(Object.keys(shots["6"] ?? {})).toHaveLength(5);
  for (const found of Object.values(shots["6"] ?? {}))
    expect(found).toMatchObject({ first: { ms: expect.any(Number) }, second: { longestTurnMs: expect.any(Number) } });
});
