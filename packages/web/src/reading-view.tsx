import type { Shot } from "@underfoot/mechanics";
import { type Reading, type ReadingOptions, rulerReading, type Sentence, type SoleView } from "@underfoot/report";
import { type ReactElement, useEffect, useId, useRef } from "react";
import type { Ruler } from "./ruler.ts";
import { SoleFigure } from "./sole-figure.tsx";

export interface ReadingViewProps {
  readonly shot: Shot;
  readonly reading: Reading;
  readonly options: ReadingOptions;
  readonly sole: SoleView;
  readonly ruler: Ruler;
}

/** The sentence first, then what happens at the ruler, then the rest of the reading; the sole beside it. */
export function ReadingView({ shot, reading, options, sole, ruler }: ReadingViewProps): ReactElement {
  return (
    <div className="with-sole">
      <div>
        {reading.headline === undefined ? null : (
          <h2>
            <SentenceWords sentence={reading.headline} />
          </h2>
        )}
        <AtRuler shot={shot} options={options} ruler={ruler} />
        <p>
          {reading.sentences.map((sentence) => (
            <SentenceWords key={sentence.text} sentence={sentence} />
          ))}
        </p>
      </div>
      <SoleFigure sole={sole} />
    </div>
  );
}

/** A sentence; pointing at it or moving the focus to it shows the rule that made it and what that rule looked at. */
export function SentenceWords({ sentence }: { readonly sentence: Sentence }): ReactElement {
  const id = useId();
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: the rule must be reachable without a pointer. */}
      <span className="sentence" tabIndex={0} aria-describedby={id}>
        {sentence.text}
        <span className="rule" role="tooltip" id={id}>
          <b>Rule {sentence.rule}.</b> {sentence.condition}
          {sentence.inputs.length === 0
            ? null
            : ` Looked at: ${sentence.inputs.map((input) => input.name).join(", ")}.`}
        </span>
      </span>{" "}
    </>
  );
}

interface AtRulerProps {
  readonly shot: Shot;
  readonly options: ReadingOptions;
  readonly ruler: Ruler;
}

/** The sentences of the ruler's place. Its room is reserved, so that nothing moves when their length changes. */
function AtRuler({ shot, options, ruler }: AtRulerProps): ReactElement {
  const words = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    const paint = (): void => {
      const text = rulerReading(shot, ruler.timeS(), options)
        .map((sentence) => sentence.text)
        .join(" ");
      if (words.current && words.current.textContent !== text) words.current.textContent = text;
    };
    paint();
    return ruler.follow(paint);
  }, [shot, options, ruler]);
  return <p className="at-ruler" ref={words} />;
}
