import { fromJson, type Outcome, type OutcomeMeasure } from "@underfoot/compare";
import { catalogueEntry } from "@underfoot/mechanics";
import { outcomeReading, type Sentence, titleInside, unitText } from "@underfoot/report";
import { type ReactElement, useEffect, useMemo } from "react";
import { useLongAnswer } from "../api/use-long-answer.ts";
import { type SideQuery, sideText } from "../compare/choose/side-query.ts";
import { useChosenPlayer } from "../compare/choose/use-chosen-player.ts";
import { CopyButton } from "../frame/copy-button.tsx";
import { FaultNote } from "../frame/fault-note.tsx";
import { LongWait } from "../frame/long-wait.tsx";
import { goTo, type Place, placeHref } from "../frame/place.ts";
import { useMedia } from "../frame/use-media.ts";
import { SentenceWords, useEscapeFromSentence } from "../shot/reading-view.tsx";
import { LinkScale } from "./link-scale.tsx";
import {
  FIRST_MEASURE,
  OUTCOMES,
  type OutcomeAsk,
  outcomeAskFrom,
  outcomeQuery,
  withShots,
} from "./outcome-address.ts";
import { OutcomeChoice } from "./outcome-choice.tsx";
import { outcomeCsv } from "./outcome-csv.ts";
import { neededText, outcomeDots } from "./outcome-dots.ts";
import { OutcomePicture, resultText } from "./outcome-picture.tsx";
import "./outcome.css";

export interface OutcomePageProps {
  readonly place: Place;
}

const KINDS = ["shot", "result", "session", "layout", "player"] as const;
const QUESTION = "What went with the result?";
const NO_CAUSE = "That does not show that one causes the other.";
const capital = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;

/** Does a measure go with the result, for this player? */
export function OutcomePage({ place }: OutcomePageProps): ReactElement {
  const ask = useMemo(() => outcomeAskFrom(place.query), [place.query]);
  const chosen = useChosenPlayer({ a: ask.of, b: undefined }, place.query["playerId"]);
  const { players, player, shots } = chosen;
  const isBare = place.query["of"] === undefined;
  const isWide = useMedia("(min-width: 701px)");
  const goWith = (next: OutcomeAsk): void =>
    goTo(placeHref("outcome", undefined, { ...outcomeQuery(next), playerId: place.query["playerId"] }), "replace");
  useEscapeFromSentence();
  useEffect(() => {
    document.title = "Outcome, Underfoot";
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the address says when there is something to begin with.
  useEffect(() => {
    if (isBare && player !== undefined) goWith(withShots(ask, { kind: "shots", asked: { playerId: player.id } }));
  }, [isBare, player]);
  if (chosen.fault !== undefined) return <FaultNote fault={chosen.fault} onAgain={chosen.again} />;
  if (players === undefined) return <p className="state">Asking for the players.</p>;
  if (players.length === 0) return <NoPlayers />;
  const hasMeasure = catalogueEntry(ask.measure) !== undefined;
  const choice = (
    <details className="outcome-choose" open={isWide}>
      <summary>Choose shots, result and measure</summary>
      <OutcomeChoice
        {...{ ask, players, player }}
        shots={shots ?? []}
        onPlayer={(playerId) => goWith(withShots(ask, { kind: "shots", asked: { playerId } }))}
        onAsk={goWith}
      />
    </details>
  );
  if (ask.of !== undefined && hasMeasure)
    return <Asked ask={ask} of={ask.of} code={player?.code ?? ""} choice={choice} />;
  return (
    <>
      <div className="outcome-head">
        <h1>{QUESTION}</h1>
        <div>
          <p role="status">{openWords(ask, isBare, hasMeasure)}</p>
          {hasMeasure ? null : (
            <a
              className="btn"
              href={placeHref("outcome", undefined, outcomeQuery({ ...ask, measure: FIRST_MEASURE, measures: [] }))}
            >
              Begin with the pressure under the lead foot
            </a>
          )}
        </div>
      </div>
      {choice}
    </>
  );
}

function openWords({ measure }: OutcomeAsk, isBare: boolean, hasMeasure: boolean): string {
  if (!hasMeasure) return `There is no measure “${measure}”.`;
  return isBare ? "Choose a player." : "The shots of this address cannot be read. Choose anew.";
}

function NoPlayers(): ReactElement {
  return (
    <div className="state">
      <h1>{QUESTION}</h1>
      <p>
        There are no shots yet. Results are entered with each shot: strike place, start line, carry, kept or mishit.
      </p>
      <p className="deeds">
        <a className="btn main" href={placeHref("plan")}>
          Plan a session
        </a>
        <a className="btn" href={placeHref("bring-in")}>
          Bring recordings in
        </a>
      </p>
    </div>
  );
}

function Asked({
  ask,
  of,
  code,
  choice,
}: {
  readonly ask: OutcomeAsk;
  readonly of: SideQuery;
  readonly code: string;
  readonly choice: ReactElement;
}): ReactElement {
  const query = {
    ...{ of: sideText(of), outcome: ask.outcome, axes: ask.axes },
    measures: ask.measures.join(","),
  };
  const answered = useLongAnswer("get /api/outcome", { query }, KINDS);
  const outcome = useMemo(
    () => (answered.answer === undefined ? undefined : fromJson<Outcome>(answered.answer)),
    [answered.answer],
  );
  const row =
    outcome?.measures.find(({ measure }) => measure === ask.measure) ??
    (answered.isBusy ? outcome?.measures.at(-1) : undefined);
  return (
    <div className="outcome" aria-busy={answered.isBusy}>
      {outcome === undefined || row === undefined ? (
        <div className="outcome-head">
          <h1>{QUESTION}</h1>
        </div>
      ) : (
        <Head {...{ outcome, row, code }} />
      )}
      {choice}
      <LongWait answered={answered} words="Computing the shots." deed="Compute" />
      {outcome === undefined || row === undefined ? null : <Shown {...{ ask, outcome, row }} />}
    </div>
  );
}

interface ShownProps {
  readonly ask: OutcomeAsk;
  readonly outcome: Outcome;
  readonly row: OutcomeMeasure;
}

/** What may be said of the measure in view, or why nothing may. */
function answerOf(outcome: Outcome, row: OutcomeMeasure): Sentence | undefined {
  const reading = outcomeReading(outcome);
  const isWithheld = outcome.withheld !== undefined || outcome.n === 0;
  return isWithheld ? reading.headline : reading.rows.find(({ column }) => column === row.column)?.sentence;
}

function Head({ outcome, row, code }: Omit<ShownProps, "ask"> & { readonly code: string }): ReactElement {
  const answer = useMemo(() => answerOf(outcome, row), [outcome, row]);
  const { notices } = useMemo(() => outcomeReading(outcome), [outcome]);
  const isWithheld = outcome.withheld !== undefined || outcome.n === 0;
  const needed = isWithheld ? "" : neededText(outcomeDots(row, outcome, 0), outcome.outcome);
  return (
    <div className="outcome-head">
      <h1>
        {QUESTION} {capital(OUTCOMES[outcome.outcome].word)}, by {titleInside(row.title)}
        {row.axes === undefined ? "" : `, ${row.axes} axes`}
      </h1>
      <div>
        {answer === undefined ? null : (
          <p className="outcome-answer">
            <SentenceWords sentence={answer} />
          </p>
        )}
        {needed === "" ? null : <p>{needed}</p>}
        <p>
          {code}, {outcome.name}.{answer?.text.includes(NO_CAUSE) ? "" : ` ${NO_CAUSE}`}
        </p>
        <Sentences sentences={notices} />
      </div>
    </div>
  );
}

function Shown({ ask, outcome, row }: ShownProps): ReactElement {
  const reading = useMemo(() => outcomeReading(outcome), [outcome]);
  const others = reading.rows.filter(({ column }) => column !== row.column);
  const hasDots = outcomeDots(row, outcome, 0).length > 0;
  return (
    <>
      <div className="outcome-pictures">
        {hasDots ? (
          <OutcomePicture outcome={outcome} row={row} sentence={answerOf(outcome, row)?.text ?? ""} />
        ) : (
          <p className="caption">No shot has both: a result and a value of this measure.</p>
        )}
        <div>
          <LinkScale outcome={outcome} row={row} />
          <Sentences sentences={reading.looks} />
        </div>
      </div>
      {others.length === 0 ? null : (
        <section aria-label="Other measures looked at">
          <h2>Other measures looked at</h2>
          <ul className="outcome-others">
            {others.map(({ column, measure, title, sentence }) => (
              <li key={column}>
                <a href={placeHref("outcome", undefined, outcomeQuery({ ...ask, measure }))}>{title}</a>
                <span>
                  <SentenceWords sentence={sentence} />
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <ShotTable outcome={outcome} row={row} />
    </>
  );
}

function ShotTable({ outcome, row }: Pick<ShownProps, "outcome" | "row">): ReactElement {
  const shots = outcomeDots(row, outcome, 0);
  return (
    <details>
      <summary>Table of all shots</summary>
      <CopyButton word="Copy as CSV" text={() => outcomeCsv(outcome, row)} />
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls inside itself, so it must take the focus. */}
      <section className="wide-table" tabIndex={0} aria-label="All shots">
        <table>
          <thead>
            <tr>
              <th scope="col">Shot</th>
              <th scope="col" className="number">
                {row.title}
              </th>
              <th scope="col" className="number">
                {OUTCOMES[outcome.outcome].word}
              </th>
            </tr>
          </thead>
          <tbody>
            {shots.map(({ shotId, condition, value, result, isMishit }, k) => (
              <tr key={shotId}>
                <th scope="row">
                  <a href={placeHref("shot", shotId)}>
                    {k + 1}: {condition}
                  </a>
                </th>
                <td>{unitText(value, row.unit).text}</td>
                <td>
                  {outcome.outcome === "mishit" ? "" : resultText(result, outcome.outcome).text}
                  <small>{isMishit ? "mishit" : "kept"}</small>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p className="caption">
        {outcome.countUnknown === 0 ? "" : `${outcome.countUnknown} without a known result left out. `}Seed{" "}
        {outcome.seed}: the same question gives the same answer.
      </p>
    </details>
  );
}

function Sentences({ sentences }: { readonly sentences: readonly Sentence[] }): ReactElement | null {
  if (sentences.length === 0) return null;
  return (
    <p>
      {sentences.map((sentence) => (
        <SentenceWords key={sentence.text} sentence={sentence} />
      ))}
    </p>
  );
}
