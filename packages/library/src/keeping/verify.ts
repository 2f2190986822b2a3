import type { Finding, ShotFacts } from "@underfoot/domain";
import { sql } from "kysely";
import type { ShotFactsRow, ShotRow } from "../catalogue/catalogue-tables.ts";
import type { FileSystem } from "../disk/file-system.ts";
import { type RecordingStore, sha256Of } from "../disk/recording-store.ts";
import { libraryFaults } from "../faults.ts";
import type { Workshop } from "../history/deed.ts";
import { SIGMA_BYTES, VALUE_BYTES } from "../results/packed-values.ts";
import type { Progress } from "../results/recompute.ts";
import { importRecording } from "../shots/import-recording.ts";
import { factColumns } from "../shots/shot-columns.ts";
import { settleSeverity } from "../shots/shot-findings.ts";
import { recordingInBackup } from "./backup-recordings.ts";

/** Something that is not as it should be. */
export interface VerifyFinding extends Finding {
  readonly isMended: boolean;
}

export interface VerifyReport {
  readonly recordings: number;
  readonly shots: number;
  readonly findings: readonly VerifyFinding[];
  /**
   * Of imports that were stopped before they were acknowledged: files that no shot names, and unfinished ones. No fault.
   * Mending takes the whole ones in as shots and removes the unfinished.
   */
  readonly leftovers: readonly string[];
}

export interface VerifyOptions {
  readonly mend?: boolean;
  /** Where sound copies may be had, the best first; left out: the daily backups. */
  readonly backups?: readonly string[];
  readonly onProgress?: (progress: Progress) => void;
  readonly signal?: AbortSignal | undefined;
}

/** Younger leftovers may belong to an import that another process is at; common practice, no source. */
const LEFTOVER_MS = 10 * 60 * 1000;

const PAGE = 500;

interface Desk {
  readonly workshop: Workshop;
  readonly store: RecordingStore;
  readonly files: FileSystem;
  readonly options: VerifyOptions;
  readonly findings: VerifyFinding[];
}

function say(
  desk: Desk,
  severity: Finding["severity"],
  code: string,
  sentence: string,
  remedy: string,
  isMended = false,
  shot?: string,
): void {
  desk.findings.push({
    code: `library-${code}`,
    severity,
    sentence,
    remedy,
    isMended,
    ...(shot === undefined ? {} : { where: { shot } }),
  });
}

async function mendRecording({ store, files, options }: Desk, sha256: string): Promise<boolean> {
  if (!options.mend) return false;
  for (const file of options.backups ?? []) {
    const copy = await recordingInBackup(files, file, sha256);
    if (copy === undefined || sha256Of(copy) !== sha256) continue;
    await store.remove(sha256);
    await store.put(sha256, copy);
    return true;
  }
  return false;
}

async function verifyRecordings(desk: Desk): Promise<ReadonlySet<string>> {
  const { workshop, store, options } = desk;
  const rows = await workshop.catalogue.db
    .selectFrom("recordings")
    .select(["id", "byte_count"])
    .orderBy("id")
    .execute();
  for (const [k, { id, byte_count }] of rows.entries()) {
    if (options.signal?.aborted) throw libraryFaults.cancelled();
    const found = await store.found(id);
    if (found?.sha256 !== id || found.byteCount !== byte_count) {
      const { count } = await workshop.catalogue.db
        .selectFrom("shots")
        .select((is) => is.fn.countAll<number>().as("count"))
        .where("recording_id", "=", id)
        .executeTakeFirstOrThrow();
      const what = found === undefined ? "is not on the disk" : "is damaged: its content is not what it was";
      const isMended = await mendRecording(desk, id);
      say(
        desk,
        "stop",
        "recording-lost",
        `The recording ${id.slice(0, 12)} of ${count} shots ${what}.`,
        isMended ? "It was put back from a backup." : "Put it back from a backup: verify with mend, naming the backup.",
        isMended,
      );
    }
    options.onProgress?.({ done: k + 1, total: rows.length });
  }
  return new Set(rows.map(({ id }) => id));
}

type JoinedShot = ShotRow &
  Omit<ShotFactsRow, "id"> & {
    sample_count: number | null;
    player_there: string | null;
    session_there: string | null;
    severity_found: number | null;
  };

async function verifyShot(desk: Desk, row: JoinedShot): Promise<void> {
  const at = `The shot ${row.id} (${row.file_name})`;
  const lost = (what: string): void =>
    say(
      desk,
      "stop",
      "reference-lost",
      `${at} names a ${what} that is not in the catalogue.`,
      "Restore the last backup into another folder.",
      false,
      row.id,
    );
  if (row.sample_count === null) lost("recording");
  if (row.player_id !== null && row.player_there === null) lost("player");
  if (row.session_id !== null && row.session_there === null) lost("session");
  if (row.sample_count !== null && row.end_sample > row.sample_count)
    say(
      desk,
      "stop",
      "stretch-outside",
      `${at} ends at sample ${row.end_sample} of ${row.sample_count}.`,
      "Bring the recording in again.",
      false,
      row.id,
    );
  let facts: ShotFacts | undefined;
  try {
    facts = row.facts_json === null ? undefined : (JSON.parse(row.facts_json) as ShotFacts);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    say(
      desk,
      "stop",
      "facts-damaged",
      `The facts of ${at} cannot be read (${why}).`,
      "Say them again; the history has the earlier ones.",
      false,
      row.id,
    );
    return;
  }
  await verifyColumns(desk, row, facts, at);
}

/** What follows from facts and findings is made anew where it does not agree with them. */
async function verifyColumns(desk: Desk, row: JoinedShot, facts: ShotFacts | undefined, at: string): Promise<void> {
  const { change } = desk.workshop.catalogue;
  const columns = factColumns(facts);
  const wrong = (Object.keys(columns) as (keyof typeof columns)[]).filter((name) => columns[name] !== row[name]);
  if (wrong.length > 0) {
    const isMended = desk.options.mend === true;
    if (isMended) await change((trx) => trx.updateTable("shots").set(columns).where("id", "=", row.id).execute());
    say(
      desk,
      "caution",
      "columns-differ",
      `${at} is listed with another ${wrong.join(", ")} than its facts say.`,
      isMended ? "The list was made anew from the facts." : "Verify with mend makes the list anew from the facts.",
      isMended,
      row.id,
    );
  }
  if ((row.severity_found ?? 0) !== row.worst_severity) {
    const isMended = desk.options.mend === true;
    if (isMended) await change((trx) => settleSeverity(trx, { shotId: row.id }));
    say(
      desk,
      "caution",
      "severity-differs",
      `${at} is listed with another worst finding than it has.`,
      isMended ? "It was counted anew." : "Verify with mend counts it anew.",
      isMended,
      row.id,
    );
  }
}

async function verifyShots(desk: Desk): Promise<number> {
  const { db } = desk.workshop.catalogue;
  let after = "";
  let count = 0;
  for (;;) {
    const rows = await db
      .selectFrom("shots")
      .leftJoin("shot_facts", "shot_facts.id", "shots.id")
      .leftJoin("recordings", "recordings.id", "shots.recording_id")
      .leftJoin("players", "players.id", "shots.player_id")
      .leftJoin("sessions", "sessions.id", "shots.session_id")
      .selectAll("shots")
      .select([
        "facts_json",
        "mapping_json",
        "sample_count",
        "players.id as player_there",
        "sessions.id as session_there",
      ])
      .select((is) =>
        is
          .selectFrom("findings")
          .whereRef("findings.shot_id", "=", "shots.id")
          .select((f) => f.fn.max("severity").as("worst"))
          .as("severity_found"),
      )
      .where("shots.id", ">", after)
      .orderBy("shots.id")
      .limit(PAGE)
      .execute();
    const last = rows.at(-1);
    if (last === undefined) return count;
    for (const row of rows) await verifyShot(desk, row);
    count += rows.length;
    after = last.id;
  }
}

/** A result is a cache: what cannot be trusted is taken out and computed again. */
async function verifyResults(desk: Desk): Promise<void> {
  const { catalogue } = desk.workshop;
  const layouts = await catalogue.db.selectFrom("value_layouts").selectAll().execute();
  for (const { id, columns_json } of layouts) {
    const count = (JSON.parse(columns_json) as string[]).length;
    const bad = await catalogue.db
      .selectFrom("results")
      .select("id")
      .where("layout_id", "=", id)
      .where((is) =>
        is.or([
          is(sql<number>`length(packed_values)`, "!=", count * VALUE_BYTES),
          is(sql<number>`length(packed_sigmas)`, "!=", count * SIGMA_BYTES),
        ]),
      )
      .execute();
    await dropResults(
      desk,
      bad.map((row) => row.id),
      "have the wrong length",
    );
  }
  const orphans = await catalogue.db
    .selectFrom("results")
    .leftJoin("shots", "shots.id", "results.id")
    .select("results.id")
    .where("shots.id", "is", null)
    .execute();
  await dropResults(
    desk,
    orphans.map((row) => row.id),
    "belong to no shot",
  );
}

async function dropResults(desk: Desk, ids: readonly string[], why: string): Promise<void> {
  for (const id of ids) {
    const isMended = desk.options.mend === true;
    if (isMended)
      await desk.workshop.catalogue.change((trx) => trx.deleteFrom("results").where("id", "=", id).execute());
    say(
      desk,
      "caution",
      "result-damaged",
      `The kept numbers of the shot ${id} ${why}.`,
      isMended ? "They were taken out: recompute." : "Verify with mend takes them out; then recompute.",
      isMended,
      id,
    );
  }
}

async function verifyEngine({ workshop, ...desk }: Desk): Promise<void> {
  const rows = workshop.catalogue.raw?.prepare("pragma integrity_check(5)").all() ?? [];
  for (const row of rows) {
    const text = String(row["integrity_check"]);
    if (text !== "ok")
      say(
        { workshop, ...desk },
        "stop",
        "catalogue-damaged",
        `The catalogue is damaged: ${text}.`,
        "Keep the folder as it is, and restore the last backup into another folder.",
      );
  }
}

async function verifyLeftovers(desk: Desk, known: ReadonlySet<string>): Promise<readonly string[]> {
  const { workshop, store, files, options } = desk;
  const { sha256s, unfinished, strangers } = await store.listing();
  const removals = new Set(
    (await workshop.catalogue.db.selectFrom("removals").select("id").execute()).map(({ id }) => id),
  );
  const isOld = async (path: string): Promise<boolean> => {
    const changedMs = await files.changedMs(path);
    return changedMs !== undefined && workshop.clock() - changedMs > LEFTOVER_MS;
  };
  const leftovers: string[] = [];
  for (const path of unfinished) {
    leftovers.push(path);
    if (options.mend && (await isOld(path))) await files.remove(path);
  }
  for (const sha256 of sha256s) {
    if (known.has(sha256) || removals.has(sha256)) continue;
    leftovers.push(store.pathOf(sha256));
    if (options.mend && (await isOld(store.pathOf(sha256)))) await adoptOrSay(desk, sha256);
  }
  for (const path of strangers)
    say(desk, "note", "stranger", `${path} is no recording of this library.`, "Move it elsewhere.");
  return leftovers;
}

/** Takes a whole file that no shot names in as a shot without facts: it may be the only trace of a shot. */
async function adoptOrSay(desk: Desk, sha256: string): Promise<void> {
  const { workshop, store } = desk;
  try {
    const bytes = await store.bytes(sha256);
    await importRecording(workshop, store, { bytes, fileName: `found-${sha256.slice(0, 12)}`, by: "verify" });
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    say(
      desk,
      "note",
      "leftover-unreadable",
      `The file ${desk.store.pathOf(sha256)} belongs to no shot and cannot be taken in: ${why}`,
      "Look at it, and move it elsewhere.",
    );
  }
}

/** Holds every file to its hash and every row to what it names; says what is wrong, and mends what can be mended. */
export async function verify(
  workshop: Workshop,
  store: RecordingStore,
  files: FileSystem,
  options: VerifyOptions = {},
): Promise<VerifyReport> {
  const desk: Desk = { workshop, store, files, options, findings: [] };
  await verifyEngine(desk);
  const known = await verifyRecordings(desk);
  const shots = await verifyShots(desk);
  await verifyResults(desk);
  const leftovers = await verifyLeftovers(desk, known);
  return { recordings: known.size, shots, findings: desk.findings, leftovers };
}
