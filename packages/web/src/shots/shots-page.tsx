import { type ReactElement, type ReactNode, useEffect, useMemo, useRef, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { goTo, type Place, placeHref } from "../frame/place.ts";
import { useKeys } from "../frame/use-keys.ts";
import { useMedia } from "../frame/use-media.ts";
import { ChosenShots } from "./chosen-shots.tsx";
import { factsCompareHref, shotsCompareHref } from "./compare-links.ts";
import { countText, factsWithout, factWords, foundSentence, type KnownNames } from "./fact-words.ts";
import { FindPanel } from "./find-panel.tsx";
import { SessionList } from "./session-list.tsx";
import { FACT_NAMES, type FactName, type Facts, factsFromQuery, factsText, queryFromFacts } from "./shot-query.ts";
import { ROW_LINK, rowName, ShotList, type ShotRowsProps, ShotTable } from "./shot-rows.tsx";
import { SHOTS_KEYS, type ShotsDeed } from "./shots-keys.ts";
import { useShotDeeds } from "./use-shot-deeds.ts";
import { type ShotPages, useShotPages } from "./use-shot-pages.ts";
import "./shots.css";

export interface ShotsPageProps {
  readonly place: Place;
}

/** Which shots are these? Found by any fact; the facts are in the address. */
export function ShotsPage({ place }: ShotsPageProps): ReactElement {
  const facts = useMemo(() => factsFromQuery(place.query), [place.query]);
  const found = useShotPages(facts);
  const names = useNames(facts);
  const first = useRef<HTMLSelectElement>(null);
  const panel = useRef<HTMLDetailsElement>(null);
  const isWide = useMedia("(min-width: 1101px)");
  useEffect(() => {
    document.title = "Shots, Underfoot";
  }, []);
  const goToFacts = (next: Facts): void => goTo(placeHref("shots", undefined, next));
  const onFact = (name: FactName, text: string | undefined): void =>
    goToFacts(text === undefined ? factsWithout(facts, name) : { ...facts, [name]: text });
  const deeds = useMemo<Readonly<Record<ShotsDeed, () => void>>>(
    () => ({
      nextRow: () => focusRow(1),
      previousRow: () => focusRow(-1),
      find: () => {
        if (panel.current !== null) panel.current.open = true;
        first.current?.focus();
      },
    }),
    [],
  );
  useKeys(SHOTS_KEYS, deeds);
  const panelProps = { facts, players: names.players, words: names.words, first, onFact };
  const sessions = <SessionList key={facts.playerId} playerId={facts.playerId} sessionId={facts.sessionId} />;
  if (found.pages?.total === 0 && Object.keys(facts).length === 0) return <NothingStored />;
  return (
    <div className="shots-body">
      {isWide ? (
        <div className="find">
          <section aria-labelledby="find-title">
            <h2 id="find-title">
              Find by <kbd className="key">/</kbd>
            </h2>
            <FindPanel {...panelProps} />
          </section>
          {sessions}
        </div>
      ) : null}
      <FoundShots {...{ facts, found, names, onFact, goToFacts }}>
        {isWide ? null : (
          <>
            <details ref={panel}>
              <summary>Find by player, intent, lie, day and more</summary>
              <FindPanel {...panelProps} />
            </details>
            <details>
              <summary>Sessions</summary>
              {sessions}
            </details>
          </>
        )}
      </FoundShots>
    </div>
  );
}

/** Goes `step` rows on from the row that has the focus, to the first where none has. */
function focusRow(step: 1 | -1): void {
  const links = [...document.querySelectorAll<HTMLElement>(`.${ROW_LINK}`)];
  const at = links.findIndex((link) => link.matches(":focus"));
  const next = at < 0 ? links[0] : links[at + step];
  next?.focus();
}

type Names = KnownNames & Pick<Parameters<typeof FindPanel>[0], "players" | "words">;

/** Words and names that facts are chosen from and said with. */
function useNames({ playerId, sessionId }: Facts): Names {
  const { answer: players } = useAnswer("get /api/players", {}, ["player"]);
  const { answer: words } = useAnswer("get /api/words", { query: { playerId } }, ["shot", "player", "result"]);
  const { answer: session } = useAnswer(
    "get /api/sessions/{id}",
    sessionId === undefined ? undefined : { params: { id: sessionId } },
    ["session"],
  );
  return {
    players: players ?? [],
    words,
    player: (id) => players?.find((player) => player.id === id)?.code,
    sessionDay: (id) => (session?.id === id ? session.day : undefined),
  };
}

interface FoundShotsProps {
  readonly facts: Facts;
  readonly found: ShotPages;
  readonly names: Names;
  readonly onFact: (name: FactName, text: string | undefined) => void;
  readonly goToFacts: (facts: Facts) => void;
  /** Between the sentence and the rows. */
  readonly children: ReactNode;
}

function FoundShots({ facts, found, names, onFact, goToFacts, children }: FoundShotsProps): ReactElement {
  const { pages, isBusy, fault, again, more } = found;
  const { answer: aside } = useAnswer(
    "get /api/shots",
    facts.label === undefined ? { query: { ...queryFromFacts(facts), label: "set-aside", limit: 1 } } : undefined,
    ["shot", "session", "player"],
  );
  const compareHref = factsCompareHref(facts);
  const said = FACT_NAMES.flatMap((name) => {
    const text = facts[name];
    return text === undefined ? [] : [{ name, words: factWords(name, text, names) }];
  });
  const sentence =
    pages === undefined
      ? "Looking for shots"
      : foundSentence({
          total: pages.total,
          setAside: facts.label === undefined ? aside?.total : undefined,
          players: names.players.length || undefined,
          facts: said.map(({ words }) => words),
        });
  return (
    <section className="found" aria-labelledby="found-title" aria-busy={isBusy}>
      <h1 id="found-title">{sentence}</h1>
      {said.length === 0 ? null : (
        <p className="deeds facts-said">
          {said.map(({ name, words }) => (
            <button key={name} type="button" className="fact" onClick={() => onFact(name, undefined)}>
              {words}
              <span className="hidden">, take back</span> <span aria-hidden="true">×</span>
            </button>
          ))}
          <button type="button" className="fact all" onClick={() => goToFacts({})}>
            Show all shots
          </button>
          {compareHref === undefined ? null : (
            <a className="fact all" href={compareHref}>
              Compare these
            </a>
          )}
        </p>
      )}
      {children}
      <FaultNote fault={fault} onAgain={again} />
      {pages === undefined ? null : <Rows key={factsText(facts)} rows={pages.rows} from={factsText(facts)} />}
      {pages?.next === undefined ? null : (
        <p className="deeds">
          <button type="button" className="btn" disabled={isBusy} onClick={more}>
            More
          </button>
          <span className="small">
            {countText(pages.rows.length)} of {countText(pages.total)} shown
          </span>
        </p>
      )}
    </section>
  );
}

function Rows({ rows, from }: Pick<ShotRowsProps, "rows" | "from">): ReactElement {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const isNarrow = useMedia("(max-width: 760px)");
  const onChoose = (ids: readonly string[], isChosen: boolean): void =>
    setChosen((before) => {
      const next = new Set(before);
      for (const id of ids) isChosen ? next.add(id) : next.delete(id);
      return next;
    });
  const shown = rows.filter(({ id }) => chosen.has(id));
  const deeds = useShotDeeds(shown.map((row) => ({ id: row.id, words: rowName(row) })));
  const props = { rows, from, chosen, onChoose };
  return (
    <>
      {rows.length === 0 ? null : isNarrow ? <ShotList {...props} /> : <ShotTable {...props} />}
      <ChosenShots
        count={shown.length}
        deeds={deeds}
        onNone={() => setChosen(new Set())}
        compareHref={shotsCompareHref(shown)}
      />
    </>
  );
}

function NothingStored(): ReactElement {
  return (
    <div className="state">
      <h1>No shots yet</h1>
      <p>Bring in recordings, C3D files or delimited text, one by one or whole folders; or plan a session first.</p>
      <p className="deeds">
        <a className="btn main" href={placeHref("bring-in")}>
          Bring in
        </a>
        <a className="btn" href={placeHref("plan")}>
          Plan a session
        </a>
      </p>
    </div>
  );
}
