import { usualReading } from "@underfoot/report";
import { type ReactElement, useMemo } from "react";
import { SentenceWords } from "../reading-view.tsx";
import type { UsualState } from "./use-usual.ts";

/** What of the shot is usual for this player: the first measure, how many are outside, and which. */
export function UsualWords({ usual }: { readonly usual: UsualState | undefined }): ReactElement | null {
  if (usual === undefined) return null;
  return (
    <div className="usual-words">
      {usual.kind === "found" ? <FoundWords found={usual.found} /> : null}
      {usual.kind === "asking" ? <p className="quiet">Asking what is usual here.</p> : null}
      {usual.kind === "no-condition" ? (
        <p className="quiet">What is usual cannot be said: the shot has no intent, lie or session.</p>
      ) : null}
      {usual.kind === "fault" ? (
        <p className="quiet">
          What is usual could not be asked. {usual.fault.message}{" "}
          <button type="button" className="btn" onClick={usual.again}>
            Try again
          </button>
        </p>
      ) : null}
    </div>
  );
}

function FoundWords({ found }: { readonly found: Extract<UsualState, { kind: "found" }>["found"] }): ReactElement {
  const reading = useMemo(() => usualReading(found), [found]);
  const first = reading.rows[0]?.sentence;
  const all = [first, reading.headline, ...reading.lines].filter((sentence) => sentence !== undefined);
  const sentences = [...new Map(all.map((sentence) => [sentence.text, sentence])).values()];
  return (
    <p>
      {sentences.map((sentence) => (
        <SentenceWords key={sentence.text} sentence={sentence} />
      ))}
    </p>
  );
}
