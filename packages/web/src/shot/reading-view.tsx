import type { Shot } from "@underfoot/mechanics";
import { type Reading, type ReadingOptions, rulerReading, type Sentence, sentenceInputText } from "@underfoot/report";
import { type ReactElement, useEffect, useId, useMemo, useRef } from "react";
import type { Ruler } from "./ruler.ts";

export interface ReadingViewProps {
  readonly shot: Shot;
  readonly reading: Reading;
  readonly options: ReadingOptions;
  readonly ruler: Ruler;
}

/** The sentence first, then what happens at the ruler, then the rest of the reading. */
export function ReadingView({ shot, reading, options, ruler }: ReadingViewProps): ReactElement {
  return (
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
  );
}

/** What a focused sentence shows can be put away without a pointer (WCAG 2.2, 1.4.13). */
export function useEscapeFromSentence(): void {
  useEffect(() => {
    const onKey = ({ key, target }: KeyboardEvent): void => {
      if (key === "Escape" && target instanceof HTMLElement && target.matches(".sentence")) target.blur();
    };
    document.addEventListener("keydown", onKey);
    return () => document.removeEventListener("keydown", onKey);
  }, []);
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
          {sentence.inputs.length === 0 ? null : ` Looked at: ${sentence.inputs.map(sentenceInputText).join(", ")}.`}
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

/** Places along the sheet at which the length of the ruler's sentences is looked at. */
const TRIED_PLACES = 40;

/**
 * The sentences of the ruler's place. The longest of them, unseen, reserves the room, so that nothing below moves
 * when their length changes.
 */
function AtRuler({ shot, options, ruler }: AtRulerProps): ReactElement {
  const words = useRef<HTMLParagraphElement>(null);
  const longest = useMemo(() => longestText(shot, options), [shot, options]);
  useEffect(() => {
    const paint = (): void => {
      const text = rulerText(shot, ruler.timeS(), options);
      if (words.current && words.current.textContent !== text) words.current.textContent = text;
    };
    paint();
    return ruler.follow(paint);
  }, [shot, options, ruler]);
  return (
    <div className="at-ruler">
      <p className="longest" aria-hidden="true">
        {longest}
      </p>
      <p ref={words} />
    </div>
  );
}

function rulerText(shot: Shot, timeS: number, options: ReadingOptions): string {
  return rulerReading(shot, timeS, options)
    .map((sentence) => sentence.text)
    .join(" ");
}

function longestText(shot: Shot, options: ReadingOptions): string {
  const times = shot.events.map((event) => event.timeS);
  const [first, last] = [Math.min(0, ...times), Math.max(...times, shot.sampleCount / shot.rateHz)];
  const texts = Array.from({ length: TRIED_PLACES }, (_, k) =>
    rulerText(shot, first + ((last - first) * k) / (TRIED_PLACES - 1), options),
  );
  return [...texts, ...times.map((timeS) => rulerText(shot, timeS, options))].reduce(
    (longest, text) => (text.length > longest.length ? text : longest),
    "",
  );
}
