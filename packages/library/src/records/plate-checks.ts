import type { PlateCheckRow } from "../catalogue/catalogue-tables.ts";
import { present } from "../catalogue/present.ts";
import { libraryFaults } from "../faults.ts";
import { doDeed, type RowStep, type Workshop } from "../history/deed.ts";
import { settleCheckFindings } from "../shots/shot-findings.ts";

/** What is proved before the first shot. */
export const PLATE_CHECK_KINDS = ["zero", "known-mass", "quiet-lean", "clocks", "outlines"] as const;
export type PlateCheckKind = (typeof PLATE_CHECK_KINDS)[number];

export interface PlateCheckDetails {
  readonly sessionId: string;
  readonly kind: PlateCheckKind;
  /** The largest deviation allowed, and the one found, in `unit`. */
  readonly allowed?: number | undefined;
  readonly found?: number | undefined;
  readonly unit: string;
  readonly isPassed: boolean;
  readonly note?: string | undefined;
  /** SHA-256 of the recording it was made from, which the library has (`keepRecording`). */
  readonly recordingSha256?: string | undefined;
  /** What else was found, as plain data. */
  readonly detail?: unknown;
}

export interface PlateCheck extends PlateCheckDetails {
  readonly id: string;
  readonly createdMs: number;
  /** It failed, and somebody went on: every shot carries it. */
  readonly wentOn: boolean;
}

export interface PlateChecks {
  /** In the order they were made. */
  ofSession(sessionId: string): Promise<readonly PlateCheck[]>;
  add(details: PlateCheckDetails, by?: string): Promise<PlateCheck>;
  /** Goes on although it failed, with a note that travels with every shot. */
  goOnAnyway(id: string, note: string, by?: string): Promise<PlateCheck>;
}

function checkFrom(row: PlateCheckRow): PlateCheck {
  return present<PlateCheck>({
    id: row.id,
    sessionId: row.session_id,
    kind: row.kind as PlateCheckKind,
    allowed: row.allowed,
    found: row.found,
    unit: row.unit,
    isPassed: row.is_passed === 1,
    wentOn: row.went_on === 1,
    note: row.note,
    recordingSha256: row.recording_id,
    detail: row.detail_json === null ? undefined : (JSON.parse(row.detail_json) as unknown),
    createdMs: row.created_ms,
  });
}

export function plateChecks(workshop: Workshop): PlateChecks {
  const { db, change } = workshop.catalogue;
  const rowById = async (id: string): Promise<PlateCheckRow> => {
    const row = await db.selectFrom("plate_checks").selectAll().where("id", "=", id).executeTakeFirst();
    if (!row) throw libraryFaults.notThere("plate check", id);
    return row;
  };
  const done = async (sessionId: string, words: string, by: string | undefined, step: RowStep): Promise<PlateCheck> => {
    await change(async (trx) => {
      await doDeed(trx, workshop, { deed: words, by, sessionId }, [step]);
      await settleCheckFindings(trx, workshop.newId, { sessionId });
    });
    workshop.feed.tell({ kind: "check", id: step.id, deed: words, sessionId });
    return checkFrom(await rowById(step.id));
  };
  return {
    ofSession: async (sessionId) =>
      (await db.selectFrom("plate_checks").selectAll().where("session_id", "=", sessionId).orderBy("id").execute()).map(
        checkFrom,
      ),
    add: async (details, by) => {
      const session = await db
        .selectFrom("sessions")
        .select("id")
        .where("id", "=", details.sessionId)
        .executeTakeFirst();
      if (!session) throw libraryFaults.notThere("session", details.sessionId);
      if (details.recordingSha256 !== undefined) {
        const recording = db.selectFrom("recordings").select("id").where("id", "=", details.recordingSha256);
        if (!(await recording.executeTakeFirst())) throw libraryFaults.notThere("recording", details.recordingSha256);
      }
      const id = workshop.newId();
      const insert: PlateCheckRow = {
        id,
        session_id: details.sessionId,
        kind: details.kind,
        allowed: details.allowed ?? null,
        found: details.found ?? null,
        unit: details.unit,
        is_passed: Number(details.isPassed),
        went_on: 0,
        note: details.note ?? null,
        recording_id: details.recordingSha256 ?? null,
        detail_json: details.detail === undefined ? null : JSON.stringify(details.detail),
        created_ms: Math.floor(workshop.clock()),
      };
      const words = `${details.isPassed ? "passed" : "failed"} the plate check ${details.kind}`;
      return done(details.sessionId, words, by, { table: "plate_checks", id, insert: { ...insert } });
    },
    goOnAnyway: async (id, note, by) => {
      const row = await rowById(id);
      if (row.is_passed === 1)
        throw libraryFaults.wrong("This plate check passed.", "Go on: nothing needs to be said.");
      if (note.trim() === "")
        throw libraryFaults.wrong(
          "Going on past a failed plate check needs a note.",
          "Say why in a few words; it travels with every shot.",
        );
      const words = `went on although the plate check ${row.kind} failed`;
      return done(row.session_id, words, by, { table: "plate_checks", id, set: { went_on: 1, note } });
    },
  };
}
