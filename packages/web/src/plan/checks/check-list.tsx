import type { ReactElement } from "react";
import { CheckForm, type CheckFormFacts } from "./check-form.tsx";
import { CheckFound } from "./check-found.tsx";
import type { CheckStanding } from "./check-standing.ts";
import { CHECK_WORDS } from "./check-words.ts";
import { Lozenge } from "./lozenge.tsx";

export interface CheckListProps {
  readonly sessionId: string;
  readonly standings: readonly CheckStanding[];
  readonly facts: CheckFormFacts;
  /** Asks for the checks anew. */
  readonly onMade: () => void;
}

/** The checks before the first shot, one after the other; none is skipped without a word. */
export function CheckList({ sessionId, standings, facts, onMade }: CheckListProps): ReactElement {
  return (
    <>
      <p className="small">Until plates are connected live, a check is made from a recording you bring in.</p>
      <ol className="check-list">
        {standings.map((standing) => (
          <li key={standing.kind} data-check={standing.kind} data-state={standing.state}>
            <CheckHead standing={standing} />
            <p className="small">{CHECK_WORDS[standing.kind].todo}</p>
            {standing.latest === undefined ? null : (
              <CheckFound check={standing.latest} standing={standing} onMade={onMade} />
            )}
            <CheckForm
              sessionId={sessionId}
              kind={standing.kind}
              state={standing.state}
              facts={facts}
              onMade={onMade}
            />
          </li>
        ))}
      </ol>
    </>
  );
}

const STATE_WORDS: Readonly<Record<CheckStanding["state"], string>> = {
  "not-made": "not made yet",
  passed: "passed",
  failed: "failed",
  "went-on": "failed, gone on anyway",
};

function CheckHead({ standing: { kind, state } }: { readonly standing: CheckStanding }): ReactElement {
  return (
    <h3 className="check-head">
      <Lozenge state={state === "not-made" ? "not-known" : state === "passed" ? "within" : "beyond"} />
      {CHECK_WORDS[kind].title}
      <span className="check-state">{STATE_WORDS[state]}</span>
    </h3>
  );
}
