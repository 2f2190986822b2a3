import { existsSync } from "node:fs";
import { isAbsolute, join } from "node:path";
import { type Library, type Recomputation, restoreLibrary, type VerifyReport } from "@underfoot/library";
import { serverFaults } from "../refusals/faults.ts";
import type { JobEnd, JobWork } from "./jobs.ts";

const COUNT = new Intl.NumberFormat("en-GB");
const SIZE = new Intl.NumberFormat("en-GB", { maximumSignificantDigits: 3 });

/** "1 shot", "1,963 shots". */
const counted = (count: number, one: string): string => `${COUNT.format(count)} ${one}${count === 1 ? "" : "s"}`;

const MB = 1_000_000;

const sizeText = (bytes: number): string =>
  bytes < MB ? `${SIZE.format(bytes / 1000)} kB` : `${SIZE.format(bytes / MB)} MB`;

function wholePath(path: string): string {
  if (!isAbsolute(path)) throw serverFaults.notWholePath(path);
  return path;
}

/** Of day and minute, so that a name made by hand is never that of a daily backup. */
const backupName = (atMs: number): string =>
  `underfoot-${new Date(atMs).toISOString().slice(0, 16).replace("T", "-").replace(":", "")}.tar`;

export async function backupWork(library: Library, file: string | undefined, clock: () => number): Promise<JobWork> {
  const folder = await library.settings.backupFolder(library.folder);
  const target = file === undefined ? join(folder, backupName(clock())) : wholePath(file);
  if (existsSync(target)) throw serverFaults.fileThere(target);
  return {
    kind: "backup",
    title: "Backup",
    counted: "recordings",
    run: async (options) => {
      const done = await library.backup(target, options);
      const what = `${counted(done.recordings, "recording")}, ${counted(done.shots, "shot")}, ${sizeText(done.byteCount)}`;
      return { sentence: `Backup written: ${what}, in ${done.file}.`, outcome: done };
    },
  };
}

export function restoreWork(file: string, folder: string): JobWork {
  wholePath(folder);
  if (!existsSync(wholePath(file))) throw serverFaults.noFileThere(file);
  return {
    kind: "restore",
    title: "Restoring",
    counted: "files",
    run: async (options) => {
      const done = await restoreLibrary(file, folder, options);
      const day = new Date(done.madeMs).toISOString().slice(0, 10);
      return {
        sentence: `Restored: ${counted(done.recordings, "recording")} and all that is said of them, as of ${day}, in ${folder}.`,
        remedy: "The library that is open was not touched. Choose the new folder as storage place to open it.",
        outcome: { ...done, folder },
      };
    },
  };
}

function verified({ recordings, shots, findings, leftovers }: VerifyReport): JobEnd {
  const open = findings.filter(({ isMended, severity }) => !isMended && severity !== "note").length;
  const mended = findings.filter(({ isMended }) => isMended).length;
  const ends = [
    ...(mended > 0 ? [`${counted(mended, "fault")} mended`] : []),
    open > 0 ? `${counted(open, "fault")} left` : "nothing is wrong",
  ];
  return {
    sentence: `Checked: ${counted(recordings, "recording")} and ${counted(shots, "shot")}; ${ends.join("; ")}.`,
    ...(open > 0 ? { remedy: "Each fault below says what to do." } : {}),
    outcome: { recordings, shots, findings, leftovers },
  };
}

export const verifyWork = (library: Library, mend: boolean): JobWork => ({
  kind: "verify",
  title: "Checking",
  counted: "recordings",
  run: async (options) => verified(await library.verify({ ...options, mend })),
});

function recomputed({ computed, current, changedMeanwhile, faults, moved, isCancelled }: Recomputation): JobEnd {
  const parts = [
    `${counted(computed, "shot")} computed`,
    `${COUNT.format(current)} up to date already`,
    ...(changedMeanwhile > 0 ? [`${COUNT.format(changedMeanwhile)} changed meanwhile`] : []),
    ...(faults.length > 0 ? [`${COUNT.format(faults.length)} could not be computed`] : []),
    ...(computed > 0 ? [moved.length === 0 ? "no number moved" : `${counted(moved.length, "measure")} moved`] : []),
  ];
  const isOpen = isCancelled || changedMeanwhile > 0;
  return {
    sentence: `${isCancelled ? "Stopped as asked: " : ""}${parts.join(", ")}.`,
    ...(isOpen ? { remedy: "Start it again to go on; what was computed stays." } : {}),
    outcome: { computed, current, changedMeanwhile, faults, moved, isCancelled },
  };
}

export const recomputeWork = (
  library: Library,
  ask: { readonly scope?: "stale" | "all"; readonly playerId?: string; readonly sessionId?: string },
): JobWork => ({
  kind: "recompute",
  title: "Computing",
  counted: "shots",
  run: async (options) => recomputed(await library.recompute({ ...ask, ...options })),
});
