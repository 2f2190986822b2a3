import { homedir } from "node:os";
import { join } from "node:path";

/** Where Underfoot keeps what it makes, by the habit of each system; UNDERFOOT_HOME wins. */
export function dataFolder(): string {
  const named = process.env["UNDERFOOT_HOME"];
  if (named) return named;
  if (process.platform === "darwin") return join(homedir(), "Library", "Application Support", "Underfoot");
  if (process.platform === "win32")
    return join(process.env["LOCALAPPDATA"] ?? join(homedir(), "AppData", "Local"), "Underfoot");
  return join(process.env["XDG_DATA_HOME"] ?? join(homedir(), ".local", "share"), "underfoot");
}
