import type { PlayerShape } from "@underfoot/protocol";
import type { Sentence } from "@underfoot/report";
import { type ReactElement, type ReactNode, useMemo, useState } from "react";
import { FaultNote } from "../frame/fault-note.tsx";
import { useKeys } from "../frame/use-keys.ts";
import { POSSESSIVES } from "../player/pronoun-words.ts";
import { SentenceWords, useEscapeFromSentence } from "../shot/reading-view.tsx";
import { ruler as newRuler, type Ruler } from "../shot/ruler.ts";
import { AllNumbers } from "./all-numbers.tsx";
import { axesOf, pairCaption, stepCaption } from "./captions.ts";
import type { CountedShot } from "./choose/shot-counts.ts";
import { sideHeads } from "./choose/side-heads.ts";
import { askedWith, type CompareAsk, type kindOfAsk, swapped } from "./compare-address.ts";
import { COMPARE_KEYS, type CompareDeed } from "./compare-keys.ts";
import { ComparisonHead } from "./comparison-head.tsx";
import { type ComparisonWords, comparisonWords } from "./comparison-words.ts";
import { type AnyComparison, type DrawnComparison, drawnComparison } from "./drawn-comparison.ts";
import { MeasureRows } from "./measures/measure-rows.tsx";
import { rulerMs, rulerTimeS } from "./pairs/pair-ruler.tsx";
import { PairsPicture } from "./pairs/pairs-picture.tsx";
import { PathsFromAbove } from "./paths-from-above.tsx";
import { type ComparisonState, useComparison } from "./use-comparison.ts";

export interface ComparedProps {
  readonly ask: CompareAsk;
  readonly kind: NonNullable<ReturnType<typeof kindOfAsk>>;
  readonly player: PlayerShape;
  /** Of the player; undefined while they are on their way. */
  readonly shots: readonly CountedShot[] | undefined;
  readonly onAsk: (ask: CompareAsk) => void;
  readonly choice: ReactNode;
}

/** Two sides, what is said of them, and the pictures that show it. */
export function Compared({ ask, kind, player, shots, onAsk, choice }: ComparedProps): ReactElement {
  const state = useComparison(ask, shots);
  const { compared } = state;
  const [ruler] = useState(() => newRuler((draw) => requestAnimationFrame(draw)));
  const [isPlanShown, setIsPlanShown] = useState(false);
  const drawn = useMemo(() => compared && drawnComparison(compared), [compared]);
  const heads = sideHeads(ask, shots ?? []);
  const words = useMemo(
    () => compared && comparisonWords(compared, player.pronoun, heads.condition),
    [compared, player.pronoun, heads.condition],
  );
  const canSwap = kind !== "shot-usual";
  const deeds = {
    swap: () => canSwap && onAsk(swapped(ask)),
    axes: () => onAsk(askedWith(ask, { axes: ask.axes === "turf" ? "level" : "turf" })),
    plan: () => setIsPlanShown(!isPlanShown),
    ...rulerDeeds(ruler, drawn),
  } satisfies Record<CompareDeed, () => void>;
  useKeys(COMPARE_KEYS, deeds);
  useEscapeFromSentence();
  return (
    <div className="compared" aria-busy={state.isBusy}>
      <ComparisonHead
        {...heads}
        {...{ axes: ask.axes, canSwap, isPlanShown, choice }}
        onSwap={deeds.swap}
        onAxes={deeds.axes}
        onPlan={deeds.plan}
      />
      <Waiting state={state} />
      {compared === undefined || drawn === undefined || words === undefined ? null : (
        <Shown {...{ ask, compared, drawn, words, ruler, player, isPlanShown }} shots={shots ?? []} />
      )}
    </div>
  );
}

/** Steps of the ruler by points of the grid and to the neighbouring events. */
function rulerDeeds(ruler: Ruler, drawn: DrawnComparison | undefined) {
  const step = (points: number) => (): void => ruler.move(ruler.timeS() + points * ruler.limits().frameS);
  const times = (drawn?.events ?? []).map(({ ms }) => ms).sort((one, other) => one - other);
  const toEvent = (find: (now: number, near: number) => number | undefined) => (): void => {
    if (drawn === undefined) return;
    const ms = find(rulerMs(ruler, drawn.grid), drawn.grid.stepMs);
    if (ms !== undefined) ruler.move(rulerTimeS(ms, drawn.grid));
  };
  return {
    ...{ earlier: step(-1), later: step(1), tenEarlier: step(-10), tenLater: step(10) },
    previousEvent: toEvent((now, near) => times.findLast((ms) => ms < now - near)),
    nextEvent: toEvent((now, near) => times.find((ms) => ms > now + near)),
  };
}

/** Words while it takes longer than a moment, with the way out; what the server refused. */
function Waiting({ state }: { readonly state: ComparisonState }): ReactElement {
  const { isBusy, isLong, isStopped, fault, stop, again } = state;
  return (
    <>
      <div role="status" className="waiting">
        {isBusy && isLong ? (
          <p className="deeds">
            Computing the shots and comparing them.
            <button type="button" className="btn" onClick={stop}>
              Cancel
            </button>
          </p>
        ) : null}
        {isStopped ? (
          <p className="deeds">
            Stopped.
            <button type="button" className="btn" onClick={again}>
              Compare
            </button>
          </p>
        ) : null}
      </div>
      <FaultNote fault={isBusy ? undefined : fault} onAgain={again} />
    </>
  );
}

interface ShownProps {
  readonly ask: CompareAsk;
  readonly compared: AnyComparison;
  readonly drawn: DrawnComparison;
  readonly words: ComparisonWords;
  readonly ruler: Ruler;
  readonly player: PlayerShape;
  readonly isPlanShown: boolean;
  readonly shots: readonly CountedShot[];
}

function Shown({ ask, compared, drawn, words, ruler, player, isPlanShown, shots }: ShownProps): ReactElement {
  const possessive = POSSESSIVES[player.pronoun];
  const { before, headline, lines, curves, looks, notices, rows } = words;
  return (
    <>
      {before.length === 0 ? null : <Sentences sentences={before} className="before" />}
      <div className="say">
        <h1>
          <SentenceWords sentence={headline} />
        </h1>
        <Sentences sentences={lines} />
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
