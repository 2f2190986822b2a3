import type { Finding, ShotFacts } from "@underfoot/domain";
import { type ColumnMapping, mappingFor, recordingFormat, shotFactsFromSidecar, textSniff } from "@underfoot/formats";
import { type FoundShot, type Stretch, shotsInRecording } from "@underfoot/pipeline";
import { type RecordingStore, sha256Of } from "../disk/recording-store.ts";
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
import { type Place, placeOf } from "./shot-place.ts";
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
  /** It had been taken out of the library, and stands in it again as it was. */
  readonly isBroughtBack?: true;
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

/** The one shot that is this whole content and stands in the library: what it holds need not be looked for again. */
async function knownWhole(
  { catalogue: { db } }: Workshop,
  sha256: string,
): Promise<(ImportedShot & Stretch) | undefined> {
  const rows = await db
    .selectFrom("shots")
    .innerJoin("recordings", "recordings.id", "shots.recording_id")
    .select(["shots.id", "shots.player_id", "shots.session_id", "first_sample", "end_sample", "sample_count"])
    .where("recording_id", "=", sha256)
    .where("removed_ms", "is", null)
    .limit(2)
    .execute();
  const [row, ...others] = rows;
  if (!row || others.length > 0 || row.first_sample !== 0 || row.end_sample !== row.sample_count) return undefined;
  return {
    shotId: row.id,
    isDuplicate: true,
    recordingSha256: sha256,
    findings: [],
    first: 0,
    end: row.sample_count,
    ...(row.player_id === null ? {} : { playerId: row.player_id }),
    ...(row.session_id === null ? {} : { sessionId: row.session_id }),
  };
}

async function dryRun(
  { catalogue: { db } }: Workshop,
  { sha256 }: ReadRecording,
  found: readonly FoundShot[],
  place: Place,
): Promise<readonly BroughtShot[]> {
  const { playerId, newPlayer, sessionId, newSession } = place;
  const owner = {
    ...(playerId === undefined || newPlayer ? {} : { playerId }),
    ...(sessionId === undefined || newSession ? {} : { sessionId }),
    ...(newPlayer && "insert" in newPlayer ? { addedPlayerCode: String(newPlayer.insert["code"]) } : {}),
  };
  const shots: BroughtShot[] = [];
  for (const { reason: _, ...shot } of found) {
    const same = await sameShot(db, { sha256, ...shot.stretch });
    shots.push({ ...shot, isDuplicate: same !== undefined, ...(same ? { shotId: same.id } : owner) });
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

async function knownAnswer(
  stored: Shots,
  known: ImportedShot & Stretch,
  { fileName, by, isDryRun }: BringInRequest,
  { facts, findings }: Said,
): Promise<BroughtIn> {
  const { first, end, findings: _, recordingSha256, ...shot } = known;
  const got = isDryRun ? {} : await sayMissing(stored, known, facts, by);
  const { mapping, findings: kept } = await stored.byId(known.shotId);
  return {
    fileName,
    recordingSha256,
    shots: [{ ...shot, stretch: { first, end }, ...got }],
    ...(mapping ? { mappingName: mapping.name } : {}),
    findings: [...kept, ...findings],
  };
}

/** What is odd about whose shots these are. */
async function ownerFindings(
  { catalogue: { db } }: Workshop,
  { isSessionOfDay, fileName }: BringInRequest,
  { facts }: Said,
  shots: readonly BroughtShot[],
): Promise<readonly Finding[]> {
  const [playerId] = shots.map((shot) => shot.playerId);
  if (playerId === undefined) return isSessionOfDay ? [OWNERLESS] : [];
  if (facts?.player === undefined) return [];
  const player = await db.selectFrom("players").select("code").where("id", "=", playerId).executeTakeFirst();
  if (player === undefined || player.code === facts.player) return [];
  return [
    {
      code: "bring-in-other-player",
      severity: "caution",
      sentence: `The sidecar of ${fileName} names the player ${facts.player}, and its shot was put to ${player.code}.`,
      remedy: "Where that is wrong, move the shot to a session of the right player.",
    },
  ];
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
  const known = await knownWhole(workshop, sha256Of(request.bytes));
  // A copy whose file was lost is read like a new one: importing puts the file back.
  if (known && (await store.has(known.recordingSha256))) return knownAnswer(stored, known, request, said);
  const { mapping, ...read } = await readWithMapping(request, mappings);
  const { recording, sha256 } = read;
  const refusal = noShotFault(recording, fileName, { isCutOffTaken });
  if (refusal) throw refusal;
  const found = shotsInRecording(recording, {
    settings: await settings.mechanics(),
    ...(said.facts ? { facts: said.facts } : {}),
  });
  if (signal?.aborted) throw libraryFaults.cancelled();
  // Before anything is kept: a session or a player that is not there is said now.
  const place = await placeOf(workshop.catalogue.db, workshop, { ...request, facts: said.facts });
  const findings = [...recording.findings, ...recording.guesses, ...said.findings];
  const answer = { fileName, recordingSha256: sha256, ...(mapping ? { mappingName: mapping.name } : {}) };
  if (isDryRun) return { ...answer, shots: await dryRun(workshop, read, found, place), findings };
  const shots: BroughtShot[] = [];
  for (const { stretch, reason: _, ...rest } of found) {
    const part = { stretch, rateHz: recording.rateHz, isOnlyShot: found.length === 1 };
    const facts = said.facts && factsOfStretch(said.facts, part);
    const imported = await importRecording(workshop, store, { ...request, facts, mapping, stretch }, read);
    const { findings: noticed, recordingSha256: __, ...shot } = imported;
    shots.push({ ...shot, ...rest, stretch, ...(await sayMissing(stored, imported, facts, request.by)) });
    findings.push(...noticed.filter((one) => !findings.some((known) => known.sentence === one.sentence)));
  }
  return { ...answer, shots, findings: [...findings, ...(await ownerFindings(workshop, request, said, shots))] };
}
