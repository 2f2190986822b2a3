import { type ReactElement, useEffect, useState } from "react";

export interface DropZoneProps {
  readonly onFiles: (files: readonly File[]) => void;
}

/** Files dropped anywhere on the page. Nothing leaves the page: they are read in it. */
export function DropZone({ onFiles }: DropZoneProps): ReactElement | null {
  const [isOver, setIsOver] = useState(false);
  useEffect(() => {
    const over = (event: DragEvent): void => {
      event.preventDefault();
      setIsOver(event.dataTransfer?.types.includes("Files") ?? false);
    };
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) setIsOver(false);
    };
    const drop = (event: DragEvent): void => {
      event.preventDefault();
      setIsOver(false);
      const files = Array.from(event.dataTransfer?.files ?? []);
      if (files.length > 0) onFiles(files);
    };
    document.addEventListener("dragover", over);
    document.addEventListener("dragleave", leave);
    document.addEventListener("drop", drop);
    return () => {
      document.removeEventListener("dragover", over);
      document.removeEventListener("dragleave", leave);
      document.removeEventListener("drop", drop);
    };
  }, [onFiles]);
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
