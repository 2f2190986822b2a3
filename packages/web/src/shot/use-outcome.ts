import type { ShotOutcome } from "@underfoot/pipeline";
import { useEffect, useState } from "react";
import type { OutcomeState, Outcomes } from "./outcomes.ts";
import type { Entry, Source } from "./session.ts";

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
  readonly sourceId: string;
  readonly entry: Entry;
  readonly outcome: ShotOutcome;
}

/** The answer about one recording with what a person entered; undefined source: nothing is asked. */
export function useOutcome(
  outcomes: Outcomes,
  source: Source | undefined,
  entry: Entry,
  attempt: number,
): ShownOutcome {
  const [state, setState] = useState<OutcomeState>({ stage: "reading" });
  const [answered, setAnswered] = useState<Answered>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new attempt asks the same question again.
  useEffect(() => {
    if (source === undefined) return undefined;
    return outcomes.of(source, entry, (next) => {
      setState(next);
      if (next.stage === "done") setAnswered({ sourceId: source.id, entry, outcome: next.outcome });
    });
  }, [outcomes, source, entry, attempt]);
  const isOfSource = answered !== undefined && answered.sourceId === source?.id;
  const isCurrent = isOfSource && answered.entry === entry;
  return {
    state,
    outcome: isOfSource ? answered.outcome : undefined,
    entry: isOfSource ? answered.entry : undefined,
    isBusy: source !== undefined && !isCurrent && !ENDED.includes(state.stage),
  };
}
