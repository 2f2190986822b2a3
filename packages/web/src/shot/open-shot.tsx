import type { ShotOutcome } from "@underfoot/pipeline";
import { type ReactElement, useEffect, useState } from "react";
import type { RefusedFile } from "./dropped-files.ts";
import type { OutcomeState } from "./outcomes.ts";
import { ReadSoFar } from "./read-so-far.tsx";
import type { Session, SessionChange, Source } from "./session.ts";
import { ShotPage, type ShotPageProps } from "./shot-page.tsx";
import { ShotStrip } from "./shot-strip.tsx";
import { downloadSidecar } from "./sidecar-download.ts";
import { UnsaidShot } from "./unsaid-shot.tsx";
import type { GoodOutcome, ShownOutcome } from "./use-outcome.ts";

export interface OpenShotProps
  extends Pick<ShotPageProps, "axes" | "ruler" | "isMarking" | "canUndo" | "onAxes" | "onMarking" | "onUndo"> {
  readonly session: Session;
  readonly source: Source | undefined;
  readonly shown: ShownOutcome;
  readonly before: ShotOutcome | undefined;
  readonly served: "asked" | "there" | "none";
  readonly refused: readonly RefusedFile[];
  readonly onOpen: (id: string) => void;
  readonly onChange: (change: SessionChange) => void;
  readonly onStop: () => void;
  readonly onTryAgain: () => void;
}

/** The open recording in whatever state it is, under its name and the strip. */
export function OpenShot(props: OpenShotProps): ReactElement {
  const { session, source, shown, refused } = props;
  const good = goodOutcome(props);
  const title = source === undefined ? undefined : sourceTitle(source, session.sources.indexOf(source) + 1);
  useEffect(() => {
    document.title = title === undefined ? "Underfoot" : `${title}, Underfoot`;
  }, [title]);
  if (source === undefined) return <NothingOpen served={props.served} refused={refused} />;
  const facts = good?.facts;
  return (
    <>
      <div className="head">
        <div>
          <h1>{title}</h1>
          <p className="result">
            {ORIGIN[source.kind]}
            {facts === undefined ? "" : facts.keep === "kept" ? ". Kept." : ". Set aside."} {facts?.note ?? ""}
          </p>
        </div>
        <ShotStrip sources={session.sources} openId={session.openId} onOpen={props.onOpen} />
      </div>
      <RefusedFiles refused={refused} />
      <Progress state={shown.state} onStop={props.onStop} onTryAgain={props.onTryAgain} file={source.file} />
      <Answer {...props} source={source} good={good} />
    </>
  );
}

const ORIGIN = {
  demo: "Invented: no person was measured",
  served: "From the folder this page is served with",
  file: "Your file, read in this page only",
} as const;

const sourceTitle = (source: Source, number: number): string =>
  source.intent === undefined ? `Shot ${number}, ${source.file}` : `Shot ${number}, ${source.intent}`;

/** The shot to draw: this answer, or the one without marks while a mark is refused. */
function goodOutcome({ shown, before }: OpenShotProps): GoodOutcome | undefined {
  if (shown.outcome?.status === "ok") return shown.outcome;
  return before?.status === "ok" ? before : undefined;
}

interface AnswerProps extends OpenShotProps {
  readonly source: Source;
  readonly good: GoodOutcome | undefined;
}

function Answer(props: AnswerProps): ReactElement | null {
  const { source, shown, before, good, onChange, onMarking } = props;
  const { outcome } = shown;
  const refusals = refusalsOf(outcome, (shown.entry?.marks.length ?? 0) > 0 ? before : undefined);
  return (
    <>
      {refusals.length === 0 ? null : (
        <div className="fault" role="alert">
          {refusals.map((refusal) => (
            <p key={refusal.sentence}>
              <b>{refusal.word}</b> {refusal.sentence} <span className="quiet">{refusal.remedy}</span>
            </p>
          ))}
          {props.canUndo ? (
            <button type="button" className="btn" onClick={props.onUndo}>
              Undo <kbd className="key">U</kbd>
            </button>
          ) : null}
        </div>
      )}
      {good === undefined ? null : (
        <ShotPage
          {...props}
          sourceId={source.id}
          outcome={good}
          before={before?.status === "ok" ? before : good}
          onMark={(mark) => {
            onMarking(false);
            onChange({ kind: "marked", mark });
          }}
          onSidecar={() => downloadSidecar(good.facts, source.file)}
        />
      )}
      {outcome?.status === "error" && outcome.inspection !== undefined && good === undefined ? (
        <ReadSoFar
          inspection={outcome.inspection}
          onFacts={shown.entry?.facts === undefined ? (facts) => onChange({ kind: "factsEntered", facts }) : undefined}
        />
      ) : null}
      {outcome?.status === "needs-facts" ? (
        <UnsaidShot outcome={outcome} onFacts={(facts) => onChange({ kind: "factsEntered", facts })} />
      ) : null}
    </>
  );
}

interface Refusal {
  readonly word: string;
  readonly sentence: string;
  readonly remedy: string;
}

/** Code under which mechanics leaves out a mark that cannot stand among the other events. */
const REFUSED_MARK = "mark-out-of-order";

/**
 * Why a file or a mark was not taken, or what a mark took away: a fault of the whole answer, or findings about events
 * that were not there before the marks.
 * @param before  the answer without the marks; undefined where there are none
 */
function refusalsOf(outcome: ShotOutcome | undefined, before: ShotOutcome | undefined): readonly Refusal[] {
  if (outcome === undefined) return [];
  if (outcome.status === "error") return [{ ...outcome, word: before === undefined ? "" : "This mark is refused." }];
  if (before === undefined || before.status === "error") return [];
  const known = new Set(before.findings.map((finding) => finding.sentence));
  return outcome.findings
    .filter((finding) => finding.where?.event !== undefined && !known.has(finding.sentence))
    .map(({ code, sentence, remedy }) => ({
      word: code === REFUSED_MARK ? "This mark is refused." : "With this mark:",
      sentence,
      remedy,
    }));
}

function NothingOpen({ served, refused }: Pick<OpenShotProps, "served" | "refused">): ReactElement {
  return (
    <div className="state">
      <h1>{served === "asked" ? "Looking for shots." : "No shots yet."}</h1>
      <p>
        Drop a recording anywhere on this page, a C3D file or delimited text, with its sidecar if there is one. It is
        read in this page and sent nowhere.
      </p>
      <RefusedFiles refused={refused} />
    </div>
  );
}

function RefusedFiles({ refused }: { readonly refused: readonly RefusedFile[] }): ReactElement | null {
  if (refused.length === 0) return null;
  return (
    <div role="alert">
      {refused.map((file) => (
        <p key={file.file} className="fault">
          {file.sentence} <span className="quiet">{file.remedy}</span>
        </p>
      ))}
    </div>
  );
}

interface ProgressProps {
  readonly state: OutcomeState;
  readonly file: string;
  readonly onStop: () => void;
  readonly onTryAgain: () => void;
}

/** No words before this: most shots are there sooner, and a flash of words would only disturb. */
const WORDS_AFTER_MS = 300;

function Progress({ state, file, onStop, onTryAgain }: ProgressProps): ReactElement {
  const isBusy = state.stage === "reading" || state.stage === "computing";
  const [isSlow, setIsSlow] = useState(false);
  useEffect(() => {
    if (!isBusy) return undefined;
    const timer = setTimeout(() => setIsSlow(true), WORDS_AFTER_MS);
    return () => {
      clearTimeout(timer);
      setIsSlow(false);
    };
  }, [isBusy]);
  return (
    <div role="status">
      {isBusy && isSlow ? (
        <p className="deeds">
          {state.stage === "reading" ? "Reading" : "Computing"} {file} in this page.
          <button type="button" className="btn" onClick={onStop}>
            Cancel
          </button>
        </p>
      ) : null}
      {state.stage === "stopped" ? (
        <p className="deeds">
          Cancelled. {file} is not computed.
          <button type="button" className="btn" onClick={onTryAgain}>
            Compute it
          </button>
        </p>
      ) : null}
      {state.stage === "unread" ? (
        <p className="fault">
          {state.sentence} <span className="quiet">{state.remedy}</span>
        </p>
      ) : null}
      {state.stage === "broken" ? (
        <p className="fault">
          Underfoot itself failed on {file} ({state.message}).{" "}
          <span className="quiet">The file is unchanged. Please report it with these words.</span>
        </p>
      ) : null}
    </div>
  );
}
