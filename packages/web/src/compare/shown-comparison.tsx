import type { PlayerShape } from "@underfoot/protocol";
import type { Sentence } from "@underfoot/report";
import type { ReactElement } from "react";
import { POSSESSIVES } from "../player/pronoun-words.ts";
import { SentenceWords } from "../shot/reading-view.tsx";
import type { Ruler } from "../shot/ruler.ts";
import { AllNumbers } from "./all-numbers.tsx";
import { axesOf, pairCaption, stepCaption } from "./captions.ts";
import type { CountedShot } from "./choose/shot-counts.ts";
import type { CompareAsk } from "./compare-address.ts";
import type { ComparisonWords } from "./comparison-words.ts";
import type { AnyComparison, DrawnComparison } from "./drawn-comparison.ts";
import { MeasureRows } from "./measures/measure-rows.tsx";
import { PairsPicture } from "./pairs/pairs-picture.tsx";
import { PathsFromAbove } from "./paths-from-above.tsx";

export interface ShownComparisonProps {
  readonly ask: CompareAsk;
  readonly compared: AnyComparison;
  readonly drawn: DrawnComparison;
  readonly words: ComparisonWords;
  readonly ruler: Ruler;
  readonly player: PlayerShape;
  readonly isPlanShown: boolean;
  readonly shots: readonly CountedShot[];
}

/** The sentence first, then the pictures that show it, then all numbers. */
export function ShownComparison({
  ask,
  compared,
  drawn,
  words,
  ruler,
  player,
  isPlanShown,
  shots,
}: ShownComparisonProps): ReactElement {
  const possessive = POSSESSIVES[player.pronoun];
  const { before, headline, lines, curves, looks, notices, rows } = words;
  if (isEmpty(compared))
    return (
      <>
        <h1>
          <SentenceWords sentence={headline} />
        </h1>
        <div className="notices">
          <Sentences sentences={notices} />
        </div>
      </>
    );
  return (
    <>
      {before.length === 0 ? null : <Sentences sentences={before} className="before" />}
      <div className="say">
        <h1>
          <SentenceWords sentence={headline} />
        </h1>
        <Lines lines={lines} />
      </div>
      {isPlanShown ? <PathsFromAbove ask={ask} player={player} shots={shots} /> : null}
      <div className="pairs-and-measures">
        {drawn.curves.length === 0 ? (
          <p className="caption pairs">
            No curve can be laid over another here: a shot without impact, or without both feet, has none.
          </p>
        ) : (
          <PairsPicture
            {...drawn}
            ruler={ruler}
            sentence={headline.text}
            caption={pairCaption(compared, ask, possessive)}
          />
        )}
        <div className="measures-beside">
          <MeasureRows
            rows={drawn.rows}
            words={rows}
            title={compared.kind === "conditions" ? `By measure, in ${possessive} own scatter` : "By measure"}
            caption={stepCaption(compared, possessive)}
            countLooks={drawn.rows.length}
            possessive={possessive}
          />
          <Sentences sentences={looks} />
        </div>
        <div className="notices">
          <Sentences sentences={curves} />
          <Sentences sentences={notices} />
        </div>
      </div>
      <AllNumbers drawn={drawn} words={rows} axesText={`${axesOf(compared, ask)} axes`} />
    </>
  );
}

/** No kept shot on a side: nothing can be drawn, only said. */
function isEmpty(compared: AnyComparison): boolean {
  return compared.kind === "conditions" && [compared.a, compared.b].some(({ shotIds }) => shotIds.length === 0);
}

/** So many are read before the pictures; every measure has its own sentence in the list. */
const MOST_LINES = 4;

function Lines({ lines }: { readonly lines: readonly Sentence[] }): ReactElement {
  const others = lines.slice(MOST_LINES);
  return (
    <div>
      <Sentences sentences={lines.slice(0, MOST_LINES)} />
      {others.length === 0 ? null : (
        <details className="more-lines">
          <summary>
            {others.length} more {others.length === 1 ? "sentence" : "sentences"}
          </summary>
          <Sentences sentences={others} />
        </details>
      )}
    </div>
  );
}

function Sentences({
  sentences,
  className,
}: {
  readonly sentences: readonly Sentence[];
  readonly className?: string;
}): ReactElement | null {
  if (sentences.length === 0) return null;
  return (
    <p className={className}>
      {sentences.map((sentence) => (
        <SentenceWords key={sentence.text} sentence={sentence} />
      ))}
    </p>
  );
}
