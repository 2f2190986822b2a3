import type { ReactElement } from "react";
import type { CallFault } from "../api/call.ts";

/** The frame says it for all questions of a screen, and they are asked again by themselves. */
const NO_ANSWER = "no-answer";

/** What is wrong and what to do, once; nothing where nothing is wrong. */
export function FaultNote({
  fault,
  onAgain,
}: {
  readonly fault: CallFault | undefined;
  readonly onAgain?: (() => void) | undefined;
}): ReactElement | null {
  if (fault === undefined || (fault.code === NO_ANSWER && onAgain !== undefined)) return null;
  return (
    <div className="fault" role="alert">
      <p>
        {fault.message} <span className="quiet">{fault.remedy}</span>
      </p>
      {onAgain === undefined ? null : (
        <button type="button" className="btn" onClick={onAgain}>
          Try again
        </button>
      )}
    </div>
  );
}
