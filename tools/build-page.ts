// Builds the page when it is missing or older than its sources.
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { build } from "vite";

const root = join(import.meta.dirname, "..");
const page = join(root, "packages/web/dist/index.html");

function newestSourceMs(): number {
  let newest = 0;
  for (const name of readdirSync(join(root, "packages"))) {
    const folder = join(root, "packages", name);
    for (const file of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
      if (/(^|[\\/])(dist|node_modules)[\\/]/.test(file) || /\.test\.tsx?$/.test(file)) continue;
      newest = Math.max(newest, statSync(join(folder, file)).mtimeMs);
    }
  }
  return newest;
}

if (!existsSync(page) || statSync(page).mtimeMs < newestSourceMs()) {
  console.error("Underfoot: building the page (about ten seconds) ...");
  process.env["NODE_ENV"] = "production";
  await build({ root: join(root, "packages/web"), logLevel: "warn" });
}
