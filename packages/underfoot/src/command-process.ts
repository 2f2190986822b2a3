// The command as a process of its own, for tests: what a person at a terminal sees, and the exit code.
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";

const BIN = join(import.meta.dirname, "..", "bin", "underfoot.js");

export interface CommandEnd {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

interface CommandOptions {
  readonly env?: Readonly<Record<string, string>>;
}

/** Runs one command line to its end. */
export function underfoot(words: readonly string[], { env = {} }: CommandOptions = {}): CommandEnd {
  const { status, stdout, stderr } = spawnSync(process.execPath, [BIN, ...words], {
    encoding: "utf8",
    maxBuffer: 1 << 28,
    env: { ...process.env, ...env },
  });
  return { code: status ?? -1, out: stdout, err: stderr };
}

/** Starts one command line; `end` waits for it. */
export function underfootStarted(words: readonly string[]): {
  readonly child: ChildProcess;
  readonly end: Promise<CommandEnd>;
} {
  const child = spawn(process.execPath, [BIN, ...words], { stdio: ["ignore", "pipe", "pipe"] });
  let out = "";
  let err = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    out += text;
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    err += text;
  });
  const end = once(child, "close").then(([code]) => ({ code: (code as number | null) ?? -1, out, err }));
  return { child, end };
}
