import type { ReactElement } from "react";
import type { LongAnswer } from "../api/use-long-answer.ts";
import { FaultNote } from "./fault-note.tsx";

export interface LongWaitProps {
  readonly answered: Omit<LongAnswer<unknown>, "answer" | "put">;
  /** What is being done: "Computing the shots." */
  readonly words: string;
  /** On the button that begins again: "Compute". */
  readonly deed: string;
}

/** Words while it takes longer than a moment, with the way out; then what the server refused. */
export function LongWait({ answered, words, deed }: LongWaitProps): ReactElement {
  const { isLong, isStopped, isBusy, fault, stop, again } = answered;
  return (
    <>
      <div role="status" className="waiting">
        {isLong ? (
          <p className="deeds">
            {words}
            <button type="button" className="btn" onClick={stop}>
              Cancel
            </button>
          </p>
        ) : null}
        {isStopped ? (
          <p className="deeds">
            Stopped.
            <button type="button" className="btn" onClick={again}>
              {deed}
            </button>
          </p>
        ) : null}
      </div>
      <FaultNote fault={isBusy || isStopped ? undefined : fault} onAgain={again} />
    </>
  );
}
