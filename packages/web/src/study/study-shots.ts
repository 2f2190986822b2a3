import type { PlayerShape, PointShape, SessionShape } from "@underfoot/protocol";
import type { CountedShot, SideFacts } from "../compare/choose/shot-counts.ts";

/** A shot with whose it is. */
export interface StudyShotFacts extends CountedShot {
  readonly playerId: string;
}

/** Who may be counted, and why the others are not. */
export interface StudyPlayers {
  readonly agreed: readonly PlayerShape[];
  /** Shots of those who agreed. */
  readonly shots: readonly StudyShotFacts[];
  readonly countWithoutConsent: number;
}

/** Players whose consent is to studies, with their shots; a shot outside any session is nobody's here. */
export function studyPlayers(
  players: readonly PlayerShape[],
  sessions: readonly Pick<SessionShape, "id" | "playerId">[],
  points: readonly PointShape[],
): StudyPlayers {
  const agreed = players.filter(({ consent }) => consent === "study");
  const ids = new Set(agreed.map(({ id }) => id));
  const ownerOf = new Map(sessions.map(({ id, playerId }) => [id, playerId]));
  const shots = points.flatMap((point) => {
    const playerId = ownerOf.get(point.sessionId ?? "");
    return playerId !== undefined && ids.has(playerId) ? [{ ...point, playerId }] : [];
  });
  return { agreed, shots, countWithoutConsent: players.length - agreed.length };
}

/** So many kept shots of a player in a condition let the model see how the player reacts. */
const LEAST_IN_CELL = 2;

interface Condition {
  readonly facts: SideFacts;
  /** Kept shots by player. */
  readonly counts: ReadonlyMap<string, number>;
}

function conditionsOf(shots: readonly StudyShotFacts[]): readonly Condition[] {
  const found = new Map<string, { facts: SideFacts; counts: Map<string, number> }>();
  for (const { intent, lieName, label, playerId } of shots) {
    if (intent === undefined || lieName === undefined || label !== "kept") continue;
    const key = JSON.stringify([intent, lieName]);
    const known = found.get(key) ?? { facts: { intent, lieName }, counts: new Map<string, number>() };
    known.counts.set(playerId, (known.counts.get(playerId) ?? 0) + 1);
    found.set(key, known);
  }
  return [...found.values()];
}

/**
 * The two conditions, intent on a lie, that most players have shots of, both of them: what to begin with. In the order they were first hit.
 * @returns undefined where no player has two conditions
 */
export function firstStudySides(shots: readonly StudyShotFacts[]): readonly [SideFacts, SideFacts] | undefined {
  const conditions = conditionsOf(shots);
  const pairs = conditions.flatMap((a, k) =>
    conditions.slice(k + 1).map((b) => {
      const least = [...a.counts].map(([player, count]) => Math.min(count, b.counts.get(player) ?? 0));
      return {
        sides: [a.facts, b.facts] as const,
        countPlayers: least.filter((count) => count >= LEAST_IN_CELL).length,
        countShots: least.reduce((sum, count) => sum + count, 0),
      };
    }),
  );
  const [best] = pairs.sort((x, y) => y.countPlayers - x.countPlayers || y.countShots - x.countShots);
  return best === undefined || best.countShots === 0 ? undefined : best.sides;
}

/** "Player D, Player E and Player F". Codes, never names. */
function codesText(codes: readonly string[]): string {
  return codes.length < 2 ? codes.join("") : `${codes.slice(0, -1).join(", ")} and ${codes.at(-1)}`;
}

const players = (count: number): string => `${count} ${count === 1 ? "player" : "players"}`;

/** Who is in, how many are left out, and why. */
export function whoText({
  codes,
  countAgreed,
  countWithoutConsent,
}: {
  readonly codes: readonly string[];
  readonly countAgreed: number;
  readonly countWithoutConsent: number;
}): string {
  const without = countAgreed - codes.length;
  const out = [
    ...(countWithoutConsent > 0 ? [`${countWithoutConsent} whose consent is not to studies`] : []),
    ...(without > 0 ? [`${without} without a kept shot of either condition`] : []),
  ];
  const leftOut = out.length === 0 ? "Nobody is left out." : `Left out: ${out.join(", ")}.`;
  return codes.length === 0
    ? `Nobody is in. ${leftOut}`
    : `In: ${codesText(codes)} (${players(codes.length)}). ${leftOut}`;
}
