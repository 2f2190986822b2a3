import { readFile, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { type Finding, type ShotFacts, UnderfootError } from "@underfoot/domain";
import { type ColumnMapping, sidecarNamesFor } from "@underfoot/formats";
import type { BringInRequest, BroughtIn, Library } from "@underfoot/library";
import { type FileFault, fileFault } from "./file-fault.ts";
import { fileBytes } from "./recording-file.ts";

/** What became of one file. */
export type ImportedFile =
  | {
      readonly file: string;
      /** known: every shot in it was in the library already. */
      readonly status: "stored" | "known";
      /** Ids; empty in a dry run where they would be new. */
      readonly shots: readonly string[];
      readonly newShots: number;
      readonly knownShots: number;
      /** Known shots without facts that got those of the sidecar now. */
      readonly factsSaid: number;
      readonly sessions: readonly string[];
      readonly mapping?: string;
      /** False where no sidecar said hand, target and feet. */
      readonly hasFacts: boolean;
      readonly findings: readonly Finding[];
    }
  | FailedFile;

/** A file of which nothing was stored. */
export interface FailedFile extends FileFault {
  readonly shots: readonly [];
  readonly findings: readonly [];
}

/** A fault as what became of a file. */
export const failedFile = (fault: FileFault): FailedFile => ({ ...fault, shots: [], findings: [] });

/** What holds for every file of one import. */
export interface ImportPlan {
  readonly mapping?: ColumnMapping | undefined;
  /** For recordings without a sidecar. */
  readonly facts?: ShotFacts | undefined;
  readonly place: Pick<BringInRequest, "sessionId" | "isSessionOfDay" | "playerId">;
  /** YYYY-MM-DD; left out: the day on which the file was last written, unless a session says. */
  readonly day?: string | undefined;
  readonly isCutOffTaken: boolean;
  readonly isDryRun: boolean;
  readonly signal: AbortSignal;
}

/** Defaults for a whole folder: what every recording in it without a sidecar of its own takes. */
const FOLDER_SIDECARS = ["folder.shot.json", "folder.underfoot.json"] as const;

const isThere = async (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

async function sidecarOf(recording: string): Promise<string | undefined> {
  const folder = dirname(recording);
  for (const name of [...sidecarNamesFor(basename(recording)), ...FOLDER_SIDECARS])
    if (await isThere(join(folder, name))) return join(folder, name);
  return undefined;
}

/** The day on which a file was last written, at this place. */
async function dayWritten(path: string): Promise<string> {
  const at = (await stat(path)).mtime;
  const digits = (value: number): string => String(value).padStart(2, "0");
  return `${at.getFullYear()}-${digits(at.getMonth() + 1)}-${digits(at.getDate())}`;
}

async function requestOf(path: string, plan: ImportPlan): Promise<BringInRequest> {
  const bytes = await fileBytes(path);
  const sidecar = await sidecarOf(path);
  const day = plan.day ?? (plan.place.sessionId === undefined ? await dayWritten(path) : undefined);
  return {
    ...plan.place,
    bytes,
    fileName: basename(path),
    day,
    mapping: plan.mapping,
    isCutOffTaken: plan.isCutOffTaken,
    isDryRun: plan.isDryRun,
    ...(sidecar === undefined
      ? { facts: plan.facts }
      : { sidecarText: new TextDecoder().decode(await readFile(sidecar)), sidecarName: sidecar }),
  };
}

function importedFile(
  file: string,
  { shots, findings, mappingName }: BroughtIn,
  { facts, sidecarText }: BringInRequest,
): ImportedFile {
  const knownShots = shots.filter(({ isDuplicate }) => isDuplicate).length;
  const distinct = (ids: readonly (string | undefined)[]): string[] =>
    [...new Set(ids)].filter((id) => id !== undefined);
  return {
    file,
    status: knownShots === shots.length ? "known" : "stored",
    shots: distinct(shots.map(({ shotId }) => shotId)),
    newShots: shots.length - knownShots,
    knownShots,
    factsSaid: shots.filter(({ gotFacts }) => gotFacts).length,
    sessions: distinct(shots.map(({ sessionId }) => sessionId)),
    ...(mappingName === undefined ? {} : { mapping: mappingName }),
    hasFacts: facts !== undefined || sidecarText !== undefined,
    findings,
  };
}

/** Faults that would meet every file that follows: the disk, the catalogue. Going on would only repeat them. */
const OF_THE_LIBRARY = [
  ...["library-disk-full", "library-read-only", "library-unwritable", "library-busy", "library-damaged"],
  ...["library-unreachable", "library-unreadable"],
];

/** One file after the other; stops after the file in hand when asked to, and at a fault of the library itself. */
export async function* importedFiles(
  library: Library,
  recordings: readonly string[],
  plan: ImportPlan,
): AsyncGenerator<ImportedFile> {
  for (const path of recordings) {
    if (plan.signal.aborted) return;
    try {
      const request = await requestOf(path, plan);
      yield importedFile(path, await library.bringIn(request), request);
    } catch (fault) {
      if (fault instanceof UnderfootError && OF_THE_LIBRARY.includes(fault.code)) throw fault;
      yield failedFile(fileFault(path, fault));
    }
  }
}
