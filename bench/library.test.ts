import { expect, test } from "vitest";
import { run } from "./library.ts";

test("the bench of the library gives all its figures, from a small one too", async () => {
  const figures = (await run(["--shots", "400", "--imports", "2"])) as Record<string, unknown>;
  expect(figures).toMatchObject({ shots: 400, engine: "sqlite" });
  for (const name of ["openMs", "importPerS", "bytes", "rssMb"]) expect(figures[name], name).toBeGreaterThan(0);
  expect(Object.keys(figures["questionsMs"] as object).length).toBeGreaterThanOrEqual(5);
});
