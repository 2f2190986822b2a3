import type { ShotFacts } from "@underfoot/domain";
import { useMemo } from "react";
import type { CallFault } from "../api/call.ts";
import { canUndo, entryOf, type FilesChange, type OpenedFiles } from "./opened-files.ts";
import type { Entry, Mark, Source } from "./source.ts";
import type { StoredShot } from "./use-stored-shot.ts";

/** What is open, from the library or a file, and what can be done with it. */
export interface OpenedShot {
  readonly source: Source;
  readonly entry: Entry;
  /** Without the marks made since it was opened; undefined where there are none. */
  readonly before: Entry | undefined;
  readonly title: string;
  readonly canUndo: boolean;
  /** Why the last thing done was refused. */
  readonly fault: CallFault | undefined;
  /** Undefined for a file that is only looked at. */
  readonly stored: StoredShot | undefined;
  readonly onMark: (mark: Mark) => void;
  readonly onFacts: (facts: ShotFacts) => void;
  readonly onUndo: () => void;
}

export function openedFromLibrary(stored: StoredShot): OpenedShot {
  const { shot, source, entry, before, fault } = stored;
  const number = shot.ordinal > 0 ? `Shot ${shot.ordinal}` : undefined;
  return {
    ...{ source, entry, before, fault, stored, canUndo: stored.canUndo },
    title: [number, shot.intent ?? (number === undefined ? shot.fileName : (shot.lieName ?? shot.fileName))]
      .filter((part) => part !== undefined)
      .join(", "),
    onMark: (mark) => void stored.mark(mark),
    onFacts: (facts) => void stored.say(facts),
    onUndo: () => void stored.undo(),
  };
}

/** @param id  of the file; undefined, or of none that is here: none is open */
export function useOpenedFile(
  files: OpenedFiles,
  id: string | undefined,
  change: (change: FilesChange) => void,
): OpenedShot | undefined {
  const source = files.sources.find((candidate) => candidate.id === id);
  const entry = source && entryOf(files, source.id);
  const before = useMemo<Entry | undefined>(
    () => (entry !== undefined && entry.marks.length > 0 ? { ...entry, marks: [] } : undefined),
    [entry],
  );
  if (source === undefined || entry === undefined) return undefined;
  return {
    ...{ source, entry, before, fault: undefined, stored: undefined },
    title: source.file,
    canUndo: canUndo(files, source.id),
    onMark: (mark) => change({ kind: "marked", id: source.id, mark }),
    onFacts: (facts) => change({ kind: "factsEntered", id: source.id, facts }),
    onUndo: () => change({ kind: "undone", id: source.id }),
  };
}
