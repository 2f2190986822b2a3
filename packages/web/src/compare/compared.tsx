import { columnParts } from "@underfoot/compare";
import type { PlayerShape } from "@underfoot/protocol";
import { dayText, type Sentence } from "@underfoot/report";
import { type ReactElement, useMemo, useState } from "react";
import { FaultNote } from "../frame/fault-note.tsx";
import { useKeys } from "../frame/use-keys.ts";
import { POSSESSIVES } from "../player/pronoun-words.ts";
import { SentenceWords, useEscapeFromSentence } from "../shot/reading-view.tsx";
import { ruler as newRuler, type Ruler } from "../shot/ruler.ts";
import { AllNumbers } from "./all-numbers.tsx";
import { type CountedShot, daysOf, shotsOfSide } from "./choose/shot-counts.ts";
import { shotWords } from "./choose/side-choice.tsx";
import type { SideQuery } from "./choose/side-query.ts";
import { daysText, sideWords } from "./choose/side-words.ts";
import { askedWith, type CompareAsk, type kindOfAsk, swapped } from "./compare-address.ts";
import { COMPARE_KEYS, type CompareDeed } from "./compare-keys.ts";
import { ComparisonHead, type SideHead } from "./comparison-head.tsx";
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
  readonly shots: readonly CountedShot[];
  readonly onAsk: (ask: CompareAsk) => void;
}

/** Two sides, what is said of them, and the pictures that show it. */
export function Compared({ ask, kind, player, shots, onAsk }: ComparedProps): ReactElement {
  const state = useComparison(ask);
  const { compared } = state;
  const [ruler] = useState(() => newRuler((draw) => requestAnimationFrame(draw)));
  const [isPlanShown, setIsPlanShown] = useState(false);
  const drawn = useMemo(() => compared && drawnComparison(compared), [compared]);
  const words = useMemo(() => compared && comparisonWords(compared, player.pronoun), [compared, player.pronoun]);
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
        {...headsOf(ask, shots)}
        {...{ axes: ask.axes, canSwap, isPlanShown }}
        onSwap={deeds.swap}
        onAxes={deeds.axes}
        onPlan={deeds.plan}
      />
      <Waiting state={state} />
      {compared === undefined || drawn === undefined || words === undefined ? null : (
        <Shown {...{ ask, compared, drawn, words, ruler, player }} isPlanShown={isPlanShown} />
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
}

function Shown({ ask, compared, drawn, words, ruler, player, isPlanShown }: ShownProps): ReactElement {
  const possessive = POSSESSIVES[player.pronoun];
  const { before, headline, lines, looks, notices, wordsOf } = words;
  const sentence = headline?.text ?? "";
  return (
    <>
      {before.length === 0 ? null : <Sentences sentences={before} className="before" />}
      <div className="say">
        <h1>{headline === undefined ? null : <SentenceWords sentence={headline} />}</h1>
        <Sentences sentences={lines} />
      </div>
      {isPlanShown ? <PathsFromAbove ask={ask} player={player} /> : null}
      <div className="pairs-and-measures">
        {drawn.curves.length === 0 ? (
          <p className="caption">
            No curve can be laid over another here: a shot without impact, or without both feet, has none.
          </p>
        ) : (
          <PairsPicture {...drawn} ruler={ruler} sentence={sentence} caption={pairCaption(compared, ask, possessive)} />
        )}
        <div>
          <MeasureRows
            rows={drawn.rows}
            wordsOf={wordsOf}
            title={compared.kind === "conditions" ? `By measure, in ${possessive} own scatter` : "By measure"}
            caption={stepCaption(compared, possessive)}
            countLooks={drawn.rows.length}
            possessive={possessive}
          />
          <Sentences sentences={looks} />
          <Sentences sentences={notices} className="notices" />
        </div>
      </div>
      <AllNumbers drawn={drawn} wordsOf={wordsOf} axesText={`${axesOf(compared, ask)} axes`} />
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

/** The axes of what is shown; while others are on their way, still those. */
function axesOf(compared: AnyComparison, { axes }: CompareAsk): string {
  const named = compared.measures.flatMap(({ column }) => columnParts(column).axes ?? []);
  return named[0] ?? axes;
}

/** How the pairs are to be read. */
function pairCaption(compared: AnyComparison, ask: CompareAsk, possessive: string): string {
  const time =
    ask.registration === "events"
      ? "Time falls, laid over each other by events: timing is taken out."
      : "Time falls, from impact.";
  const axes = axesOf(compared, ask);
  switch (compared.kind) {
    case "conditions": {
      const isFew = compared.curves?.status === "too-few";
      const gravity =
        compared.design.isBetweenLies && axes === "turf"
          ? `gravity and ${possessive} scatter allow it`
          : `${possessive} scatter allows it`;
      const band = isFew ? "Too few shots for a band: every shot is a thin line." : `Grey: ${gravity}. Solid: beyond.`;
      const slope = compared.design.isBetweenLies && axes === "level" ? " On level axes there is no slope share." : "";
      return `${time} Each pair: A and B, then B minus A. ${band}${slope}`;
    }
    case "shot-usual":
      return `${time} A is the usual curve, B the shot. Grey: where a whole curve of this condition is expected. Solid: outside.`;
    case "shot-pair":
      return `${time} Each pair: A and B, then B minus A. One shot each: no band.`;
  }
}

/** What one step of the list is. */
function stepCaption(compared: AnyComparison, possessive: string): string {
  switch (compared.kind) {
    case "conditions": {
      const [a, b] = [compared.a.shotIds.length, compared.b.shotIds.length];
      const counts = a === b ? `${a} shots` : `${a} and ${b} shots`;
      return `One step is ${possessive} minimal detectable change for means of ${counts}.`;
    }
    case "shot-usual":
      return `One step is half of ${possessive} usual band of ${compared.usual.shotIds.length} shots.`;
    case "shot-pair":
      return "One step is what two such shots usually differ by.";
  }
}

function headsOf(
  ask: CompareAsk,
  shots: readonly CountedShot[],
): { readonly a: SideHead; readonly b: SideHead; readonly both: string } {
  const { a, b } = ask;
  const dayOf = (sessionId: string): string | undefined => shots.find((shot) => shot.sessionId === sessionId)?.day;
  if (a?.kind === "shots" && b?.kind === "shots") {
    const words = sideWords(a.asked, b.asked, dayOf);
    const detail = (facts: typeof a.asked): string => countsText(shotsOfSide(shots, facts));
    return {
      a: { name: words.a, detail: detail(a.asked) },
      b: { name: words.b, detail: detail(b.asked) },
      both: words.both,
    };
  }
  return { a: shotHead(a, shots), b: shotHead(b, shots), both: "" };
}

/** "9 kept shots, 25 Nov 2025; 2 mishits". */
function countsText(shots: readonly CountedShot[]): string {
  const count = (label: CountedShot["label"]): number => shots.filter((shot) => shot.label === label).length;
  const [kept, mishits] = [count("kept"), count("mishit")];
  const days = daysText(daysOf(shots));
  return [
    `${kept} kept ${kept === 1 ? "shot" : "shots"}${days === "" ? "" : `, ${days}`}`,
    ...(mishits === 0 ? [] : [`${mishits} ${mishits === 1 ? "mishit" : "mishits"}`]),
  ].join("; ");
}

function shotHead(side: SideQuery | undefined, shots: readonly CountedShot[]): SideHead {
  if (side === undefined || side.kind === "shots") return { name: "", detail: "" };
  const shot = shots.find(({ shotId }) => shotId === side.shotId);
  if (shot === undefined) return { name: side.kind === "usual" ? "usual" : "one shot", detail: "" };
  const { intent, lieName, club } = shot;
  const condition = {
    ...(intent === undefined ? {} : { intent }),
    ...(lieName === undefined ? {} : { lieName }),
    ...(club === undefined ? {} : { club }),
  };
  if (side.kind === "shot") return { name: `shot ${shotWords(shot)}`, detail: dayText(shot.day) };
  const others = shotsOfSide(shots, condition).filter(({ shotId }) => shotId !== shot.shotId);
  return {
    name: `usual ${[intent, lieName].filter((word) => word !== undefined).join(", ")}`,
    detail: countsText(others),
  };
}
