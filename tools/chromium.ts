// Finds a Chromium for the browser tests, and installs Debian's where apt is there and none is found.
import { spawnSync } from "node:child_process";
import { accessSync, constants, existsSync } from "node:fs";
import { delimiter, join } from "node:path";

const NAMES = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
const USUAL_PLACES = [
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
  "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
];

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch (cause) {
    // Absent or not executable: both mean "look further", any other failure is worth hearing about.
    const code = (cause as NodeJS.ErrnoException).code;
    if (code === "ENOENT" || code === "EACCES" || code === "ENOTDIR") return false;
    throw cause;
  }
}

/** Path of a Chromium, or undefined. A variable that names a missing program is an error at once. */
export function chromiumPath(): string | undefined {
  const named = process.env["UNDERFOOT_CHROMIUM"];
  if (named) {
    if (!isProgram(named))
      throw new Error(
        `UNDERFOOT_CHROMIUM names ${named}, which is not there or cannot be run. Correct it or unset it.`,
      );
    return named;
  }
  for (const folder of (process.env["PATH"] ?? "").split(delimiter)) {
    for (const name of NAMES) if (isProgram(join(folder, name))) return join(folder, name);
  }
  return USUAL_PLACES.find(isProgram);
}

function install(): void {
  const sudo = process.getuid?.() === 0 ? [] : ["sudo", "-n"];
  console.error("Underfoot: no Chromium found; installing Debian's for the browser tests ...");
  for (const args of [
    ["update", "-q"],
    ["install", "-qy", "--no-install-recommends", "chromium"],
  ]) {
    const [program = "apt-get", ...rest] = [...sudo, "apt-get", ...args];
    spawnSync(program, rest, { stdio: "inherit", env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" } });
  }
}

if (import.meta.main) {
  try {
    if (!chromiumPath() && existsSync("/usr/bin/apt-get")) install();
    if (!chromiumPath()) {
      console.error(
        "No Chromium or Chrome was found: install one, or name it in UNDERFOOT_CHROMIUM. The browser tests are skipped until then.",
      );
      if (process.env["CI"]) process.exitCode = 1;
    }
  } catch (fault) {
    console.error((fault as Error).message);
    process.exitCode = 1;
  }
}
