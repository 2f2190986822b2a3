// What CI runs, cheapest first, stopping at the first failure.
import { spawnSync } from "node:child_process";

const STEPS: readonly (readonly [string, string])[] = [
  ["format and lint", "biome check --error-on-warnings ."],
  ["types of the pure rooms", "tsc -p tsconfig.pure.json"],
  ["types of the Node rooms", "tsc -p tsconfig.node.json"],
  ["types of the page", "tsc -p tsconfig.web.json"],
  ["types of the tests", "tsc -p tsconfig.test.json"],
  ["unused files, exports and dependencies", "knip"],
  ["boundaries and tests", "npm test"],
];

for (const [what, command] of STEPS) {
  console.error(`Underfoot check: ${what} ...`);
  const { status } = spawnSync(command, { shell: true, stdio: "inherit" });
  if (status !== 0) {
    console.error(`Underfoot check: ${what} failed (${command}).`);
    process.exit(status ?? 1);
  }
}
