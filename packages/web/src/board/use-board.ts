import { type Board, fromJson } from "@underfoot/compare";
import type { SessionLineShape, SessionShape } from "@underfoot/protocol";
import { useMemo } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { type LongAnswer, useLongAnswer } from "../api/use-long-answer.ts";
import { type BoardAsk, curveOfMeasure } from "./board-address.ts";

export interface BoardState extends Omit<LongAnswer<unknown>, "answer" | "put"> {
  readonly board: Board | undefined;
}

const KINDS = ["shot", "result", "session", "setting"] as const;
const MOST_SESSIONS = 200;

function questionOf(ask: BoardAsk, playerId: string) {
  const { entry, axes, sessionId, looked } = ask;
  const curve = curveOfMeasure(ask);
  return {
    of: `playerId=${playerId}${sessionId === undefined ? "" : `;sessionId=${sessionId}`}`,
    measure: entry.id,
    ...(axes === undefined ? {} : { axes }),
    ...(curve === undefined ? {} : { curve }),
    times: looked.length,
  };
}

/** The board that the address asks for, computed by the server; can be stopped. */
export function useBoard(ask: BoardAsk, playerId: string | undefined): BoardState {
  const query = playerId === undefined ? undefined : questionOf(ask, playerId);
  const { answer, put: _, ...state } = useLongAnswer("get /api/board", query && { query }, KINDS);
  const board = useMemo(() => (answer === undefined ? undefined : fromJson<Board>(answer)), [answer]);
  return { ...state, board };
}

/** A player's sessions, the latest first, and the plan of the one that is shown, or the only one there is. */
export function useSessions(
  playerId: string | undefined,
  sessionId: string | undefined,
): {
  readonly sessions: readonly SessionLineShape[];
  readonly asked: NonNullable<SessionLineShape["asked"]>;
  readonly plan: SessionShape["plan"];
} {
  const lines = useAnswer(
    "get /api/sessions",
    playerId === undefined ? undefined : { query: { playerId, limit: MOST_SESSIONS } },
    ["session", "shot"],
  );
  const sessions = (lines.answer?.rows ?? []).filter((session) => session.playerId === playerId);
  const shown = sessionId ?? (sessions.length === 1 ? sessions[0]?.id : undefined);
  const session = useAnswer("get /api/sessions/{id}", shown === undefined ? undefined : { params: { id: shown } }, [
    "session",
  ]);
  const asked = sessions.find(({ id }) => id === shown) ?? sessions.find((one) => (one.asked?.length ?? 0) > 0);
  return { sessions, asked: asked?.asked ?? [], plan: session.answer?.id === shown ? session.answer?.plan : undefined };
}
