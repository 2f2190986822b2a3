import type { EventName, ShotFacts } from "@underfoot/domain";

/** A time a person gave an event, seconds from the first sample. */
export interface Mark {
  readonly event: EventName;
  readonly timeS: number;
  readonly sdMs: number;
}

/** What one recording is read from: the server's folder (of invented shots: demo) or a file that was dropped. Bytes are fetched when it is opened. */
export interface Source {
  readonly id: string;
  readonly kind: "demo" | "served" | "file";
  /** Name of the recording's file. */
  readonly file: string;
  /** What the list says of it; absent where nobody said. */
  readonly intent?: string;
  readonly lie?: string;
  readonly club?: string;
  readonly player?: string;
  readonly keep?: "kept" | "set-aside";
  readonly read: () => Promise<SourceContent>;
}

export interface SourceContent {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly sidecarText: string | undefined;
}

/** What a person added to one recording. A correction is a new input; nothing computed is ever edited. */
export interface Entry {
  readonly marks: readonly Mark[];
  /** Entered in the form, where no sidecar says it. */
  readonly facts: ShotFacts | undefined;
}

/** Inputs only: what is open and what a person entered. Results are computed from it and never kept here. */
export interface Session {
  readonly sources: readonly Source[];
  readonly openId: string | undefined;
  /** Every entry of a recording, oldest first; the last one holds, taking it away is undo. */
  readonly entries: Readonly<Record<string, readonly Entry[]>>;
}

export const EMPTY_SESSION: Session = { sources: [], openId: undefined, entries: {} };
const NO_ENTRY: Entry = { marks: [], facts: undefined };

export type SessionChange =
  | { readonly kind: "added"; readonly sources: readonly Source[]; readonly isOpened: boolean }
  | { readonly kind: "opened"; readonly id: string }
  | { readonly kind: "marked"; readonly mark: Mark }
  | { readonly kind: "factsEntered"; readonly facts: ShotFacts }
  | { readonly kind: "undone" };

/** The entry that holds for a recording. */
export function entryOf(session: Session, id: string | undefined): Entry {
  return (id === undefined ? undefined : session.entries[id]?.at(-1)) ?? NO_ENTRY;
}

/** True where there is something to undo for the open recording. */
export function canUndo(session: Session): boolean {
  return session.openId !== undefined && (session.entries[session.openId]?.length ?? 0) > 0;
}

/** The recording `step` places after the open one, or the open one at the ends. */
export function neighbourId(session: Session, step: 1 | -1): string | undefined {
  const at = session.sources.findIndex((source) => source.id === session.openId);
  return (session.sources[at + step] ?? session.sources[at])?.id;
}

/** The session after a change. A file of a name that is already there takes its place, with its entries. */
export function sessionAfter(session: Session, change: SessionChange): Session {
  switch (change.kind) {
    case "added": {
      const fresh = new Map(change.sources.map((source) => [source.id, source]));
      const kept = session.sources.map((source) => fresh.get(source.id) ?? source);
      const known = new Set(session.sources.map((source) => source.id));
      const sources = [...kept, ...change.sources.filter((source) => !known.has(source.id))];
      const first = change.sources[0]?.id;
      const openId = change.isOpened && first !== undefined ? first : (session.openId ?? sources[0]?.id);
      return { ...session, sources, openId };
    }
    case "opened":
      return session.sources.some((source) => source.id === change.id) ? { ...session, openId: change.id } : session;
    case "marked": {
      const entry = entryOf(session, session.openId);
      const others = entry.marks.filter((mark) => mark.event !== change.mark.event);
      return withEntry(session, { ...entry, marks: [...others, change.mark] });
    }
    case "factsEntered":
      return withEntry(session, { ...entryOf(session, session.openId), facts: change.facts });
    case "undone": {
      if (session.openId === undefined) return session;
      const entries = session.entries[session.openId] ?? [];
      return { ...session, entries: { ...session.entries, [session.openId]: entries.slice(0, -1) } };
    }
  }
}

function withEntry(session: Session, entry: Entry): Session {
  if (session.openId === undefined) return session;
  const before = session.entries[session.openId] ?? [];
  return { ...session, entries: { ...session.entries, [session.openId]: [...before, entry] } };
}
