import type { Finding, Recording, ShotFacts } from "@underfoot/domain";
import { type ColumnMapping, recordingFromBytes, sidecarFindings } from "@underfoot/formats";
import { recordingStretch, type Stretch } from "@underfoot/pipeline";
import type { CatalogueDb, CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { ShotRow } from "../catalogue/catalogue-tables.ts";
import { type RecordingStore, sha256Of } from "../disk/recording-store.ts";
import { libraryFaults } from "../faults.ts";
import { doDeed, type Workshop, writeHistory } from "../history/deed.ts";
import { factColumns } from "./shot-columns.ts";
import { replaceFindings, settleCheckFindings } from "./shot-findings.ts";
import { factsJson } from "./shot-owner.ts";
import { type Place, placeOf } from "./shot-place.ts";

export interface ImportRequest {
  readonly bytes: Uint8Array;
  /** Name only, as it was brought in. */
  readonly fileName: string;
  /** Left out where nobody has said them yet. Its times count from the first sample of the stretch. */
  readonly facts?: ShotFacts | undefined;
  readonly mapping?: ColumnMapping | undefined;
  /** The shot's stretch of a longer recording: samples [first, end). Left out: all of it. */
  readonly stretch?: Stretch | undefined;
  readonly sessionId?: string | undefined;
  /** Without `sessionId`: into the session of its player and day, opened where there is none. Needs a player. */
  readonly isSessionOfDay?: boolean | undefined;
  /** Without a session. With neither, the player whose code the facts name is taken, and added if new. */
  readonly playerId?: string | undefined;
  /** YYYY-MM-DD; left out: the session's day, else today. */
  readonly day?: string | undefined;
  readonly by?: string | undefined;
}

export interface ImportedShot {
  readonly shotId: string;
  /** This content, this stretch, was here before: nothing was changed, and this is the shot it is. */
  readonly isDuplicate: boolean;
  /** It had been taken out of the library, and stands in it again as it was. */
  readonly isBroughtBack?: true;
  readonly recordingSha256: string;
  readonly playerId?: string;
  /** Set where the player was added because nobody had this code. */
  readonly addedPlayerCode?: string;
  readonly sessionId?: string;
  /** What reading said. */
  readonly findings: readonly Finding[];
}

interface Seen {
  readonly sha256: string;
  readonly format: string;
  readonly rateHz: number;
  readonly sampleCount: number;
  readonly first: number;
  readonly end: number;
  readonly findings: readonly Finding[];
}

/** A recording as it was read, once for all the shots in it. */
export interface ReadRecording {
  readonly recording: Recording;
  readonly sha256: string;
}

/** Reads the recording: what cannot be read is not taken in. */
export function readRecording({ bytes, fileName, mapping }: ImportRequest): ReadRecording {
  const recording = recordingFromBytes(bytes, { file: fileName, ...(mapping ? { mapping } : {}) });
  return { recording, sha256: sha256Of(bytes) };
}

function seen({ fileName, facts, stretch }: ImportRequest, { recording, sha256 }: ReadRecording): Seen {
  const { first, end } = stretch ?? { first: 0, end: recording.sampleCount };
  if (!Number.isInteger(first) || !Number.isInteger(end) || first < 0 || end <= first || end > recording.sampleCount)
    throw libraryFaults.wrong(
      `${fileName} has ${recording.sampleCount} samples; the stretch ${first} to ${end} does not lie in it.`,
      "Choose a stretch inside the recording.",
    );
  const part = recordingStretch(recording, { first, end });
  const conflicts = facts === undefined ? [] : sidecarFindings(facts, part, { file: fileName, sha256 });
  return {
    sha256,
    format: recording.format,
    rateHz: recording.rateHz,
    sampleCount: recording.sampleCount,
    first,
    end,
    findings: [...recording.findings, ...recording.guesses, ...conflicts],
  };
}

/** The shot that this stretch of this content is already, hidden or not. */
export async function sameShot(
  db: CatalogueDb | CatalogueTransaction,
  { sha256, first, end }: Pick<Seen, "sha256" | "first" | "end">,
) {
  return db
    .selectFrom("shots")
    .select(["id", "player_id", "session_id", "removed_ms"])
    .where("recording_id", "=", sha256)
    .where("first_sample", "=", first)
    .where("end_sample", "=", end)
    .orderBy("id")
    .executeTakeFirst();
}

/** The next place in a session, from 1; 0 without one. */
export async function nextOrdinal(trx: CatalogueTransaction, sessionId: string | undefined): Promise<number> {
  if (sessionId === undefined) return 0;
  const { last } = await trx
    .selectFrom("shots")
    .select((is) => is.fn.max("ordinal").as("last"))
    .where("session_id", "=", sessionId)
    .executeTakeFirstOrThrow();
  return (last ?? 0) + 1;
}

/** What had to be made first: the player whose code nobody had, the session of the day. */
async function makePlace(
  trx: CatalogueTransaction,
  workshop: Workshop,
  { facts, fileName, by }: ImportRequest,
  { playerId, newPlayer, sessionId, newSession, day }: Place,
): Promise<void> {
  if (newPlayer)
    await doDeed(trx, workshop, { deed: `added the player ${facts?.player} from ${fileName}`, by, playerId }, [
      newPlayer,
    ]);
  if (newSession)
    await doDeed(trx, workshop, { deed: `opened a session on ${day} for ${fileName}`, by, playerId, sessionId }, [
      newSession,
    ]);
}

async function insertShot(
  trx: CatalogueTransaction,
  workshop: Workshop,
  request: ImportRequest,
  what: Seen,
): Promise<ImportedShot> {
  const { facts, mapping, fileName, by } = request;
  const place = await placeOf(trx, workshop, request);
  const { sessionId } = place;
  const nowMs = Math.floor(workshop.clock());
  const shot: ShotRow = {
    id: workshop.newId(),
    session_id: sessionId ?? null,
    player_id: place.playerId ?? null,
    recording_id: what.sha256,
    first_sample: what.first,
    end_sample: what.end,
    ordinal: await nextOrdinal(trx, sessionId),
    day: place.day,
    file_name: fileName,
    ...factColumns(facts),
    worst_severity: 0,
    created_ms: nowMs,
    removed_ms: null,
  };
  await makePlace(trx, workshop, request, place);
  await insertRecording(trx, workshop, { ...what, byteCount: request.bytes.length });
  await trx.insertInto("shots").values(shot).execute();
  await trx
    .insertInto("shot_facts")
    .values({
      id: shot.id,
      facts_json: facts === undefined ? null : factsJson(facts, place.playerId),
      mapping_json: mapping === undefined ? null : JSON.stringify(mapping),
    })
    .execute();
  await replaceFindings(trx, workshop.newId, { shotId: shot.id, source: "chain", findings: what.findings });
  if (sessionId !== undefined) await settleCheckFindings(trx, workshop.newId, { sessionId, shotId: shot.id });
  // Undone, the shot is hidden, never thrown away: so undoing puts back "removed", not "no such row".
  await writeHistory(
    trx,
    workshop,
    { deed: `brought in ${fileName}`, by, shotId: shot.id, sessionId, playerId: place.playerId },
    [{ table: "shots", id: shot.id, before: { removed_ms: nowMs }, after: { removed_ms: null } }],
  );
  return {
    shotId: shot.id,
    isDuplicate: false,
    recordingSha256: what.sha256,
    findings: what.findings,
    ...(place.playerId === undefined ? {} : { playerId: place.playerId }),
    ...(sessionId === undefined ? {} : { sessionId }),
    ...(place.newPlayer && facts?.player !== undefined ? { addedPlayerCode: facts.player } : {}),
  };
}

async function insertRecording(
  trx: CatalogueTransaction,
  workshop: Workshop,
  what: Seen & { readonly byteCount: number },
): Promise<void> {
  const row = {
    ...{ id: what.sha256, byte_count: what.byteCount, format: what.format, rate_hz: what.rateHz },
    ...{ sample_count: what.sampleCount, created_ms: Math.floor(workshop.clock()) },
  };
  await trx
    .insertInto("recordings")
    .values(row)
    .onConflict((on) => on.column("id").doNothing())
    .execute();
  await trx.deleteFrom("removals").where("id", "=", what.sha256).execute();
}

/**
 * Keeps a recording that is no shot: of a plate check, for example. On the disk when this returns.
 *
 * @returns its SHA-256
 */
export async function keepRecording(
  workshop: Workshop,
  store: RecordingStore,
  request: Pick<ImportRequest, "bytes" | "fileName" | "mapping">,
): Promise<string> {
  const what = seen(request, readRecording(request));
  await store.put(what.sha256, request.bytes);
  await workshop.catalogue.change(async (trx) => {
    if (!(await store.has(what.sha256))) await store.put(what.sha256, request.bytes);
    await insertRecording(trx, workshop, { ...what, byteCount: request.bytes.length });
  });
  return what.sha256;
}

/**
 * Takes a recording in as a shot. When this returns, file and row are on the disk.
 *
 * @param read  what the bytes hold, where they were read already
 * @throws UnderfootError what the reader says of the bytes; library-disk-full, library-read-only and so on
 */
export async function importRecording(
  workshop: Workshop,
  store: RecordingStore,
  request: ImportRequest,
  read: ReadRecording = readRecording(request),
): Promise<ImportedShot> {
  const what = seen(request, read);
  // The file first: a row never names a file that is not there. One that no row names yet is found by verify.
  await store.put(what.sha256, request.bytes);
  const imported = await workshop.catalogue.change(async (trx): Promise<ImportedShot> => {
    // Holding the lock: nobody can be forgetting the last shot of this content at the same moment, any more.
    if (!(await store.has(what.sha256))) await store.put(what.sha256, request.bytes);
    const same = await sameShot(trx, what);
    if (!same) return insertShot(trx, workshop, request, what);
    if (same.removed_ms !== null) {
      const words = { deed: `brought ${request.fileName} back`, by: request.by, shotId: same.id };
      await doDeed(trx, workshop, words, [{ table: "shots", id: same.id, set: { removed_ms: null } }]);
    }
    return {
      shotId: same.id,
      isDuplicate: true,
      recordingSha256: what.sha256,
      findings: what.findings,
      ...(same.removed_ms === null ? {} : { isBroughtBack: true }),
      ...(same.player_id === null ? {} : { playerId: same.player_id }),
      ...(same.session_id === null ? {} : { sessionId: same.session_id }),
    };
  });
  if (!imported.isDuplicate || imported.isBroughtBack)
    workshop.feed.tell({
      kind: "shot",
      id: imported.shotId,
      deed: `brought in ${request.fileName}`,
      ...(imported.sessionId === undefined ? {} : { sessionId: imported.sessionId }),
    });
  return imported;
}
