import type { ShotOutcome } from "@underfoot/pipeline";
import { useEffect, useState } from "react";
import type { Asked, OutcomeState, Outcomes } from "./outcomes.ts";
import type { Entry } from "./source.ts";

/** A shot with everything computed. */
export type GoodOutcome = Extract<ShotOutcome, { status: "ok" }>;

export interface ShownOutcome {
  readonly state: OutcomeState;
  /** The last answer about this recording: stays in view while the next one is computed. */
  readonly outcome: ShotOutcome | undefined;
  /** The entry that answer was made with. */
  readonly entry: Entry | undefined;
  /** The answer in view is not yet the one to what is open and entered. */
  readonly isBusy: boolean;
}

const ENDED: readonly OutcomeState["stage"][] = ["stopped", "unread", "broken"];

interface Answered {
  readonly asked: Asked;
  readonly outcome: ShotOutcome;
}

/** The answer to what is asked about one recording, the question the same object while it stays the same; undefined: nothing is asked. */
export function useOutcome(outcomes: Outcomes, asked: Asked | undefined, attempt: number): ShownOutcome {
  const [state, setState] = useState<OutcomeState>({ stage: "reading" });
  const [answered, setAnswered] = useState<Answered>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new attempt asks the same question again.
  useEffect(() => {
    if (asked === undefined) return undefined;
    return outcomes.of(asked, (next) => {
      setState(next);
      if (next.stage === "done") setAnswered({ asked, outcome: next.outcome });
    });
  }, [outcomes, asked, attempt]);
  const isOfSource = answered !== undefined && answered.asked.source.id === asked?.source.id;
  return {
    state,
    outcome: isOfSource ? answered.outcome : undefined,
    entry: isOfSource ? answered.asked.entry : undefined,
    isBusy: asked !== undefined && answered?.asked !== asked && !ENDED.includes(state.stage),
  };
}
