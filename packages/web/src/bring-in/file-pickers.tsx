import { type ReactElement, useCallback, useState } from "react";
import { useDrop } from "../frame/use-drop.ts";
import { droppedTree } from "./dropped-tree.ts";
import type { PickedFile } from "./picked-folders.ts";

interface FilesProps {
  readonly onFiles: (files: readonly PickedFile[]) => void;
}

/** Files and folders dropped anywhere on the screen. */
export function DropArea({ onFiles }: FilesProps): ReactElement | null {
  const [fault, setFault] = useState<string>();
  const isOver = useDrop(
    useCallback(
      (transfer) => {
        setFault(undefined);
        droppedTree(transfer).then(
          (files) => files.length > 0 && onFiles(files),
          (cause: unknown) => {
            if (!(cause instanceof DOMException)) throw cause;
            setFault(`What was dropped could not be read: ${cause.message}`);
          },
        );
      },
      [onFiles],
    ),
  );
  if (fault !== undefined)
    return (
      <div className="fault" role="alert">
        <p>
          {fault} <span className="quiet">Choose the files or the folder with the buttons instead.</span>
        </p>
      </div>
    );
  return isOver ? (
    <div className="drop-over">
      <p>Drop files or folders here. Nothing is stored before you have seen their columns.</p>
    </div>
  ) : null;
}

/** Files or a folder by the machine's own chooser. */
export function FilePickers({ onFiles }: FilesProps): ReactElement {
  return (
    <p className="deeds">
      <label className="btn file">
        Choose files
        <input
          type="file"
          multiple
          accept=".c3d,.csv,.txt,.tsv,.json"
          onChange={({ target }) => {
            onFiles(pickedFrom(target.files));
            target.value = "";
          }}
        />
      </label>
      <label className="btn file">
        Choose a folder
        <input
          type="file"
          {...WHOLE_FOLDER}
          onChange={({ target }) => {
            onFiles(pickedFrom(target.files));
            target.value = "";
          }}
        />
      </label>
    </p>
  );
}

/** Known to every browser by this name, and to no standard. */
const WHOLE_FOLDER = { webkitdirectory: "" } as const;

const pickedFrom = (files: FileList | null): readonly PickedFile[] =>
  Array.from(files ?? [], (file) => ({ path: file.webkitRelativePath || file.name, file }));
