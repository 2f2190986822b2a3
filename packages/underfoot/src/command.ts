import { type ParseArgsConfig, parseArgs } from "node:util";
import { UsageFault } from "./usage-fault.ts";

/** One word of the command line. `run` gives the exit code: 0 done, 1 some input failed. Wrong usage is thrown. */
export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** What `--help` prints. */
  readonly help: string;
  readonly options: NonNullable<ParseArgsConfig["options"]>;
  run(call: Call): Promise<number>;
}

export interface Call {
  readonly files: readonly string[];
  /** Values of options that take one. */
  readonly values: Readonly<Record<string, string | undefined>>;
  readonly switches: ReadonlySet<string>;
  /** Values of options that may be given several times. */
  readonly lists: Readonly<Record<string, readonly string[]>>;
}

/** Options and files out of the words after the command's name. */
function callOf(command: Command, words: readonly string[]): Call {
  let parsed: ReturnType<typeof parseArgs>;
  try {
    parsed = parseArgs({ args: [...words], options: command.options, allowPositionals: true, strict: true });
  } catch (cause) {
    const [sentence = ""] = (cause as Error).message.split(". ");
    throw new UsageFault(`${sentence}. See "underfoot ${command.name} --help".`, { cause });
  }
  const values: Record<string, string | undefined> = {};
  const switches = new Set<string>();
  const lists: Record<string, readonly string[]> = {};
  for (const [name, value] of Object.entries(parsed.values)) {
    if (typeof value === "string") values[name] = value;
    else if (value === true) switches.add(name);
    else if (Array.isArray(value)) lists[name] = value.map(String);
  }
  return { files: parsed.positionals, values, switches, lists };
}

/** Runs a command on the words after its name. @throws UsageFault */
export async function ran(command: Command, words: readonly string[]): Promise<number> {
  return command.run(callOf(command, words));
}

/** One of the words an option allows. */
export function choice<T extends string>(call: Call, option: string, allowed: readonly T[], fallback: T): T {
  const value = call.values[option] ?? fallback;
  const found = allowed.find((word) => word === value);
  if (!found) throw new UsageFault(`--${option} is "${value}"; it must be one of ${allowed.join(", ")}.`);
  return found;
}

/** A whole number within limits. */
export function wholeNumber(
  call: Call,
  option: string,
  { least, most, fallback }: { readonly least: number; readonly most: number; readonly fallback: number },
): number {
  const text = call.values[option];
  if (text === undefined) return fallback;
  const value = Number(text);
  if (!Number.isInteger(value) || value < least || value > most || text.trim() === "") {
    throw new UsageFault(`--${option} is "${text}"; it must be a whole number from ${least} to ${most}.`);
  }
  return value;
}

/** At least one file, or a sentence. */
export function someFiles(call: Call, name: string): readonly string[] {
  if (call.files.length === 0)
    throw new UsageFault(`Name at least one file: underfoot ${name} FILE... See "underfoot ${name} --help".`);
  return call.files;
}

/** Exactly one word after the command's name, or a sentence. */
export function oneFile(call: Call, usage: string): string {
  const [file, ...others] = call.files;
  if (file === undefined || file === "" || others.length > 0)
    throw new UsageFault(`Name one: underfoot ${usage}. See "underfoot ${usage.split(" ")[0]} --help".`);
  return file;
}

/** No word after the command's name, or a sentence. */
export function noFiles(call: Call, name: string): void {
  if (call.files.length > 0)
    throw new UsageFault(`${name} takes no files, and "${call.files[0]}" was given. See "underfoot ${name} --help".`);
}

/** The port asked for, if any. */
export function portOf(call: Call): number | undefined {
  return call.values["port"] === undefined
    ? undefined
    : wholeNumber(call, "port", { least: 0, most: 65535, fallback: 0 });
}

/** A day as YYYY-MM-DD. */
export function dayOf(call: Call, option: string): string | undefined {
  const text = call.values[option];
  if (text === undefined) return undefined;
  const atMs = /^\d{4}-\d{2}-\d{2}$/.test(text) ? Date.parse(`${text}T00:00:00Z`) : Number.NaN;
  // The engine rolls 30 February over into March.
  if (!Number.isFinite(atMs) || new Date(atMs).toISOString().slice(0, 10) !== text)
    throw new UsageFault(`--${option} is "${text}"; write the day as YYYY-MM-DD, for example 2026-03-09.`);
  return text;
}
