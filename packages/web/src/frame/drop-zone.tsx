import { type ReactElement, useCallback } from "react";
import { useDrop } from "./use-drop.ts";

export interface DropZoneProps {
  readonly onFiles: (files: readonly File[]) => void;
}

/** Files dropped anywhere on the page. Nothing leaves the page: they are read in it. */
export function DropZone({ onFiles }: DropZoneProps): ReactElement | null {
  const isOver = useDrop(
    useCallback(
      ({ files }) => {
        if (files.length > 0) onFiles(Array.from(files));
      },
      [onFiles],
    ),
  );
  return isOver ? (
    <div className="drop-over">
      <p>Drop recordings here, with their sidecars if there are any. They are read in this page and sent nowhere.</p>
    </div>
  ) : null;
}

/** A button that lets a person choose files instead of dropping them. */
export function FileButton({ onFiles }: DropZoneProps): ReactElement {
  return (
    <label className="btn file">
      Open files
      <input
        type="file"
        multiple
        accept=".c3d,.csv,.txt,.tsv,.json"
        onChange={(event) => {
          onFiles(Array.from(event.target.files ?? []));
          event.target.value = "";
        }}
      />
    </label>
  );
}
