import { type ColumnMapping, columnMappingFromText } from "@underfoot/formats";
import { type ReactElement, useCallback, useEffect, useMemo, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { workerComputer } from "../computing/computer.ts";
import type { Place } from "../frame/place.ts";
import { dayText } from "./bring-place.ts";
import { DropArea, FilePickers } from "./file-pickers.tsx";
import { FolderPart } from "./folder-part.tsx";
import { takeHanded } from "./handed-files.ts";
import { type PickedFile, type PickedFolder, pickedFolders } from "./picked-folders.ts";
import "./bring-in.css";

export interface BringInPageProps {
  readonly place: Place;
}

interface Shown {
  readonly number: number;
  readonly folder: PickedFolder;
}

/** What are these columns? Nothing is stored before it was seen. */
export function BringInPage({ place }: BringInPageProps): ReactElement {
  const [shown, setShown] = useState<readonly Shown[]>([]);
  const [computer] = useState(workerComputer);
  useEffect(() => () => computer.stop(), [computer]);
  useEffect(() => {
    document.title = "Bring in, Underfoot";
  }, []);
  const onFiles = useCallback((files: readonly PickedFile[]): void => {
    const folders = pickedFolders(files);
    setShown((before) => {
      const from = (before.at(-1)?.number ?? 0) + 1;
      return [...before, ...folders.map((folder, k) => ({ number: from + k, folder }))];
    });
  }, []);
  useEffect(() => {
    const handed = takeHanded();
    if (handed.length > 0) onFiles(handed);
  }, [onFiles]);
  const about = useAnswer("get /api/about", {});
  const named = useAnswer("get /api/mappings", {}, ["setting"]);
  const mappings = useMemo(() => mappingsFrom(named.answer ?? []), [named.answer]);
  const isReady = !(named.isBusy && named.answer === undefined);
  return (
    <div className="bring-in">
      <DropArea onFiles={onFiles} />
      <h1>What are these columns?</h1>
      <p className="opening">
        Drop files or whole folders anywhere on this screen. You see what each column is taken for, and the quiet stance
        that follows from it, before anything is stored.
      </p>
      <FilePickers onFiles={onFiles} />
      {shown.length === 0 ? (
        <p className="small opening">
          Recordings are C3D files or tables of numbers (csv, tsv, txt). A sidecar, NAME.shot.json beside its recording,
          says who stood where; files of other kinds are passed over. Everything stays on this machine.
        </p>
      ) : null}
      {isReady
        ? shown.map(({ number, folder }) =>
            folder.recordings.length === 0 ? (
              <NothingThere key={number} folder={folder} />
            ) : (
              <FolderPart
                key={number}
                folder={folder}
                computer={computer}
                mappings={mappings}
                today={about.answer?.day ?? dayText(Date.now())}
                sessionId={place.query["sessionId"]}
                onPutAway={() => setShown((before) => before.filter((one) => one.number !== number))}
              />
            ),
          )
        : null}
    </div>
  );
}

function NothingThere({ folder }: { readonly folder: PickedFolder }): ReactElement {
  const others = folder.passedOver + folder.sidecarsAlone.length;
  return (
    <div className="fault" role="alert">
      <p>
        There is no recording in {folder.name === "" ? "these files" : `the folder ${folder.name}`}, only {others}{" "}
        {others === 1 ? "file" : "files"} of other kinds.{" "}
        <span className="quiet">Drop C3D files or tables of numbers: .c3d, .csv, .tsv, .txt.</span>
      </p>
    </div>
  );
}

/** The server checked them when they were kept. */
const mappingsFrom = (
  named: readonly { readonly name: string; readonly mapping: Readonly<Record<string, unknown>> }[],
): readonly ColumnMapping[] =>
  named.map(({ name, mapping }) => ({ ...columnMappingFromText(JSON.stringify(mapping)), name }));
