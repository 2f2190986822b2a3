import type { ShotFacts } from "@underfoot/domain";
import type { Entry, Mark, Source } from "./source.ts";

/** Files that were dropped to be looked at, and what a person entered: inputs only, nothing of it is stored. */
export interface OpenedFiles {
  readonly sources: readonly Source[];
  /** Every entry of a file, oldest first; the last one holds, taking it away is undo. */
  readonly entries: Readonly<Record<string, readonly Entry[]>>;
}

export const NO_FILES: OpenedFiles = { sources: [], entries: {} };
const NO_ENTRY: Entry = { marks: [], facts: undefined };

export type FilesChange =
  | { readonly kind: "added"; readonly sources: readonly Source[] }
  | { readonly kind: "marked"; readonly id: string; readonly mark: Mark }
  | { readonly kind: "factsEntered"; readonly id: string; readonly facts: ShotFacts }
  | { readonly kind: "undone"; readonly id: string };

/** The entry that holds for a file. */
export function entryOf({ entries }: OpenedFiles, id: string): Entry {
  return entries[id]?.at(-1) ?? NO_ENTRY;
}

/** True where there is something to undo. */
export function canUndo({ entries }: OpenedFiles, id: string): boolean {
  return (entries[id]?.length ?? 0) > 0;
}

/** The files after a change. A file of a name that is already there takes its place, with its entries. */
export function filesAfter(files: OpenedFiles, change: FilesChange): OpenedFiles {
  switch (change.kind) {
    case "added": {
      const fresh = new Map(change.sources.map((source) => [source.id, source]));
      const kept = files.sources.map((source) => fresh.get(source.id) ?? source);
      const known = new Set(files.sources.map((source) => source.id));
      return { ...files, sources: [...kept, ...change.sources.filter((source) => !known.has(source.id))] };
    }
    case "marked": {
      const entry = entryOf(files, change.id);
      const others = entry.marks.filter((mark) => mark.event !== change.mark.event);
      return withEntry(files, change.id, { ...entry, marks: [...others, change.mark] });
    }
    case "factsEntered":
      return withEntry(files, change.id, { ...entryOf(files, change.id), facts: change.facts });
    case "undone": {
      const entries = files.entries[change.id] ?? [];
      return { ...files, entries: { ...files.entries, [change.id]: entries.slice(0, -1) } };
    }
  }
}

function withEntry(files: OpenedFiles, id: string, entry: Entry): OpenedFiles {
  return { ...files, entries: { ...files.entries, [id]: [...(files.entries[id] ?? []), entry] } };
}
