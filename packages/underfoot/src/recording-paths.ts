import type { Dirent } from "node:fs";
import { readdir, stat } from "node:fs/promises";
import { basename, extname, join } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { type FileFault, fileFault } from "./file-fault.ts";

/** Endings by which recordings are known. */
export const RECORDING_ENDINGS = [".c3d", ".csv", ".tsv", ".txt"] as const;

const SIDECAR = /\.(shot|underfoot)\.json$/i;
const isRecording = (path: string): boolean =>
  RECORDING_ENDINGS.some((ending) => extname(path).toLowerCase() === ending);

/** What was found under the paths that a person named. */
export interface RecordingPaths {
  /** Each once: in the order named, a folder's own by name. */
  readonly recordings: readonly string[];
  readonly sidecars: readonly string[];
  /** Files that are neither. */
  readonly passedOver: number;
  readonly faults: readonly FileFault[];
}

function lost(path: string, cause: unknown): UnderfootError {
  const code = (cause as NodeJS.ErrnoException).code;
  const why =
    code === "ENOENT"
      ? "is not there"
      : code === "EACCES"
        ? "may not be read by this user"
        : `cannot be read (${code ?? String(cause)})`;
  return new UnderfootError({
    code: code === "ENOENT" ? "file-not-found" : "file-unreadable",
    sentence: `${path} ${why}.`,
    remedy: "Check the name and the folder, or who may read it.",
    where: { file: path },
    cause,
  });
}

/** Files of a folder and the folders in it. Links to folders are not followed: they may lead round in a circle. */
async function filesUnder(folder: string, faults: FileFault[]): Promise<string[]> {
  let entries: Dirent[];
  try {
    entries = await readdir(folder, { withFileTypes: true });
  } catch (cause) {
    faults.push(fileFault(folder, lost(folder, cause)));
    return [];
  }
  const inOrder = new Intl.Collator("en", { numeric: true });
  entries.sort((a, b) => inOrder.compare(a.name, b.name));
  const files: string[] = [];
  for (const entry of entries) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) files.push(...(await filesUnder(path, faults)));
    else if (!entry.name.startsWith(".")) files.push(path);
  }
  return files;
}

/** The recordings among files and folders, folders gone through to the bottom. */
export async function recordingPaths(paths: readonly string[]): Promise<RecordingPaths> {
  const faults: FileFault[] = [];
  const files: string[] = [];
  for (const path of paths) {
    const about = await stat(path).catch((cause: unknown) => {
      faults.push(fileFault(path, lost(path, cause)));
      return undefined;
    });
    if (about?.isDirectory()) files.push(...(await filesUnder(path, faults)));
    else if (about) files.push(path);
  }
  const distinct = [...new Set(files)];
  const sidecars = distinct.filter((path) => SIDECAR.test(basename(path)));
  const recordings = distinct.filter(isRecording);
  return { recordings, sidecars, passedOver: distinct.length - recordings.length - sidecars.length, faults };
}
