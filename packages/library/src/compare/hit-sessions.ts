import { columnOf } from "@underfoot/compare";
import type { PlayerAxes } from "@underfoot/domain";
import { catalogueEntry } from "@underfoot/mechanics";
import type { CatalogueDb } from "../catalogue/catalogue.ts";
import type { SessionPlan } from "../records/sessions.ts";
import type { ShotSaid } from "./computed-shot.ts";
import type { HitSession } from "./session-blocks.ts";

/** The sessions these shots belong to, with their plans and all their shots in the order hit. */
export async function hitSessions(db: CatalogueDb, shots: readonly ShotSaid[]): Promise<readonly HitSession[]> {
  const ids = [...new Set(shots.flatMap(({ sessionId }) => (sessionId === undefined ? [] : [sessionId])))];
  if (ids.length === 0) return [];
  const sessions = await db.selectFrom("sessions").select(["id", "plan_json"]).where("id", "in", ids).execute();
  const rows = await db
    .selectFrom("shots")
    .select(["id", "session_id", "label", "intent", "lie_name"])
    .where("session_id", "in", ids)
    .where("removed_ms", "is", null)
    .orderBy("ordinal")
    .orderBy("id")
    .execute();
  return sessions.map(({ id, plan_json }) => ({
    plan: plan_json === null ? undefined : (JSON.parse(plan_json) as SessionPlan),
    shots: rows
      .filter(({ session_id }) => session_id === id)
      .map((row) => ({
        shotId: row.id,
        label: row.label,
        intent: row.intent ?? undefined,
        lieName: row.lie_name ?? undefined,
      })),
  }));
}

/** A measure's column in these axes, or in the only ones it has; a column stays as it is. What is no measure is left for the room to refuse. */
export function measureColumn(name: string, axes: PlayerAxes): string {
  const versions = catalogueEntry(name)?.axes;
  if (versions === undefined) return name;
  return columnOf(name, versions.includes(axes) ? axes : versions[0]);
}

/** Columns of what the sessions' plans asked of measures, for the intents of these shots. */
export function askedColumns(
  sessions: readonly HitSession[],
  shots: readonly ShotSaid[],
  axes: PlayerAxes,
): readonly string[] {
  const intents = new Set(shots.map(({ intent }) => intent));
  const asked = sessions.flatMap(({ plan }) => plan?.asked ?? []);
  const ofThese = asked.filter(({ intent }) => intent === undefined || intents.has(intent));
  return [
    ...new Set(
      ofThese.map((one) =>
        one.axes === undefined ? measureColumn(one.measure, axes) : columnOf(one.measure, one.axes),
      ),
    ),
  ];
}
