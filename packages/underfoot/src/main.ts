import { VERSION } from "@underfoot/domain";
import { type Command, ran } from "./command.ts";
import { backup } from "./commands/backup.ts";
import { compare } from "./commands/compare.ts";
import { demo } from "./commands/demo.ts";
import { forget } from "./commands/forget.ts";
import { importRecordings } from "./commands/import.ts";
import { inspect } from "./commands/inspect.ts";
import { list } from "./commands/list.ts";
import { measure } from "./commands/measure.ts";
import { planSizeCommand } from "./commands/plan-size.ts";
import { recompute } from "./commands/recompute.ts";
import { restore } from "./commands/restore.ts";
import { serve } from "./commands/serve.ts";
import { signals } from "./commands/signals.ts";
import { simulate } from "./commands/simulate.ts";
import { study } from "./commands/study.ts";
import { verify } from "./commands/verify.ts";
import { UsageFault } from "./usage-fault.ts";

const COMMANDS: readonly Command[] = [
  ...[inspect, signals, measure],
  ...[compare, study, planSizeCommand],
  ...[importRecordings, list, recompute, backup, restore, verify, forget],
  ...[simulate, serve, demo],
];

function overview(): string {
  const width = Math.max(...COMMANDS.map(({ name }) => name.length));
  return `Underfoot ${VERSION}: what a player's feet did to the ground, shot by shot.

  underfoot COMMAND [FILE...] [options]

${COMMANDS.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`).join("\n")}

  underfoot COMMAND --help   what a command does, with examples
  underfoot --version

Exit code: 0 all done, 1 some input failed (the sentence says which), 2 wrong usage.
Recordings stay on this machine; nothing is sent anywhere.
`;
}

/** Runs one command line; gives the exit code. */
export async function main(words: readonly string[]): Promise<number> {
  // A reader that stops early (head, less) is no fault.
  process.stdout.on("error", (fault: NodeJS.ErrnoException) => {
    if (fault.code === "EPIPE") process.exit(0);
    throw fault;
  });
  const [name = "", ...rest] = words;
  if (name === "" || name === "--help" || name === "-h" || name === "help") {
    process.stdout.write(overview());
    return name === "" ? 2 : 0;
  }
  if (name === "--version") {
    process.stdout.write(`${VERSION}\n`);
    return 0;
  }
  const command = COMMANDS.find((known) => known.name === name);
  if (!command) {
    process.stderr.write(
      `There is no command "${name}". Choose one of: ${COMMANDS.map((known) => known.name).join(", ")}.\n`,
    );
    return 2;
  }
  if (rest.includes("--help") || rest.includes("-h")) {
    process.stdout.write(command.help);
    return 0;
  }
  try {
    return await ran(command, rest);
  } catch (fault) {
    if (fault instanceof UsageFault) {
      process.stderr.write(`${fault.message}\n`);
      return 2;
    }
    throw fault;
  }
}
