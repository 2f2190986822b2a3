import type { Finding, ShotFacts } from "@underfoot/domain";
import { type ColumnMapping, mappingFor, recordingFormat, shotFactsFromSidecar, textSniff } from "@underfoot/formats";
import { type FoundShot, type Stretch, shotsInRecording } from "@underfoot/pipeline";
import type { RecordingStore } from "../disk/recording-store.ts";
import { libraryFaults } from "../faults.ts";
import type { Workshop } from "../history/deed.ts";
import type { LibrarySettings } from "../records/library-settings.ts";
import type { Mappings } from "../records/mappings.ts";
import { bringInFaults, noShotFault } from "./bring-in-faults.ts";
import { factsOfStretch } from "./facts-of-stretch.ts";
import {
  type ImportedShot,
  type ImportRequest,
  importRecording,
  type ReadRecording,
  readRecording,
  sameShot,
} from "./import-recording.ts";
import type { Shots } from "./shots.ts";

/** One file as a person brings it. */
export interface BringInRequest
  extends Pick<
    ImportRequest,
    "bytes" | "fileName" | "mapping" | "sessionId" | "isSessionOfDay" | "playerId" | "day" | "by"
  > {
  /** The text of the sidecar beside it. */
  readonly sidecarText?: string | undefined;
  /** The sidecar's own name, for sentences. */
  readonly sidecarName?: string | undefined;
  /** Where they are known otherwise; they win over the sidecar. Times count from the recording's first sample. */
  readonly facts?: ShotFacts | undefined;
  /** A mapping kept here; `mapping` wins. With neither, the kept one whose columns fit. */
  readonly mappingName?: string | undefined;
  /** A recording whose end is missing is refused, unless this is all there is. */
  readonly isCutOffTaken?: boolean | undefined;
  /** Everything is looked at, nothing is kept. */
  readonly isDryRun?: boolean | undefined;
  /** Stops before anything of this file is kept. */
  readonly signal?: AbortSignal | undefined;
}

export interface BroughtShot {
  /** Absent in a dry run, where the shot would be new. */
  readonly shotId?: string;
  /** This content, this stretch, is here already. */
  readonly isDuplicate: boolean;
  readonly stretch: Stretch;
  /** From the recording's first sample, where it was found. */
  readonly impactS?: number;
  readonly playerId?: string;
  readonly addedPlayerCode?: string;
  readonly sessionId?: string;
  /** It was here without facts, and those of the sidecar were said of it now. */
  readonly gotFacts?: true;
}

export interface BroughtIn {
  readonly fileName: string;
  readonly recordingSha256: string;
  /** In the order they were hit; at least one. */
  readonly shots: readonly BroughtShot[];
  /** The mapping its columns were read by. */
  readonly mappingName?: string;
  /** What reading said, the recording and the sidecar. */
  readonly findings: readonly Finding[];
}

interface Said {
  readonly facts?: ShotFacts;
  readonly findings: readonly Finding[];
}

function saidOf({ facts, sidecarText, sidecarName, fileName }: BringInRequest): Said {
  if (facts) return { facts, findings: [] };
  if (sidecarText === undefined) return { findings: [] };
  return shotFactsFromSidecar(sidecarText, { file: sidecarName ?? `The sidecar of ${fileName}` });
}

/** The recording read once; a text without a mapping is read again by the kept one that fits. */
async function readWithMapping(
  request: BringInRequest,
  mappings: Mappings,
): Promise<ReadRecording & { readonly mapping?: ColumnMapping | undefined }> {
  const { bytes, fileName, mappingName } = request;
  const chosen = request.mapping ?? (mappingName === undefined ? undefined : await mappings.byName(mappingName));
  const isText = recordingFormat(bytes, fileName) === "text" && !/\.c3d$/i.test(fileName);
  if (!isText) return readRecording({ bytes, fileName });
  if (chosen !== undefined) return { ...readRecording({ bytes, fileName, mapping: chosen }), mapping: chosen };
  const columns = textSniff(bytes, {}, { file: fileName }).columns.map(({ name }) => name);
  const mapping = mappingFor(await mappings.list(), columns);
  if (mapping === undefined) throw bringInFaults.noMapping(fileName, columns);
  return { ...readRecording({ bytes, fileName, mapping }), mapping };
}

const OWNERLESS: Finding = {
  code: "bring-in-no-player",
  severity: "note",
  sentence: "Nobody said whose shot this is, so it stands in no session.",
  remedy: "Name the player, in the sidecar or when bringing it in.",
};

async function dryRun(
  { catalogue: { db } }: Workshop,
  { sha256 }: ReadRecording,
  found: readonly FoundShot[],
): Promise<readonly BroughtShot[]> {
  const shots: BroughtShot[] = [];
  for (const shot of found) {
    const same = await sameShot(db, { sha256, ...shot.stretch });
    const { reason: _, ...place } = shot;
    shots.push({ ...place, isDuplicate: same !== undefined, ...(same ? { shotId: same.id } : {}) });
  }
  return shots;
}

/** The doors of the library that bringing in goes through. */
interface BringInDesk {
  readonly mappings: Mappings;
  readonly settings: LibrarySettings;
  readonly shots: Shots;
}

/** A shot that came without facts gets those that are said now; facts that were said are never written over. */
async function sayMissing(
  stored: Shots,
  { shotId, isDuplicate }: ImportedShot,
  facts: ShotFacts | undefined,
  by: string | undefined,
): Promise<{ readonly gotFacts?: true }> {
  if (!isDuplicate || facts === undefined || (await stored.byId(shotId)).facts !== undefined) return {};
  await stored.say(shotId, facts, by);
  return { gotFacts: true };
}

/**
 * Takes one file in as a person brings it: reads it once, its facts from the sidecar, its columns by a mapping, and
 * every shot in it. On the disk when this returns; of a file that is refused nothing is kept.
 *
 * @throws UnderfootError with one sentence: what cannot be read, a broken sidecar, no shot in it (`bringInFaults`),
 *         library-cancelled, a full or read-only disk
 */
export async function bringIn(
  workshop: Workshop,
  store: RecordingStore,
  { mappings, settings, shots: stored }: BringInDesk,
  request: BringInRequest,
): Promise<BroughtIn> {
  const { fileName, isCutOffTaken = false, isDryRun = false, signal } = request;
  if (signal?.aborted) throw libraryFaults.cancelled();
  const said = saidOf(request);
  const { mapping, ...read } = await readWithMapping(request, mappings);
  const { recording, sha256 } = read;
  const refusal = noShotFault(recording, fileName, { isCutOffTaken });
  if (refusal) throw refusal;
  const found = shotsInRecording(recording, {
    settings: await settings.mechanics(),
    ...(said.facts ? { facts: said.facts } : {}),
  });
  if (signal?.aborted) throw libraryFaults.cancelled();
  const findings = [...recording.findings, ...recording.guesses, ...said.findings];
  const answer = { fileName, recordingSha256: sha256, ...(mapping ? { mappingName: mapping.name } : {}) };
  if (isDryRun) return { ...answer, shots: await dryRun(workshop, read, found), findings };
  const shots: BroughtShot[] = [];
  for (const { stretch, reason: _, ...rest } of found) {
    const part = { stretch, rateHz: recording.rateHz, isOnlyShot: found.length === 1 };
    const facts = said.facts && factsOfStretch(said.facts, part);
    const imported = await importRecording(workshop, store, { ...request, facts, mapping, stretch }, read);
    const { findings: noticed, recordingSha256: __, ...shot } = imported;
    shots.push({ ...shot, ...rest, stretch, ...(await sayMissing(stored, imported, facts, request.by)) });
    findings.push(...noticed.filter((one) => !findings.some((known) => known.sentence === one.sentence)));
  }
  const isOwnerless = request.isSessionOfDay && shots.some(({ playerId }) => playerId === undefined);
  return { ...answer, shots, findings: isOwnerless ? [...findings, OWNERLESS] : findings };
}
