#!/usr/bin/env node
// Plain JavaScript on purpose: any Node must be able to read these lines, then the pinned one takes over.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const self = fileURLToPath(import.meta.url);
if (Number(process.versions.node.split(".")[0]) >= 26) {
  // The types are stripped once, not at every start: beside the program, for nobody else writes there.
  const { enableCompileCache } = await import("node:module");
  enableCompileCache(join(dirname(self), "..", "..", "..", "node_modules", ".cache", "underfoot"));
  const { main } = await import("../src/main.ts");
  process.exitCode = await main(process.argv.slice(2));
} else {
  const isWindows = process.platform === "win32";
  let pinned;
  for (let folder = dirname(self); !pinned && dirname(folder) !== folder; folder = dirname(folder)) {
    const candidate = join(folder, "node_modules", ".bin", isWindows ? "node.cmd" : "node");
    if (existsSync(candidate)) pinned = candidate;
  }
  if (!pinned)
    console.error(`Underfoot needs Node 26; this is ${process.version}. Run "npm ci" in its folder, then "npm start".`);
  // Ctrl+C reaches the child as well; it decides what is still to be done, and this one waits for it.
  process.on("SIGINT", () => undefined);
  process.exitCode = pinned
    ? (spawnSync(pinned, [self, ...process.argv.slice(2)], { stdio: "inherit", shell: isWindows }).status ?? 1)
    : 1;
}
