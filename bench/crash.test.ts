import { expect, test } from "vitest";
import { run } from "./crash.ts";

// A few rounds here; the full count: npm run bench -- crash --rounds 200.
test("a process killed while it brings recordings in loses nothing that it had acknowledged", async () => {
  const { rounds, acknowledged, lost, verifyFindings, roundsWithShots } = await run(["--rounds", "5", "--seed", "11"]);
  expect({ rounds, lost, verifyFindings }).toEqual({ rounds: 5, lost: 0, verifyFindings: 0 });
  expect(roundsWithShots).toBeGreaterThan(1);
  expect(acknowledged).toBeGreaterThan(10);
});
