import { type ShotFacts, type ShotResult, UnderfootError } from "@underfoot/domain";
import { columnMappingFromText, shotFactsFromSidecar } from "@underfoot/formats";
import { DEFAULT_SETTINGS, type Settings, withMarks } from "@underfoot/mechanics";
import type { HistoryShape, SettingsShape, ShotShape } from "@underfoot/protocol";
import { answered, CallFault } from "../api/call.ts";
import { type Mark, type Source, UnreadSource } from "./source.ts";

/** A shot of the library as something to be read. */
export function storedSource(shot: ShotShape): Source {
  const path = `/api/shots/${encodeURIComponent(shot.id)}/recording`;
  const { id, fileName, recordingSha256, stretch, mapping } = shot;
  return {
    ...{ id, kind: "stored", file: fileName, sha256: recordingSha256, stretch },
    ...(mapping === undefined ? {} : { mapping: columnMappingFromText(JSON.stringify(mapping)) }),
    read: async () => {
      const response = await answered(path).catch((cause: unknown) => {
        if (!(cause instanceof CallFault)) throw cause;
        throw new UnreadSource(cause.code === "no-answer" ? "the server does not answer." : cause.message, { cause });
      });
      return { bytes: new Uint8Array(await response.arrayBuffer()), sidecarText: undefined };
    },
  };
}

/** What was said of a stored shot; undefined where nobody said it. */
export function storedFacts({ facts }: Pick<ShotShape, "facts">): ShotFacts | undefined {
  return facts === undefined ? undefined : shotFactsFromSidecar(JSON.stringify(facts)).facts;
}

/** The facts that the results hang on: a label, a result or a note asks nothing anew. */
export function factsOfResults({ result: _, note: __, ...facts }: ShotFacts): ShotFacts {
  return { ...facts, keep: "kept" };
}

/** The facts with a mark, before the server has said anything; undefined where it will refuse it. */
export function wishedFacts(facts: ShotFacts, mark: Mark): ShotFacts | undefined {
  try {
    return withMarks(facts, [mark]);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return undefined;
  }
}

/** The facts as they were without the marks made since the shot was opened; undefined where there are none. */
export function factsBefore(now: ShotFacts, opened: ShotFacts): ShotFacts | undefined {
  const marks = (facts: ShotFacts): readonly string[] =>
    facts.events.filter(({ source }) => source === "marked").map(({ event, timeS }) => `${event} ${timeS}`);
  const known = new Set(marks(opened));
  return marks(now).every((mark) => known.has(mark)) ? undefined : { ...now, events: opened.events };
}

/** The library's settings, as the chain takes them. */
export function libraryKeptSettings({ mechanics }: SettingsShape): Settings {
  return { ...DEFAULT_SETTINGS, ...(mechanics as Partial<Settings>) };
}

/** A result after a part of it was said; a part that is undefined is taken back. null: nothing is said any more. */
export function resultAfter(
  result: ShotResult | undefined,
  part: { readonly [K in keyof ShotResult]: ShotResult[K] | undefined },
): ShotResult | null {
  const said = Object.entries({ ...result, ...part }).filter(([, value]) => value !== undefined);
  return said.length === 0 ? null : (Object.fromEntries(said) as ShotResult);
}

/** True where an entry of a shot's history can be undone from the shot: never that it was brought in. */
export function isUndoable({ undoneById, changes }: HistoryShape): boolean {
  return undoneById === undefined && changes.length > 0 && !changes.some(isBringingIn);
}

/** True where "undo" takes back this entry: an undoing is not undone by it. */
export const isUndoneNext = (entry: HistoryShape): boolean => entry.undoesId === undefined && isUndoable(entry);

function isBringingIn({ before }: Readonly<Record<string, unknown>>): boolean {
  return typeof before === "object" && before !== null && "removed_ms" in before;
}
