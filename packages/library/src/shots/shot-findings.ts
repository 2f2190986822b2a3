import type { Finding, Where } from "@underfoot/domain";
import type { CatalogueTransaction } from "../catalogue/catalogue.ts";
import type { FindingRow, PlateCheckRow } from "../catalogue/catalogue-tables.ts";
import type { NewId } from "../catalogue/new-id.ts";
import { severityOf, severityRank } from "./shot-columns.ts";

export type FindingSource = "chain" | "check" | "library";

/** Rows a statement takes at once: SQLite allows 32,766 values. */
const ROWS_AT_ONCE = 500;

export function findingFrom(row: FindingRow): Finding {
  return {
    code: row.code,
    severity: severityOf(row.severity) ?? "note",
    sentence: row.sentence,
    remedy: row.remedy,
    ...(row.where_json === null ? {} : { where: JSON.parse(row.where_json) as Where }),
  };
}

interface SourcedFinding {
  readonly shotId: string;
  readonly finding: Finding;
  readonly source: FindingSource;
  readonly checkId?: string;
}

function findingRow(id: string, { shotId, finding, source, checkId }: SourcedFinding): FindingRow {
  return {
    id,
    shot_id: shotId,
    source,
    check_id: checkId ?? null,
    code: finding.code,
    severity: severityRank(finding.severity),
    sentence: finding.sentence,
    remedy: finding.remedy,
    where_json: finding.where === undefined ? null : JSON.stringify(finding.where),
  };
}

async function insertFindings(
  trx: CatalogueTransaction,
  newId: NewId,
  findings: readonly SourcedFinding[],
): Promise<void> {
  const rows = findings.map((one) => findingRow(newId(), one));
  for (let k = 0; k < rows.length; k += ROWS_AT_ONCE)
    await trx
      .insertInto("findings")
      .values(rows.slice(k, k + ROWS_AT_ONCE))
      .execute();
}

/** Sets the worst severity of a shot, or of all shots of a session, from the findings that are there. */
export async function settleSeverity(
  trx: CatalogueTransaction,
  of: { readonly shotId: string } | { readonly sessionId: string },
): Promise<void> {
  const shots = trx.updateTable("shots").set((is) => ({
    worst_severity: is.fn.coalesce(
      is
        .selectFrom("findings")
        .whereRef("findings.shot_id", "=", "shots.id")
        .select((f) => f.fn.max("severity").as("worst")),
      is.lit(0),
    ),
  }));
  if ("shotId" in of) await shots.where("id", "=", of.shotId).execute();
  else await shots.where("session_id", "=", of.sessionId).execute();
}

/** Puts the findings of one source in place of its earlier ones. */
export async function replaceFindings(
  trx: CatalogueTransaction,
  newId: NewId,
  {
    shotId,
    source,
    findings,
  }: { readonly shotId: string; readonly source: FindingSource; readonly findings: readonly Finding[] },
): Promise<void> {
  await trx.deleteFrom("findings").where("shot_id", "=", shotId).where("source", "=", source).execute();
  await insertFindings(
    trx,
    newId,
    findings.map((finding) => ({ shotId, finding, source })),
  );
  await settleSeverity(trx, { shotId });
}

const known = (value: number | null, unit: string): string =>
  value === null ? "nothing" : `${Number(value.toPrecision(4))}${unit === "" ? "" : ` ${unit}`}`;

/** What a check that failed says on every shot hit after it. */
function checkFinding(check: PlateCheckRow): Finding {
  const note = check.note === null ? "" : ` Note: ${check.note}`;
  return {
    code: "plate-check-failed",
    severity: "caution",
    sentence: `Hit although the plate check "${check.kind}" failed: ${known(check.found, check.unit)} found, ${known(check.allowed, check.unit)} allowed.${note}`,
    remedy: "Repeat the check, or leave these shots out of what it concerns.",
  };
}

/** Failed checks that a person went past, each with the time from which a passed one of its kind made it good. */
function openChecks(checks: readonly PlateCheckRow[]): readonly (PlateCheckRow & { readonly endMs: number })[] {
  return checks
    .filter((check) => check.went_on === 1 && check.is_passed === 0)
    .map((check) => {
      const mended = checks.find((later) => later.kind === check.kind && later.is_passed === 1 && later.id > check.id);
      return { ...check, endMs: mended?.created_ms ?? Number.POSITIVE_INFINITY };
    });
}

/**
 * What the failed checks of a session leave on its shots, made anew: a failed check stays on every shot until a passed
 * one of its kind.
 *
 * @param shotId  this shot only, where only it is new
 */
export async function settleCheckFindings(
  trx: CatalogueTransaction,
  newId: NewId,
  { sessionId, shotId }: { readonly sessionId: string; readonly shotId?: string },
): Promise<void> {
  const checks = await trx
    .selectFrom("plate_checks")
    .selectAll()
    .where("session_id", "=", sessionId)
    .orderBy("id")
    .execute();
  let wanted = trx.selectFrom("shots").select(["id", "created_ms"]).where("session_id", "=", sessionId);
  if (shotId !== undefined) wanted = wanted.where("id", "=", shotId);
  const shots = await wanted.execute();
  let old = trx
    .deleteFrom("findings")
    .where("source", "=", "check")
    .where("shot_id", "in", trx.selectFrom("shots").select("id").where("session_id", "=", sessionId));
  if (shotId !== undefined) old = old.where("shot_id", "=", shotId);
  await old.execute();
  const open = openChecks(checks);
  await insertFindings(
    trx,
    newId,
    shots.flatMap((shot) =>
      open
        .filter((check) => shot.created_ms < check.endMs)
        .map((check) => ({
          shotId: shot.id,
          finding: checkFinding(check),
          source: "check" as const,
          checkId: check.id,
        })),
    ),
  );
  await settleSeverity(trx, shotId === undefined ? { sessionId } : { shotId });
}
