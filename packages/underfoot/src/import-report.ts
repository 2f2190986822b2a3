import { basename } from "node:path";
import type { Recomputation } from "@underfoot/library";
import type { FailedFile, ImportedFile } from "./import-files.ts";
import { countText } from "./output.ts";

/** All that an import did, as its JSON gives it. */
export interface ImportReport {
  /** New shots; in a dry run those that would be. */
  readonly shots: number;
  /** Shots that were in the library already. */
  readonly duplicates: number;
  /** Known shots that had no facts and got those of their sidecar. */
  readonly factsSaid: number;
  readonly files: readonly ImportedFile[];
  /** Files that are no recording by their ending. */
  readonly passedOver: number;
  /** Sidecars without a recording beside them. */
  readonly sidecarsAlone: readonly string[];
  /** Recordings that were not looked at, for somebody stopped it. */
  readonly notLookedAt: number;
  readonly isDryRun: boolean;
  readonly isDayOfFile: boolean;
  readonly keptMapping?: string;
  readonly computation?: Pick<Recomputation, "computed" | "faults" | "isCancelled">;
  /** What was wrong with the library itself, where that stopped the import. */
  readonly stoppedBy?: string;
  /** Stored, but their numbers cannot be computed until their facts are mended. */
  readonly notComputable: readonly { readonly shot: string; readonly file: string; readonly sentence: string }[];
  readonly seconds: number;
}

const isFault = (file: ImportedFile): file is FailedFile => file.status === "error";

/** The sentence of a fault, the file named by its path. */
function faultSentence({ file, sentence, remedy }: FailedFile): string {
  const name = basename(file);
  const named = sentence.includes(file)
    ? sentence
    : sentence.includes(name)
      ? sentence.replace(name, file)
      : `${file}: ${sentence}`;
  return `${named} ${remedy}`;
}

/** Each file that could not be brought in, one line each. */
export function faultLines(report: ImportReport): string {
  return report.files
    .filter(isFault)
    .map((fault) => `  ${faultSentence(fault)}\n`)
    .join("");
}

const someOf = (paths: readonly string[]): string =>
  `${paths.slice(0, 5).join(", ")}${paths.length > 5 ? " and others" : ""}`;

function computationText({ computed, faults, isCancelled }: NonNullable<ImportReport["computation"]>): string {
  const rest = isCancelled ? "; underfoot recompute does the rest" : "";
  const failed = faults.map(({ shotId, sentence, remedy }) => `\n  ${shotId}: ${sentence} ${remedy}`).join("");
  return `${countText(computed, "shot")} computed${rest}.${failed}`;
}

/** What the options of this command can do about refusals, by their code. */
const HINTS: Readonly<Record<string, string>> = {
  "bring-in-no-mapping":
    "For tables of numbers: underfoot inspect FILE --propose-mapping drafts a mapping; fill it in and name it with --mapping.",
  "bring-in-cut-off": "For what is cut off: --take-cut-off takes what is there.",
};

function hintsFor(files: readonly ImportedFile[]): readonly string[] {
  const codes = new Set(files.filter(isFault).map(({ code }) => code));
  return Object.entries(HINTS)
    .filter(([code]) => codes.has(code))
    .map(([, hint]) => hint);
}

/** What else is to be known, a line each. */
function endLines(report: ImportReport, stored: number, sessions: number): readonly string[] {
  const {
    factsSaid,
    notComputable,
    passedOver,
    sidecarsAlone,
    isDayOfFile,
    keptMapping,
    computation,
    stoppedBy,
    notLookedAt,
    isDryRun,
  } = report;
  const factless = report.files.filter((file) => file.status === "stored" && !file.hasFacts).length;
  const lines: readonly (string | false | undefined)[] = [
    ...hintsFor(report.files),
    passedOver > 0 && `${countText(passedOver, "other file")} passed over.`,
    sidecarsAlone.length > 0 &&
      `${countText(sidecarsAlone.length, "sidecar has", "sidecars have")} no recording beside: ${someOf(sidecarsAlone)}.`,
    sessions > 0 && !isDryRun && `They stand in ${countText(sessions, "session")}.`,
    isDayOfFile && stored > 0 && "Each shot's day is that on which its file was last written; --day says another.",
    keptMapping !== undefined &&
      `The mapping "${keptMapping}" is kept: files with the same columns are known from now on.`,
    factsSaid > 0 && `${countText(factsSaid, "known shot")} without facts got those of the sidecar.`,
    factless > 0 &&
      `${countText(factless, "file")} came without a sidecar: only loads are computed until NAME.shot.json or --facts says hand, target and feet.`,
    computation && computationText(computation),
    notComputable.length > 0 &&
      `${countText(notComputable.length, "shot is", "shots are")} stored but cannot be computed as they are:\n${notComputable.map(({ file, sentence }) => `  ${file}: ${sentence}`).join("\n")}`,
    stoppedBy !== undefined && `Stopped: ${stoppedBy}`,
    notLookedAt > 0 &&
      `${stoppedBy === undefined ? "Stopped as asked: " : ""}${countText(notLookedAt, "file")} not looked at. The same command again goes on; what is stored is known by its content.`,
    isDryRun && "Nothing was stored: this was a trial.",
  ];
  return lines.filter((line) => typeof line === "string");
}

/** How many shots of how many files, what was known, what failed and why, and what else is to be known. */
export function summaryText(report: ImportReport): string {
  const { files, shots, duplicates, isDryRun } = report;
  const faults = files.filter(isFault);
  const stored = files.filter(({ status }) => status === "stored");
  const sessions = new Set(stored.flatMap((file) => (isFault(file) ? [] : file.sessions)));
  const parts = [
    `${countText(shots, "shot")} from ${countText(stored.length, "file")}${isDryRun ? " would be stored" : ""}`,
    ...(duplicates > 0 ? [`${duplicates.toLocaleString("en-GB")} known already`] : []),
    ...(faults.length > 0 ? [`${countText(faults.length, "file")} could not be brought in:`] : []),
  ];
  const ends = endLines(report, stored.length, sessions.size).map((line) => `${line}\n`);
  return `${parts.join("; ")}${faults.length > 0 ? "" : "."}\n${faultLines(report)}${ends.join("")}`;
}
