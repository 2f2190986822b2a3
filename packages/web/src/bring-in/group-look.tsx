import type { ShotFacts } from "@underfoot/domain";
import { type ColumnMapping, columnMappingText, mappingFor } from "@underfoot/formats";
import type { FirstLook, LookedFile } from "@underfoot/pipeline";
import { type ReactElement, useEffect, useState } from "react";
import { call } from "../api/call.ts";
import { useDeed } from "../api/use-deed.ts";
import type { Computer } from "../computing/computer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { FindingList } from "../shot/finding-list.tsx";
import { counted } from "./bring-words.ts";
import { ColumnList } from "./column-list.tsx";
import type { FileGroup } from "./file-groups.ts";
import { sizeText } from "./look-words.ts";
import type { PickedRecording } from "./picked-folders.ts";
import { PlateEntry } from "./plate-entry.tsx";
import { StanceFigure } from "./stance-figure.tsx";
import { useFirstLook } from "./use-first-look.ts";

/** What is understood of one kind of file. */
export interface Understood {
  readonly look: FirstLook | undefined;
  /** How its text is read; undefined for C3D. */
  readonly mapping: ColumnMapping | undefined;
}

export interface GroupLookProps {
  readonly group: FileGroup;
  readonly computer: Computer;
  /** Those that are kept. */
  readonly mappings: readonly ColumnMapping[];
  /** Entered for the folder; the first file's own sidecar goes before them. */
  readonly facts: ShotFacts | undefined;
  readonly onUnderstood: (key: string, understood: Understood) => void;
}

/** One kind of file: its columns with guesses, and the quiet stance that follows from them. */
export function GroupLook({ group, computer, mappings, facts, onUnderstood }: GroupLookProps): ReactElement {
  const [chosenPath, setChosenPath] = useState<string>();
  const first = lookedAt(group, chosenPath);
  const [said, setSaid] = useState<ColumnMapping>();
  const kept = group.format === "text" ? mappingFor(mappings, group.columns) : undefined;
  const mapping = said ?? kept;
  const { look, isBusy } = useFirstLook(first, mapping, computer);
  const tried = look?.status === "looked" ? (mapping ?? look.mapping) : mapping;
  useEffect(() => {
    if (!isBusy) onUnderstood(group.key, { look, mapping: tried });
  }, [group.key, look, tried, isBusy, onUnderstood]);
  const count = group.recordings.length;
  const columns = `${group.columns.length} ${group.format === "c3d" ? "channels" : "columns"}`;
  return (
    <section className="group" aria-busy={isBusy}>
      <h3>{count === 1 ? `1 file with ${columns}` : `${counted(count, "file")} with the same ${columns}`}</h3>
      <LookAt group={group} path={first.path} onPath={setChosenPath} />
      {look === undefined ? <p className="state">Reading {first.file.name}.</p> : null}
      {look?.status === "error" ? (
        <div className="fault" role="alert">
          <p>
            {look.sentence} <span className="quiet">{look.remedy}</span>
          </p>
        </div>
      ) : null}
      {look?.status === "looked" ? (
        <Looked
          look={look}
          facts={look.facts ?? facts}
          keptName={said === undefined ? kept?.name : undefined}
          mapping={tried}
          onMapping={group.format === "text" ? setSaid : undefined}
        />
      ) : null}
    </section>
  );
}

/** The file that a person chose, else the first with a sidecar, for it shows most. */
function lookedAt({ recordings }: FileGroup, path: string | undefined): PickedRecording {
  const [first] = recordings;
  const found = recordings.find((one) => one.path === path) ?? recordings.find(({ sidecar }) => sidecar !== undefined);
  const shown = found ?? first;
  if (shown === undefined) throw new Error("A kind of file without a file.");
  return shown;
}

interface LookAtProps {
  readonly group: FileGroup;
  readonly path: string;
  readonly onPath: (path: string) => void;
}

/** Which of the files is looked at: they are understood alike, but a person may want to see more than one. */
function LookAt({ group: { recordings }, path, onPath }: LookAtProps): ReactElement {
  if (recordings.length === 1) return <p className="small">{path}</p>;
  return (
    <label className="field look-at">
      <span>Looked at</span>
      <select value={path} onChange={({ target }) => onPath(target.value)}>
        {recordings.map((one) => (
          <option key={one.path}>{one.path}</option>
        ))}
      </select>
    </label>
  );
}

interface LookedProps {
  readonly look: LookedFile;
  readonly facts: ShotFacts | undefined;
  readonly keptName: string | undefined;
  /** As said by now: what was looked at may be one change behind. */
  readonly mapping: ColumnMapping | undefined;
  readonly onMapping: ((mapping: ColumnMapping) => void) | undefined;
}

function Looked({ look, facts, keptName, mapping, onMapping }: LookedProps): ReactElement {
  const { stance, refusal, questions, findings, guesses } = look;
  return (
    <>
      <p className="small">
        {sizeText(look)}.{keptName === undefined ? "" : ` Its columns are read by the kept mapping “${keptName}”.`}
      </p>
      <div className="group-body">
        <div className="group-columns">
          <h4>
            The first second of each {look.format === "c3d" ? "channel" : "column"}, time falling, each on its own scale
          </h4>
          {onMapping === undefined ? null : (
            <p className="small">
              Say what each column means. A unit that you choose counts for every column of its kind that has none yet.
            </p>
          )}
          <ColumnList look={look} mapping={mapping} onMapping={onMapping} />
          {onMapping === undefined || mapping === undefined ? null : (
            <PlateEntry mapping={mapping} onMapping={onMapping} />
          )}
        </div>
        <div className="group-stance">
          {stance === undefined ? (
            <div className="no-stance">
              <h4>No stance to show yet</h4>
              {refusal === undefined ? null : (
                <p role="status">
                  {refusal.sentence} <span className="quiet">{refusal.remedy}</span>
                </p>
              )}
            </div>
          ) : (
            <StanceFigure stance={stance} facts={facts} />
          )}
          {onMapping === undefined || mapping === undefined ? null : (
            <KeepMapping key={keptName} mapping={mapping} keptName={keptName} isWhole={refusal === undefined} />
          )}
        </div>
      </div>
      {questions.length === 0 ? null : (
        <div>
          <h4>What only you can say</h4>
          <ul className="asked-of-you">
            {questions.map(({ code, sentence, remedy }) => (
              <li key={code}>
                {sentence} <span className="quiet">{remedy}</span>
              </li>
            ))}
          </ul>
        </div>
      )}
      <FindingList findings={[...guesses, ...findings]} />
    </>
  );
}

interface KeepMappingProps {
  readonly mapping: ColumnMapping;
  readonly keptName: string | undefined;
  readonly isWhole: boolean;
}

/** Keeps what was said of the columns under a name, for every later file with the same ones. */
function KeepMapping({ mapping, keptName, isWhole }: KeepMappingProps): ReactElement {
  const [name, setName] = useState(keptName ?? "");
  const [keptAs, setKeptAs] = useState<string>();
  const deed = useDeed();
  const keep = async (): Promise<void> => {
    const json = JSON.parse(columnMappingText({ ...mapping, name })) as Record<string, unknown>;
    const kept = await deed.run(() => call("put /api/mappings/{name}", { params: { name }, json }));
    if (kept !== undefined) setKeptAs(kept.name);
  };
  return (
    <form
      className="keep-mapping"
      onSubmit={(event) => {
        event.preventDefault();
        void keep();
      }}
    >
      <label className="field">
        <span>Keep this mapping as</span>
        <input
          type="text"
          required
          maxLength={80}
          value={name}
          placeholder="two plates, newtons"
          onChange={({ target }) => setName(target.value)}
        />
      </label>
      <button type="submit" className="btn" disabled={!isWhole || deed.isBusy}>
        Keep
      </button>
      <p className="small" role="status">
        {keptAs === undefined
          ? isWhole
            ? "Later files with the same columns are then read by it."
            : "It can be kept once every column that it uses has its unit."
          : `Kept as “${keptAs}”.`}
      </p>
      <FaultNote fault={deed.fault} />
    </form>
  );
}
