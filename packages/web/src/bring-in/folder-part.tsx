import type { ShotFacts } from "@underfoot/domain";
import type { ColumnMapping } from "@underfoot/formats";
import { type ReactElement, useCallback, useMemo, useState } from "react";
import type { Computer } from "../computing/computer.ts";
import { type BringPlace, bringTask, isUnderstood, lackingPlace, type TaskOptions } from "./bring-place.ts";
import { counted } from "./bring-words.ts";
import type { BringTask } from "./bringing.ts";
import { BringingView, Problems } from "./bringing-view.tsx";
import { type FileGroup, fileGroups } from "./file-groups.ts";
import { FolderFacts } from "./folder-facts.tsx";
import { GroupLook, type Understood } from "./group-look.tsx";
import type { PickedFolder, PickedRecording } from "./picked-folders.ts";
import { PlaceChoice } from "./place-choice.tsx";
import { useBringing } from "./use-bringing.ts";
import { useFileKinds } from "./use-file-kinds.ts";

export interface FolderPartProps {
  readonly folder: PickedFolder;
  readonly computer: Computer;
  readonly mappings: readonly ColumnMapping[];
  readonly today: string;
  /** The session from whose page one came. */
  readonly sessionId: string | undefined;
  readonly onPutAway: () => void;
}

/** One folder: what its files are taken for, what is said of them once, and one button that brings them in. */
export function FolderPart(props: FolderPartProps): ReactElement {
  const { folder, computer, mappings, today, onPutAway } = props;
  const { recordings } = folder;
  const kinds = useFileKinds(recordings, computer);
  const { groups, problems } = useMemo(() => fileGroups(kinds.looked), [kinds.looked]);
  const [understood, setUnderstood] = useState<Readonly<Record<string, Understood>>>({});
  const onUnderstood = useCallback(
    (key: string, one: Understood) => setUnderstood((before) => ({ ...before, [key]: one })),
    [],
  );
  const [facts, setFacts] = useState<ShotFacts>();
  const said = recordings.filter(({ sidecar }) => sidecar !== undefined).length;
  const [place, setPlace] = useState<BringPlace>(() => firstPlace(props, said));
  const bringing = useBringing();
  const plates = platesOf(groups, understood);
  const readable = groups.flatMap((group) => group.recordings);
  const factless = readable.filter(({ sidecar }) => sidecar === undefined).length;
  return (
    <section className="folder-part" aria-label={folderName(folder)}>
      <FolderHead
        folder={folder}
        looked={kinds.looked.length}
        answer={kinds.isDone ? answerText(groups, understood) : undefined}
        onPutAway={onPutAway}
      />
      {bringing.progress === undefined && problems.length > 0 ? (
        <section className="problems">
          <h3>{counted(problems.length, "file")} cannot be read</h3>
          <Problems problems={problems} />
        </section>
      ) : null}
      {groups.map((group) => (
        <GroupLook key={group.key} {...{ group, computer, mappings, facts, onUnderstood }} />
      ))}
      {groups.length === 0 ? null : (
        <div className="once">
          <h3>Said once for all</h3>
          <div className="once-body">
            <FolderFacts
              key={plates.map(({ index, centreM }) => `${index} ${centreM.x} ${centreM.y}`).join()}
              {...{ factless, plates, facts }}
              total={readable.length}
              onFacts={setFacts}
            />
            <PlaceChoice
              place={place}
              today={today}
              said={readable.length - factless}
              total={readable.length}
              onPlace={setPlace}
            />
          </div>
          <BringDeeds {...{ kinds, groups, problems, understood, place, facts, bringing }} />
        </div>
      )}
    </section>
  );
}

const folderName = ({ name }: PickedFolder): string => (name === "" ? "Files" : `Folder ${name}`);

function firstPlace({ sessionId, today }: FolderPartProps, said: number): BringPlace {
  if (sessionId !== undefined) return { kind: "session", sessionId };
  return said > 0 ? { kind: "said" } : { kind: "new", playerId: undefined, day: today };
}

/** Those of the first kind of file that is understood and has recordings without a sidecar. */
function platesOf(groups: readonly FileGroup[], understood: Readonly<Record<string, Understood>>) {
  const asked = groups.filter(({ recordings }) => recordings.some(({ sidecar }) => sidecar === undefined));
  for (const { key } of asked) {
    const look = understood[key]?.look;
    if (look?.status === "looked" && look.plates.length > 0) return look.plates;
  }
  return [];
}

/** The screen's question answered: how many kinds of columns there are, and whether they are understood. */
function answerText(groups: readonly FileGroup[], understood: Readonly<Record<string, Understood>>): string {
  if (groups.length === 0) return "None of these files is a recording.";
  if (groups.some(({ key }) => understood[key]?.look === undefined)) return "Looking at the columns.";
  const unread = groups.filter(({ key }) => understood[key]?.look?.status === "error").length;
  const open = groups.filter((group) => !isUnderstood(group, understood[group.key])).length;
  const kinds = [
    counted(groups.length, "kind of columns", "kinds of columns"),
    ...(unread > 0 ? [`${unread} of them cannot be read`] : []),
    ...(open > 0 ? [`${open} of them ${open === 1 ? "waits" : "wait"} for you to say what the columns are`] : []),
  ].join("; ");
  return unread + open === 0 ? `${kinds}, understood as shown. Do the stances look right?` : `${kinds}.`;
}

interface FolderHeadProps {
  readonly folder: PickedFolder;
  readonly looked: number;
  /** Undefined while files are sorted. */
  readonly answer: string | undefined;
  readonly onPutAway: () => void;
}

function FolderHead({ folder, looked, answer, onPutAway }: FolderHeadProps): ReactElement {
  const { recordings, passedOver, sidecarsAlone } = folder;
  const sidecars = recordings.filter(({ sidecar }) => sidecar !== undefined).length;
  const parts = [
    counted(recordings.length, "recording"),
    `${sidecars} with a sidecar`,
    ...(passedOver > 0 ? [`${counted(passedOver, "other file")} passed over`] : []),
  ];
  return (
    <div className="folder-head">
      <h2>{folderName(folder)}</h2>
      <p>{parts.join(", ")}.</p>
      {answer === undefined ? (
        <p className="small" role="status">
          Sorting by columns: {looked.toLocaleString("en-GB")} of {recordings.length.toLocaleString("en-GB")}.
        </p>
      ) : (
        <p className="answer">{answer}</p>
      )}
      {sidecarsAlone.length === 0 ? null : (
        <p className="small">
          {counted(sidecarsAlone.length, "sidecar has", "sidecars have")} no recording beside:{" "}
          {sidecarsAlone.slice(0, 5).join(", ")}
          {sidecarsAlone.length > 5 ? " and others" : ""}.
        </p>
      )}
      <button type="button" className="btn" onClick={onPutAway}>
        Put away
      </button>
    </div>
  );
}

interface BringDeedsProps {
  readonly kinds: ReturnType<typeof useFileKinds>;
  readonly groups: readonly FileGroup[];
  readonly problems: ReturnType<typeof fileGroups>["problems"];
  readonly understood: Readonly<Record<string, Understood>>;
  readonly place: BringPlace;
  readonly facts: ShotFacts | undefined;
  readonly bringing: ReturnType<typeof useBringing>;
}

function BringDeeds(props: BringDeedsProps): ReactElement {
  const { kinds, groups, problems, understood, place, facts, bringing } = props;
  const { progress, bring, cancel, forget } = bringing;
  const ready = groups.filter((group) => isUnderstood(group, understood[group.key]));
  const unready = groups.filter((group) => !ready.includes(group)).flatMap(({ recordings }) => recordings);
  const count = ready.reduce((total, { recordings }) => total + recordings.length, 0);
  const lacking = lackingPlace(place);
  const taskOf = (recording: PickedRecording, how: Pick<TaskOptions, "isDryRun" | "isCutOffTaken">): BringTask => {
    const group = groups.find(({ recordings }) => recordings.includes(recording));
    const mapping = group === undefined ? undefined : understood[group.key]?.mapping;
    return bringTask(recording, { rateHz: group?.rateHz ?? Number.NaN, mapping }, { place, facts, ...how });
  };
  const start = (isDryRun: boolean): void => {
    forget();
    const tasks = ready.flatMap(({ recordings }) =>
      recordings.map((recording) => taskOf(recording, { isDryRun, isCutOffTaken: false })),
    );
    void bring(tasks, { isDryRun, problems });
  };
  const isRunning = progress?.isRunning ?? false;
  const isBrought = progress !== undefined && !progress.isDryRun && !isRunning;
  return (
    <>
      {isBrought || isRunning ? null : (
        <div className="bring-deeds">
          {unready.length === 0 || !kinds.isDone ? null : (
            <p>
              {counted(unready.length, "file stays", "files stay")} out until the columns are understood: see above.
            </p>
          )}
          {lacking === undefined ? null : <p role="status">{lacking}</p>}
          <p className="deeds">
            <button
              type="button"
              className="btn main"
              disabled={count === 0 || !kinds.isDone || lacking !== undefined}
              onClick={() => start(false)}
            >
              Bring {counted(count, "recording")} in
            </button>
            <button type="button" className="btn" disabled={count === 0 || !kinds.isDone} onClick={() => start(true)}>
              Look only
            </button>
          </p>
          <p className="small">Look only checks every file to its end and stores nothing.</p>
        </div>
      )}
      {progress === undefined ? null : (
        <BringingView
          progress={progress}
          onCancel={cancel}
          onGoOn={() => void bring(progress.left, { isDryRun: progress.isDryRun })}
          onAgain={({ isCutOffTaken }) => {
            const { isDryRun } = progress;
            const again = progress.problems.map(({ recording }) => taskOf(recording, { isDryRun, isCutOffTaken }));
            void bring(again, { isDryRun });
          }}
        />
      )}
    </>
  );
}
