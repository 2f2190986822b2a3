import { type ReactElement, useEffect, useRef, useState } from "react";
import { placeHref } from "../frame/place.ts";
import { counted, endText, findingsByCode, newShotIds, progressText, severalShots } from "./bring-words.ts";
import type { BringProgress } from "./bringing.ts";
import type { FileProblem } from "./file-groups.ts";
import { SpokenProgress } from "./spoken-progress.tsx";
import { type TakenBack, takeBack } from "./take-back.ts";

export interface BringingViewProps {
  readonly progress: BringProgress;
  readonly onCancel: () => void;
  /** Tries the files with problems again, as what is said above is now. */
  readonly onAgain: (how: { readonly isCutOffTaken: boolean }) => void;
  /** Goes on with those that were not looked at. */
  readonly onGoOn: () => void;
}

/** How far it is, and at the end what came of it. */
export function BringingView(props: BringingViewProps): ReactElement {
  const { progress, onCancel } = props;
  const { isRunning, total, brought, problems, isDryRun } = progress;
  const text = progressText(progress);
  const section = useRef<HTMLElement>(null);
  useEffect(() => {
    // The button that was pressed is gone: whoever works by keys goes on here, and nobody who went elsewhere is called back.
    const { activeElement } = document;
    if (activeElement !== document.body && !section.current?.contains(activeElement)) return;
    section.current?.querySelector<HTMLElement>(isRunning ? "button" : ".bringing-end")?.focus();
  }, [isRunning]);
  return (
    <section ref={section} className="bringing" aria-label={isDryRun ? "Look only" : "Bringing in"}>
      <SpokenProgress text={isRunning ? text : endText(progress)} />
      {isRunning ? (
        <>
          <p className="bringing-text">
            {isDryRun ? "Looking at" : "Bringing in"} {text}
          </p>
          <progress max={total} value={brought.length + problems.length} aria-label={text} />
          <button type="button" className="btn" onClick={onCancel}>
            Cancel
          </button>
          <p className="small">{isDryRun ? "Nothing is stored." : "What is in stays."}</p>
        </>
      ) : (
        <Ended {...props} />
      )}
      {problems.length === 0 ? null : <ProblemList {...props} />}
    </section>
  );
}

function Ended({ progress, onGoOn }: BringingViewProps): ReactElement {
  const { isDryRun, left, stoppedBy } = progress;
  const ids = newShotIds(progress);
  return (
    <>
      <h3 className="bringing-end" tabIndex={-1}>
        {endText(progress)}
      </h3>
      {stoppedBy === undefined ? null : (
        <div className="fault" role="alert">
          <p>
            {stoppedBy.sentence} <span className="quiet">{stoppedBy.remedy}</span>
          </p>
        </div>
      )}
      {left.length === 0 ? null : (
        <button type="button" className="btn" onClick={onGoOn}>
          Go on with {counted(left.length, "file")}
        </button>
      )}
      {severalShots(progress).map((sentence) => (
        <p key={sentence}>{sentence}.</p>
      ))}
      {isDryRun || ids.length === 0 ? null : <ShotLinks progress={progress} ids={ids} />}
      <SaidOfThem progress={progress} />
    </>
  );
}

/** The way to the shots, and back out of the library. */
function ShotLinks({
  progress,
  ids,
}: {
  readonly progress: BringProgress;
  readonly ids: readonly string[];
}): ReactElement {
  const [out, setOut] = useState<TakenBack>();
  const [isBusy, setIsBusy] = useState(false);
  const sessions = new Set(
    progress.brought.flatMap(({ brought: { shots } }) => shots.flatMap(({ sessionId }) => sessionId ?? [])),
  );
  const [sessionId] = sessions;
  const isOneSession = sessions.size === 1 && sessionId !== undefined;
  if (out !== undefined && !isBusy) {
    return (
      <p role="status">
        {counted(out.taken, "shot")} taken back out
        {out.taken === out.total ? "." : ` of ${out.total}. ${out.stay.join(" ")}`}
      </p>
    );
  }
  return (
    <p className="deeds">
      <a className="btn main" href={placeHref("shots", undefined, isOneSession ? { sessionId } : {})}>
        {ids.length === 1 ? "Show the shot" : "Show the shots"}
      </a>
      <button
        type="button"
        className="btn"
        disabled={isBusy}
        onClick={() => {
          setIsBusy(true);
          void takeBack(ids, setOut).finally(() => setIsBusy(false));
        }}
      >
        {isBusy ? `Taking back out, ${out?.taken ?? 0} of ${ids.length}` : "Take these back out"}
      </button>
    </p>
  );
}

/** What was noticed in files that are in, each kind of sentence once. */
function SaidOfThem({ progress }: { readonly progress: BringProgress }): ReactElement | null {
  const kinds = findingsByCode(progress);
  if (kinds.length === 0) return null;
  return (
    <details>
      <summary>{counted(kinds.length, "thing")} noticed in files that are in</summary>
      <ul className="findings">
        {kinds.map(({ code, severity, sentence, remedy, files }) => (
          <li key={code} className={severity}>
            <b>{counted(files.length, "file")}.</b> {files.length > 1 ? "For one: " : ""}
            {sentence} <span className="quiet">{remedy}</span>
          </li>
        ))}
      </ul>
    </details>
  );
}

const CUT_OFF = "bring-in-cut-off";
/** So many are shown at once; the others open on request. */
const SHOWN_PROBLEMS = 50;

function ProblemList({ progress, onAgain }: BringingViewProps): ReactElement {
  const { problems, isRunning } = progress;
  const [isAll, setIsAll] = useState(false);
  const cutOff = problems.filter(({ code }) => code === CUT_OFF).length;
  const shown = isAll ? problems : problems.slice(0, SHOWN_PROBLEMS);
  return (
    <section className="problems" aria-label="Files that could not be brought in">
      <h3>{counted(problems.length, "file")} could not be brought in</h3>
      <Problems problems={shown} />
      {shown.length === problems.length ? null : (
        <button type="button" className="btn" onClick={() => setIsAll(true)}>
          Show all {problems.length}
        </button>
      )}
      {isRunning ? null : (
        <p className="deeds">
          <button type="button" className="btn" onClick={() => onAgain({ isCutOffTaken: false })}>
            Try {problems.length === 1 ? "this one" : "these"} again
          </button>
          {cutOff === 0 ? null : (
            <button type="button" className="btn" onClick={() => onAgain({ isCutOffTaken: true })}>
              Take what is there of {counted(cutOff, "cut-off file")}
            </button>
          )}
        </p>
      )}
    </section>
  );
}

/** Each file with what is wrong and what to do. */
export function Problems({ problems }: { readonly problems: readonly FileProblem[] }): ReactElement {
  return (
    <ul className="findings problem-list">
      {problems.map(({ recording, sentence, remedy }) => (
        <li key={recording.path} className="stop">
          <b>{recording.path}</b> {afterName(sentence, recording.file.name)} <span className="quiet">{remedy}</span>
        </li>
      ))}
    </ul>
  );
}

/** The sentence goes on from the path in front of it. */
const afterName = (sentence: string, name: string): string =>
  sentence.startsWith(`${name} `) ? sentence.slice(name.length + 1) : sentence;
