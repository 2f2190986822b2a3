import { useEffect, useState } from "react";
import { type Computer, ComputingStopped } from "../computing/computer.ts";
import type { FileKind } from "./file-groups.ts";
import type { PickedRecording } from "./picked-folders.ts";

interface LookedRecording {
  readonly recording: PickedRecording;
  readonly kind: FileKind;
}

export interface FileKinds {
  readonly looked: readonly LookedRecording[];
  readonly isDone: boolean;
}

/** Enough for the names of the columns of nearly every file; where it is not, the whole file is read. */
const HEAD_BYTES = 65_536;
/** The page is drawn anew this often while files are sorted, ms. */
const TELL_EACH_MS = 200;

/** Sorts files by their columns, from their first bytes, away from the page's thread. Leaving the page ends it. */
export function useFileKinds(recordings: readonly PickedRecording[], computer: Computer): FileKinds {
  const [kinds, setKinds] = useState<FileKinds>({ looked: [], isDone: false });
  useEffect(() => {
    let isWanted = true;
    const sort = async (): Promise<void> => {
      const looked: LookedRecording[] = [];
      let toldMs = 0;
      for (const recording of recordings) {
        const kind = await fileKind(recording, computer);
        if (!isWanted) return;
        looked.push({ recording, kind });
        if (performance.now() - toldMs < TELL_EACH_MS) continue;
        toldMs = performance.now();
        setKinds({ looked: [...looked], isDone: false });
      }
      setKinds({ looked, isDone: true });
    };
    setKinds({ looked: [], isDone: false });
    sort().catch((fault: unknown) => {
      if (!(fault instanceof ComputingStopped)) throw fault;
    });
    return () => {
      isWanted = false;
    };
  }, [recordings, computer]);
  return kinds;
}

async function fileKind({ file }: PickedRecording, computer: Computer): Promise<FileKind> {
  try {
    const isShort = file.size <= HEAD_BYTES;
    const head = new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer());
    const kind = await computer.ask("first-kind", { bytes: head, file: file.name, isWhole: isShort });
    if (kind.status === "known" || isShort) return kind;
    const bytes = new Uint8Array(await file.arrayBuffer());
    return await computer.ask("first-kind", { bytes, file: file.name, isWhole: true });
  } catch (cause) {
    if (!(cause instanceof DOMException)) throw cause;
    return unreadFile(file.name);
  }
}

export const unreadFile = (name: string): Extract<FileKind, { status: "error" }> => ({
  status: "error",
  code: "file-gone",
  sentence: `${name} could not be read: it was moved, changed or removed since it was dropped, or may not be read.`,
  remedy: "Check that it is still where it was, then drop it again.",
});
