import type { PlayerShape } from "@underfoot/protocol";
import { useAnswer } from "../../api/use-answer.ts";
import type { CompareAsk } from "../compare-address.ts";
import type { CountedShot } from "./shot-counts.ts";

/** Any measure lists every shot with a result; this one every shot on two plates has. */
const LISTED_BY = "lead.share.at.impact";
const LATEST_SESSIONS = 200;
const KINDS = ["shot", "result", "session", "player"] as const;

const idsOf = ({ a, b }: Pick<CompareAsk, "a" | "b">) => ({
  playerId: [a, b].flatMap((side) =>
    side?.kind === "shots" && side.asked.playerId !== undefined ? [side.asked.playerId] : [],
  )[0],
  shotId: [a, b].flatMap((side) => (side === undefined || side.kind === "shots" ? [] : [side.shotId]))[0],
});

/**
 * Whose shots are compared, and all of them: the player that the sides name, the one who hit the shot, else the one with the most shots in the
 * latest sessions.
 * @param wanted  of the address, where the sides name nobody
 */
export function useChosenPlayer(ask: Pick<CompareAsk, "a" | "b">, wanted: string | undefined) {
  const named = idsOf(ask);
  const players = useAnswer("get /api/players", {}, KINDS);
  const isAsking = named.playerId === undefined && wanted === undefined;
  const shot = useAnswer(
    "get /api/shots/{id}",
    isAsking && named.shotId !== undefined ? { params: { id: named.shotId } } : undefined,
    KINDS,
  );
  const sessions = useAnswer(
    "get /api/sessions",
    isAsking && named.shotId === undefined ? { query: { limit: LATEST_SESSIONS } } : undefined,
    KINDS,
  );
  const counts = new Map<string, number>();
  for (const { playerId, shotCount } of sessions.answer?.rows ?? [])
    counts.set(playerId, (counts.get(playerId) ?? 0) + shotCount);
  const [most] = [...counts].sort((one, other) => other[1] - one[1]);
  const playerId = named.playerId ?? wanted ?? (named.shotId === undefined ? most?.[0] : shot.answer?.playerId);
  const player: PlayerShape | undefined = players.answer?.find(({ id }) => id === playerId);
  const points = useAnswer(
    "get /api/measures",
    playerId === undefined ? undefined : { query: { measure: LISTED_BY, playerId } },
    KINDS,
  );
  const shots: readonly CountedShot[] | undefined = points.answer;
  const all = [players, shot, sessions, points];
  return {
    players: players.answer,
    player,
    shots,
    fault: all.find(({ fault }) => fault !== undefined)?.fault,
    isBusy: all.some(({ isBusy }) => isBusy),
    again: () => {
      for (const { again } of all) again();
    },
  };
}
