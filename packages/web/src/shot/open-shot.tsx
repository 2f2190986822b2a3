import type { ShotOutcome } from "@underfoot/pipeline";
import { dayText, resultText } from "@underfoot/report";
import { type ReactElement, type RefObject, useEffect, useState } from "react";
import type { CallFault } from "../api/call.ts";
import { handOver } from "../bring-in/handed-files.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { goTo, placeHref } from "../frame/place.ts";
import type { RefusedFile } from "./dropped-files.ts";
import type { OpenedShot } from "./opened-shot.ts";
import type { OutcomeState } from "./outcomes.ts";
import { ReadSoFar } from "./read-so-far.tsx";
import { ResultRow } from "./result-row.tsx";
import { ShotHistory, ShotSession } from "./shot-history.tsx";
import { ShotPage, type ShotPageProps } from "./shot-page.tsx";
import { ShotStrip } from "./shot-strip.tsx";
import { downloadSidecar } from "./sidecar-download.ts";
import type { StripShot } from "./strip-shots.ts";
import { UnsaidShot } from "./unsaid-shot.tsx";
import type { GoodOutcome, ShownOutcome } from "./use-outcome.ts";
import type { StoredShot } from "./use-stored-shot.ts";
import "./shot.css";

export interface OpenShotProps extends Pick<ShotPageProps, "axes" | "ruler" | "isMarking" | "onAxes" | "onMarking"> {
  readonly opened: OpenedShot | undefined;
  readonly shown: ShownOutcome;
  readonly before: ShotOutcome | undefined;
  readonly strip: readonly StripShot[];
  readonly refused: readonly RefusedFile[];
  readonly note: RefObject<HTMLDivElement | null>;
  /** The library is being asked for the shot. */
  readonly isAsking: boolean;
  /** It did not give it. */
  readonly fault: CallFault | undefined;
  readonly onAskAgain: () => void;
  readonly onOpen: (id: string) => void;
  readonly onStop: () => void;
  readonly onTryAgain: () => void;
}

/** The open recording in whatever state it is, under its name and the strip. */
export function OpenShot(props: OpenShotProps): ReactElement {
  const { opened, shown, refused, strip } = props;
  useEffect(() => {
    document.title = opened === undefined ? "Underfoot" : `${opened.title}, Underfoot`;
  }, [opened]);
  if (opened === undefined) return <NothingOpen {...props} />;
  const { source, stored } = opened;
  return (
    <>
      <div className="head" data-shot={source.id}>
        <div>
          <h1>{opened.title}</h1>
          {stored === undefined ? (
            <FileWords opened={opened} facts={goodOutcome(props)?.facts} />
          ) : (
            <p className="result">{storedWords(stored)}</p>
          )}
        </div>
        <ShotStrip shots={strip} openId={source.id} onOpen={props.onOpen} />
      </div>
      <RefusedFiles refused={refused} />
      <Progress state={shown.state} onStop={props.onStop} onTryAgain={props.onTryAgain} file={source.file} />
      <Answer {...props} opened={opened} good={goodOutcome(props)} />
    </>
  );
}

const LABEL_WORDS = { kept: "Kept", mishit: "Mishit", "set-aside": "Set aside" } as const;

/** "Kept. Clean, 1.1° left, 31.3 m. 17 Mar 2026. A note." */
function storedWords({ shot, facts }: StoredShot): string {
  const result = resultText(shot);
  const parts = [
    LABEL_WORDS[shot.label],
    result && `${result[0]?.toUpperCase() ?? ""}${result.slice(1)}`,
    dayText(shot.day),
    facts?.note?.replace(/\.$/, ""),
  ];
  return `${parts.filter((part) => part !== undefined && part !== "").join(". ")}.`;
}

/** A file is looked at only: said, with the way to store it. */
function FileWords({
  opened,
  facts,
}: {
  readonly opened: OpenedShot;
  readonly facts: GoodOutcome["facts"] | undefined;
}): ReactElement {
  const bringIn = (): void => {
    handOver(opened.source.files ?? []);
    goTo(placeHref("bring-in"));
  };
  return (
    <p className="result deeds">
      <span>
        Your file, read in this page only. Not stored.
        {facts === undefined ? "" : facts.keep === "kept" ? " Kept." : " Set aside."} {facts?.note ?? ""}
      </span>
      <button type="button" className="btn" onClick={bringIn}>
        Bring in
      </button>
    </p>
  );
}

/** The shot to draw: this answer, or the one without marks while a mark is refused. */
function goodOutcome({ shown, before }: OpenShotProps): GoodOutcome | undefined {
  if (shown.outcome?.status === "ok") return shown.outcome;
  return before?.status === "ok" ? before : undefined;
}

interface AnswerProps extends OpenShotProps {
  readonly opened: OpenedShot;
  readonly good: GoodOutcome | undefined;
}

function Answer(props: AnswerProps): ReactElement | null {
  const { opened, shown, before, good, onMarking } = props;
  const { outcome } = shown;
  const { stored, source } = opened;
  return (
    <>
      <Refusals opened={opened} outcome={outcome} before={opened.before === undefined ? undefined : before} />
      {good === undefined ? null : (
        <ShotPage
          {...props}
          sourceId={source.id}
          storedShot={stored?.shot}
          pronoun={stored?.pronoun}
          outcome={good}
          before={before?.status === "ok" ? before : good}
          canUndo={opened.canUndo}
          onUndo={opened.onUndo}
          onMark={(mark) => {
            onMarking(false);
            opened.onMark(mark);
          }}
          onSidecar={() => downloadSidecar(stored?.facts ?? good.facts, source.file)}
          result={
            stored?.facts === undefined ? null : <ResultRow stored={stored} facts={stored.facts} note={props.note} />
          }
          done={stored === undefined ? null : <Done stored={stored} />}
          findings={stored?.shot.findings.filter(({ code }) => code === FAILED_CHECK) ?? []}
        />
      )}
      {outcome?.status === "error" && outcome.inspection !== undefined && good === undefined ? (
        <ReadSoFar
          inspection={outcome.inspection}
          onFacts={shown.entry?.facts === undefined ? opened.onFacts : undefined}
        />
      ) : null}
      {outcome?.status === "needs-facts" ? <UnsaidShot outcome={outcome} onFacts={opened.onFacts} /> : null}
      {stored !== undefined && good === undefined ? <Done stored={stored} /> : null}
    </>
  );
}

/** What only the library knows of a shot: the plates failed a check before it. */
const FAILED_CHECK = "plate-check-failed";

const Done = ({ stored }: { readonly stored: StoredShot }): ReactElement => (
  <>
    <ShotSession key={stored.shot.id} stored={stored} />
    <ShotHistory stored={stored} />
  </>
);

interface RefusalsProps {
  readonly opened: OpenedShot;
  readonly outcome: ShotOutcome | undefined;
  readonly before: ShotOutcome | undefined;
}

/** What was not taken and why: by the library, or by the chain. */
function Refusals({ opened, outcome, before }: RefusalsProps): ReactElement | null {
  const { fault } = opened;
  const refusals = [
    ...(fault === undefined
      ? []
      : [
          {
            word: fault.code === REFUSED_MARK ? "This mark is refused." : "Not stored.",
            sentence: fault.message,
            remedy: fault.remedy,
          },
        ]),
    ...refusalsOf(outcome, before),
  ];
  if (refusals.length === 0) return null;
  return (
    <div className="fault" role="alert">
      {refusals.map((refusal) => (
        <p key={refusal.sentence}>
          <b>{refusal.word}</b> {refusal.sentence} <span className="quiet">{refusal.remedy}</span>
        </p>
      ))}
      {opened.canUndo ? (
        <button type="button" className="btn" onClick={opened.onUndo}>
          {fault === undefined ? "Undo" : "Close"} <kbd className="key">U</kbd>
        </button>
      ) : null}
    </div>
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

function NothingOpen({ isAsking, fault, onAskAgain, refused }: OpenShotProps): ReactElement {
  if (fault !== undefined)
    return (
      <div className="state">
        <h1>No shot to show</h1>
        <FaultNote fault={fault} onAgain={onAskAgain} />
        <a className="btn" href={placeHref("shots")}>
          Find another shot
        </a>
      </div>
    );
  if (isAsking)
    return (
      <div className="state">
        <h1>Looking for the shot</h1>
      </div>
    );
  return (
    <div className="state">
      <h1>No shots yet</h1>
      <p>
        Bring recordings in, C3D files or delimited text, with their sidecars if there are any. Or drop one anywhere on
        this page to look at it: it is read in the page, sent nowhere and not stored.
      </p>
      <p className="deeds">
        <a className="btn main" href={placeHref("bring-in")}>
          Bring in
        </a>
        <a className="btn" href={placeHref("plan")}>
          Plan a session
        </a>
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
          {state.sentence} <span className="quiet">{state.remedy}</span>{" "}
          <button type="button" className="btn" onClick={onTryAgain}>
            Try again
          </button>
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
