import { join } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { sql } from "kysely";
import type { CatalogueTransaction } from "../catalogue/catalogue.ts";
import { BUSY_MS } from "../catalogue/catalogue-sqlite.ts";
import type { FileSystem } from "../disk/file-system.ts";
import type { RecordingStore } from "../disk/recording-store.ts";
import { libraryFaults, sqliteFault } from "../faults.ts";
import type { Workshop } from "../history/deed.ts";
import { dailyBackup, dailyBackups } from "./daily-backup.ts";
import { notedBackups } from "./noted-backups.ts";

/** What was removed of a person. */
export interface Forgotten {
  readonly sessions: number;
  readonly shots: number;
  readonly results: number;
  readonly findings: number;
  readonly footOutlines: number;
  readonly plateChecks: number;
  readonly historyEntries: number;
  readonly settings: readonly string[];
  /** Files that nobody else uses. */
  readonly recordings: number;
  /** Recordings that stay because another player's shots use the same content. */
  readonly recordingsShared: number;
  /** Daily backups that held the person: removed, and a new one made. */
  readonly backups: readonly string[];
  /** False where another program has the library open and is reading: freed pages are overwritten at the next opening. */
  readonly isScrubbed: boolean;
  /** Backups made by hand that are still where they were written: they may hold the person. */
  readonly backupsElsewhere: readonly string[];
  /** What this program cannot reach. */
  readonly elsewhere: string;
}

const ELSEWHERE =
  "Backups and exports that were copied elsewhere still hold this person, and so may the disk's own snapshots; remove those by hand.";
const ELSEWHERE_SERVER =
  "The PostgreSQL server's own log and backups may still hold this person; its administrator removes those. ";

interface Person {
  readonly id: string;
  readonly code: string;
  readonly name: string | null;
}

const count = ({ numDeletedRows }: { numDeletedRows: bigint }): number => Number(numDeletedRows);

/** Settings whose text names the person: last chosen player, and the like. */
async function forgetSettings(trx: CatalogueTransaction, { id, code, name }: Person): Promise<readonly string[]> {
  const rows = await trx.selectFrom("settings").selectAll().execute();
  const words = [id, code, name]
    .filter((word): word is string => word !== null && word !== "")
    .map((word) => JSON.stringify(word));
  const named = rows.filter((row) => words.some((word) => row.value_json.includes(word)) || row.id.includes(id));
  for (const row of named) await trx.deleteFrom("settings").where("id", "=", row.id).execute();
  return named.map((row) => row.id);
}

/** History of the person, of the sessions and shots of the person, and of the settings that named the person. */
async function forgetHistory(trx: CatalogueTransaction, person: Person, settings: readonly string[]): Promise<number> {
  const shots = trx.selectFrom("shots").select("id").where("player_id", "=", person.id);
  const sessions = trx.selectFrom("sessions").select("id").where("player_id", "=", person.id);
  const own = await trx
    .deleteFrom("history")
    .where((is) =>
      is.or([is("player_id", "=", person.id), is("shot_id", "in", shots), is("session_id", "in", sessions)]),
    )
    .executeTakeFirstOrThrow();
  // A shot that was moved between players, or a setting: its changes still name the person.
  let others = 0;
  for (const id of [person.id, ...settings]) {
    const part = `%${JSON.stringify(id).replace(/[\\%_]/g, "\\$&")}%`;
    const named = trx.deleteFrom("history").where(sql<boolean>`changes_json like ${part} escape '\\'`);
    others += count(await named.executeTakeFirstOrThrow());
  }
  return count(own) + others;
}

async function forgetRows(
  trx: CatalogueTransaction,
  person: Person,
): Promise<
  Omit<Forgotten, "recordings" | "recordingsShared" | "backups" | "backupsElsewhere" | "isScrubbed" | "elsewhere">
> {
  const shots = trx.selectFrom("shots").select("id").where("player_id", "=", person.id);
  const sessions = trx.selectFrom("sessions").select("id").where("player_id", "=", person.id);
  const settings = await forgetSettings(trx, person);
  const historyEntries = await forgetHistory(trx, person, settings);
  const findings = count(await trx.deleteFrom("findings").where("shot_id", "in", shots).executeTakeFirstOrThrow());
  const results = count(await trx.deleteFrom("results").where("id", "in", shots).executeTakeFirstOrThrow());
  await trx.deleteFrom("shot_facts").where("id", "in", shots).execute();
  const plateChecks = count(
    await trx.deleteFrom("plate_checks").where("session_id", "in", sessions).executeTakeFirstOrThrow(),
  );
  const shotCount = count(await trx.deleteFrom("shots").where("player_id", "=", person.id).executeTakeFirstOrThrow());
  const sessionCount = count(
    await trx.deleteFrom("sessions").where("player_id", "=", person.id).executeTakeFirstOrThrow(),
  );
  const footOutlines = count(
    await trx.deleteFrom("foot_outlines").where("player_id", "=", person.id).executeTakeFirstOrThrow(),
  );
  await trx.deleteFrom("players").where("id", "=", person.id).execute();
  return {
    sessions: sessionCount,
    shots: shotCount,
    results,
    findings,
    footOutlines,
    plateChecks,
    historyEntries,
    settings,
  };
}

/** Recordings of the person: those nobody else uses lose their row and are noted for removal. */
async function releaseRecordings(trx: CatalogueTransaction, ids: readonly string[]): Promise<readonly string[]> {
  const gone: string[] = [];
  for (const id of ids) {
    const shot = await trx.selectFrom("shots").select("id").where("recording_id", "=", id).limit(1).executeTakeFirst();
    const check = await trx
      .selectFrom("plate_checks")
      .select("id")
      .where("recording_id", "=", id)
      .limit(1)
      .executeTakeFirst();
    if (shot || check) continue;
    await trx.deleteFrom("recordings").where("id", "=", id).execute();
    await trx
      .insertInto("removals")
      .values({ id })
      .onConflict((on) => on.column("id").doNothing())
      .execute();
    gone.push(id);
  }
  return gone;
}

async function recordingsOf(trx: CatalogueTransaction, playerId: string): Promise<readonly string[]> {
  const sessions = trx.selectFrom("sessions").select("id").where("player_id", "=", playerId);
  const shots = await trx
    .selectFrom("shots")
    .select("recording_id")
    .distinct()
    .where("player_id", "=", playerId)
    .execute();
  const checks = await trx
    .selectFrom("plate_checks")
    .select("recording_id")
    .distinct()
    .where("session_id", "in", sessions)
    .execute();
  return [
    ...new Set([...shots, ...checks].flatMap(({ recording_id }) => (recording_id === null ? [] : [recording_id]))),
  ];
}

/** How long overwriting freed pages waits for other readers, ms. */
const SCRUB_WAIT_MS = 200;

/** Noted like a file while freed pages may still hold what was removed. */
const FREED_PAGES = "freed-pages";

/** Removes files that were noted for it, also after a crash; a file that came back into use stays. */
async function removeFiles({ catalogue }: Workshop, store: RecordingStore): Promise<void> {
  const noted = await catalogue.db.selectFrom("removals").select("id").where("id", "!=", FREED_PAGES).execute();
  for (const { id } of noted) {
    await catalogue.change(async (trx) => {
      const used = await trx.selectFrom("recordings").select("id").where("id", "=", id).executeTakeFirst();
      if (!used) await store.remove(id);
      await trx.deleteFrom("removals").where("id", "=", id).execute();
    });
  }
}

/** Overwrites what freed pages still hold, and empties the log. False where another program reads them just now. */
async function scrubbed({ catalogue }: Workshop): Promise<boolean> {
  const { raw, db, place } = catalogue;
  if (!raw) {
    await sql`vacuum (full)`.execute(db);
    return true;
  }
  try {
    // Waiting would hold up the thread; what cannot be done now is done at the next opening.
    raw.exec(`pragma busy_timeout = ${SCRUB_WAIT_MS}`);
    raw.exec("vacuum");
    const [state] = raw.prepare("pragma wal_checkpoint(truncate)").all();
    return state?.["busy"] === 0;
  } catch (cause) {
    const fault = sqliteFault(place, cause);
    if (fault instanceof UnderfootError && fault.code === "library-busy") return false;
    throw fault;
  } finally {
    raw.exec(`pragma busy_timeout = ${BUSY_MS}`);
  }
}

/**
 * Finishes what a forgetting left: files without rows, freed pages. Done at each opening too, so that neither a crash
 * nor another program in the way leaves a trace for good.
 *
 * @returns false where another program is in the way: to be done again
 */
export async function finishForgetting(workshop: Workshop, store: RecordingStore): Promise<boolean> {
  const { db } = workshop.catalogue;
  const { count: noted } = await db
    .selectFrom("removals")
    .select((is) => is.fn.countAll<number>().as("count"))
    .executeTakeFirstOrThrow();
  if (noted === 0) return true;
  await removeFiles(workshop, store);
  if (!(await scrubbed(workshop))) return false;
  await db.deleteFrom("removals").where("id", "=", FREED_PAGES).execute();
  return true;
}

/** Removes a person everywhere: rows, history, files, freed pages and the daily backups. It cannot be undone. */
export async function forget(
  workshop: Workshop,
  {
    store,
    files,
    backupFolder,
  }: { readonly store: RecordingStore; readonly files: FileSystem; readonly backupFolder: string },
  playerId: string,
): Promise<Forgotten> {
  const { catalogue } = workshop;
  const done = await catalogue.change(async (trx) => {
    const person = await trx
      .selectFrom("players")
      .select(["id", "code", "name"])
      .where("id", "=", playerId)
      .executeTakeFirst();
    if (!person) throw libraryFaults.notThere("player", playerId);
    const recordings = await recordingsOf(trx, playerId);
    const rows = await forgetRows(trx, person);
    const gone = await releaseRecordings(trx, recordings);
    await trx
      .insertInto("removals")
      .values({ id: FREED_PAGES })
      .onConflict((on) => on.column("id").doNothing())
      .execute();
    return { ...rows, recordings: gone.length, recordingsShared: recordings.length - gone.length };
  });
  const isScrubbed = await finishForgetting(workshop, store);
  const backups = await dailyBackups(files, backupFolder);
  for (const name of backups) await files.remove(join(backupFolder, name));
  if (backups.length > 0) await dailyBackup(workshop, store, files, { folder: backupFolder });
  workshop.feed.tell({ kind: "player", id: playerId, deed: "forgot a player" });
  const backupsElsewhere = await notedBackups(workshop, files);
  return {
    ...done,
    backups,
    backupsElsewhere,
    isScrubbed,
    elsewhere: (catalogue.raw ? "" : ELSEWHERE_SERVER) + ELSEWHERE,
  };
}
