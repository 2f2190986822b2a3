import { CURVES, fromJson, type Study, type StudyMeasure } from "@underfoot/compare";
import { catalogueEntry } from "@underfoot/mechanics";
import { type Sentence, studyReading } from "@underfoot/report";
import { type ReactElement, type ReactNode, useEffect, useMemo, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { useLongAnswer } from "../api/use-long-answer.ts";
import type { SideFacts } from "../compare/choose/shot-counts.ts";
import { type SideQuery, sideText } from "../compare/choose/side-query.ts";
import { type SideWords, sideWords } from "../compare/choose/side-words.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { LongWait } from "../frame/long-wait.tsx";
import { goTo, type Place, placeHref } from "../frame/place.ts";
import { SentenceWords, useEscapeFromSentence } from "../shot/reading-view.tsx";
import { PlayerRowsView } from "./player-rows-view.tsx";
import { curveOf, FIRST_MEASURE, type StudyAsk, studyAskFrom, studyQuery, withSides } from "./study-address.ts";
import { StudyChecks } from "./study-checks.tsx";
import { StudyChoice } from "./study-choice.tsx";
import { StudyCurves } from "./study-curves.tsx";
import { firstStudySides, type StudyPlayers, studyPlayers, whoText } from "./study-shots.ts";
import { modelText } from "./study-words.ts";
import "./study.css";

export interface StudyPageProps {
  readonly place: Place;
}

const KINDS = ["shot", "result", "session", "layout", "player"] as const;
/** Any measure lists every shot with a result; this one every shot on two plates has. */
const LISTED_BY = "lead.share.at.impact";
const MOST_SESSIONS = 200;
const CURVE_IDS = CURVES.map(({ id }) => id);
const QUESTION = "Does it hold across players?";

/** Does it hold across players? */
export function StudyPage({ place }: StudyPageProps): ReactElement {
  const ask = useMemo(() => studyAskFrom(place.query), [place.query]);
  const { found, fault, again } = useStudyPlayers();
  const isBare = place.query["a"] === undefined && place.query["b"] === undefined;
  const onAsk = (next: StudyAsk): void => goTo(placeHref("study", undefined, studyQuery(next)), "replace");
  useEscapeFromSentence();
  useEffect(() => {
    document.title = "Study, Underfoot";
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the address says when there is something to begin with.
  useEffect(() => {
    if (!isBare || found === undefined) return;
    const sides = firstStudySides(found.shots)?.map((asked): SideQuery => ({ kind: "shots", asked }));
    if (sides?.[0] !== undefined && sides[1] !== undefined) onAsk(withSides(ask, sides[0], sides[1]));
  }, [isBare, found]);
  if (fault !== undefined) return <FaultNote fault={fault} onAgain={again} />;
  if (found === undefined) return <p className="state">Asking for the players and their shots.</p>;
  if (found.agreed.length === 0) return <NobodyAgreed countWithout={found.countWithoutConsent} />;
  const choice = (
    <>
      <p className="study-narrow caption">Conditions and measures are chosen on a wider window.</p>
      <details className="study-choose" open={ask.a === undefined || ask.b === undefined}>
        <summary>Choose what is asked</summary>
        <StudyChoice ask={ask} shots={found.shots} onAsk={onAsk} />
      </details>
    </>
  );
  const { a, b, measure } = ask;
  if (catalogueEntry(measure) === undefined)
    return (
      <NoQuestion words={`There is no measure “${measure}”.`} choice={choice}>
        <a
          className="btn"
          href={placeHref("study", undefined, studyQuery({ ...ask, measure: FIRST_MEASURE, measures: [] }))}
        >
          Begin with peak up force
        </a>
      </NoQuestion>
    );
  if (a === undefined || b === undefined) return <NoQuestion words={isBare ? NO_CONDITIONS : UNREAD} choice={choice} />;
  return <Asked {...{ ask, a, b, found, choice }} />;
}

const NO_CONDITIONS =
  "No player has kept shots of two conditions yet. Give shots an intent and a lie, or plan a session of two.";
const UNREAD = "A condition of this address cannot be read. Choose anew.";

/** Who agreed, and all their shots. */
function useStudyPlayers() {
  const players = useAnswer("get /api/players", {}, KINDS);
  const sessions = useAnswer("get /api/sessions", { query: { limit: MOST_SESSIONS } }, KINDS);
  const points = useAnswer("get /api/measures", { query: { measure: LISTED_BY } }, KINDS);
  const all = [players, sessions, points];
  const found = useMemo(
    () =>
      players.answer && sessions.answer && points.answer
        ? studyPlayers(players.answer, sessions.answer.rows, points.answer)
        : undefined,
    [players.answer, sessions.answer, points.answer],
  );
  return {
    found,
    fault: all.find(({ fault }) => fault !== undefined)?.fault,
    again: () => {
      for (const { again } of all) again();
    },
  };
}

function NobodyAgreed({ countWithout }: { readonly countWithout: number }): ReactElement {
  return (
    <div className="state">
      <h1>{QUESTION}</h1>
      <p>
        Add players with consent for study use.{" "}
        {countWithout === 0
          ? "There are no players yet."
          : `${countWithout} ${countWithout === 1 ? "player has" : "players have"} not agreed to be counted in studies.`}{" "}
        What a player agreed to stands in the player’s record.
      </p>
      <a className="btn main" href={placeHref("player")}>
        Players and their consent
      </a>
    </div>
  );
}

function NoQuestion({
  words,
  choice,
  children,
}: {
  readonly words: string;
  readonly choice: ReactElement;
  readonly children?: ReactNode;
}): ReactElement {
  return (
    <>
      <div className="study-head">
        <h1>{QUESTION}</h1>
        <div>
          <p role="status">{words}</p>
          {children}
        </div>
      </div>
      {choice}
    </>
  );
}

interface AskedProps {
  readonly ask: StudyAsk;
  readonly a: SideQuery;
  readonly b: SideQuery;
  readonly found: StudyPlayers;
  readonly choice: ReactElement;
}

function Asked({ ask, a, b, found, choice }: AskedProps): ReactElement {
  const query = {
    ...{ a: sideText(a), b: sideText(b), axes: ask.axes },
    ...{ measures: ask.measures.join(","), curves: curveOf(ask, CURVE_IDS) },
  };
  const answered = useLongAnswer("get /api/study", { query }, KINDS);
  // biome-ignore lint/correctness/useExhaustiveDependencies: an answer keeps the names it was asked by while the next is on its way.
  const named = useMemo(() => {
    if (answered.answer === undefined) return undefined;
    const { both, ...names } = studyNames(a, b);
    return { both, study: { ...fromJson<Study>(answered.answer), ...names } };
  }, [answered.answer]);
  const study = named?.study;
  const row =
    study?.measures.find(({ measure }) => measure === ask.measure) ??
    (answered.isBusy ? study?.measures.at(-1) : undefined);
  return (
    <div className="study" aria-busy={answered.isBusy}>
      {study === undefined || row === undefined ? (
        <div className="study-head">
          <h1>{QUESTION}</h1>
        </div>
      ) : (
        <Head {...{ study, row, found }} both={named?.both ?? ""} />
      )}
      {choice}
      <LongWait
        answered={answered}
        words="Computing the shots and holding the players against each other."
        deed="Compute"
      />
      {study === undefined || row === undefined ? null : <Shown {...{ ask, study, row }} />}
    </div>
  );
}

interface ShownProps {
  readonly ask: StudyAsk;
  readonly study: Study;
  readonly row: StudyMeasure;
}

/** Conditions by what tells them apart: "high" against "low", where both are on the flat. */
function studyNames(a: SideQuery, b: SideQuery): SideWords {
  const facts = (side: SideQuery): SideFacts => (side.kind === "shots" ? side.asked : {});
  return sideWords(facts(a), facts(b), () => undefined);
}

interface HeadProps extends Omit<ShownProps, "ask"> {
  readonly found: StudyPlayers;
  /** What both conditions have in common; empty where nothing. */
  readonly both: string;
}

/** The question, what may be said, the model in a line, and who is in. */
function Head({ study, row, found, both }: HeadProps): ReactElement {
  const { rows, notices } = useMemo(() => studyReading(study), [study]);
  const own = rows.find(({ column }) => column === row.column);
  const codes = study.cells.filter(({ countA, countB }) => countA + countB > 0).map(({ player }) => player);
  const { agreed, countWithoutConsent } = found;
  return (
    <div className="study-head">
      <h1>
        {QUESTION} {row.title}: {study.b} against {study.a}
        {both === "" ? "" : `, both ${both}`}
        {row.axes === undefined ? "" : `, ${row.axes} axes`}
      </h1>
      <div>
        {own === undefined ? null : (
          <p className="study-answer">
            <SentenceWords sentence={own.sentence} />
          </p>
        )}
        <Sentences sentences={[...(own?.findings ?? []), ...notices]} />
        <p>{modelText(row, study)}</p>
        <p>{whoText({ codes, countAgreed: agreed.length, countWithoutConsent })}</p>
        <p>What holds over players says nothing of any one of them, nor why it is so.</p>
      </div>
    </div>
  );
}

function Shown({ ask, study, row }: ShownProps): ReactElement {
  const reading = useMemo(() => studyReading(study), [study]);
  const [pointed, setPointed] = useState<string>();
  const own = reading.rows.find(({ column }) => column === row.column);
  const others = reading.rows.filter(({ column }) => column !== row.column);
  const [curve] = study.curves;
  const difference = `${study.b} minus ${study.a}`;
  return (
    <>
      <div className="study-pictures">
        <div>
          {curve === undefined || curve.players.length === 0 ? (
            <p className="caption">
              No curve of a player’s difference: no player has shots with impact in both conditions.
            </p>
          ) : (
            <>
              <StudyCurves
                {...{ curve, grid: study.grid, pointed, difference }}
                sentence={reading.curves.map(({ text }) => text).join(" ")}
              />
              <Sentences sentences={reading.curves} />
            </>
          )}
        </div>
        <PlayerRowsView
          row={row}
          difference={difference}
          pointed={pointed}
          onPointed={setPointed}
          sentence={own?.sentence.text ?? ""}
        />
      </div>
      <Sentences sentences={reading.looks} />
      {others.length === 0 ? null : (
        <section aria-label="Other measures looked at">
          <h2>Other measures looked at</h2>
          <ul className="study-others">
            {others.map(({ column, measure, title, sentence }) => (
              <li key={column}>
                <a href={placeHref("study", undefined, studyQuery({ ...ask, measure }))}>{title}</a>
                <span>
                  <SentenceWords sentence={sentence} />
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <StudyChecks study={study} row={row} />
    </>
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
