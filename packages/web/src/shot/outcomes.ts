import type { ShotOutcome, ShotQuestion } from "@underfoot/pipeline";
import { type Computer, ComputingStopped } from "../computing/computer.ts";
import type { Entry, Source, SourceContent } from "./session.ts";

/** Where the answer to one question stands. */
export type OutcomeState =
  | { readonly stage: "reading" | "computing" }
  | { readonly stage: "stopped" }
  | { readonly stage: "done"; readonly outcome: ShotOutcome }
  /** The bytes could not be had: sentence and remedy for people. */
  | { readonly stage: "unread"; readonly sentence: string; readonly remedy: string }
  /** Our own defect. */
  | { readonly stage: "broken"; readonly message: string };

/** Answers by question: computed once, given again, never edited. */
export interface Outcomes {
  readonly of: (source: Source, entry: Entry, tell: (state: OutcomeState) => void) => () => void;
  readonly stop: () => void;
}

/** As much of the computer as shots need. */
interface ShotComputer extends Pick<Computer, "stop"> {
  readonly ask: (kind: "shot", question: ShotQuestion) => Promise<ShotOutcome>;
}

/** Recordings and answers kept in memory: the last few, so that going back and undo are immediate. */
const KEPT_OUTCOMES = 12;
const KEPT_RECORDINGS = 4;

/** @param sha256 lower-case hex of the bytes; undefined where this page may not form one */
export function outcomes(
  computer: ShotComputer,
  sha256: (bytes: Uint8Array<ArrayBuffer>) => Promise<string | undefined>,
): Outcomes {
  const contents = new Map<() => unknown, Promise<SourceContent & { readonly sha256: string | undefined }>>();
  const answers = new Map<string, ShotOutcome>();
  const contentOf = (source: Source) => {
    const known = contents.get(source.read);
    if (known) return known;
    const read = source.read().then(async (content) => ({ ...content, sha256: await sha256(content.bytes) }));
    kept(contents, source.read, read, KEPT_RECORDINGS);
    // A failed reading is tried again next time.
    read.catch(() => contents.delete(source.read));
    return read;
  };
  const waiting = new Set<() => void>();
  const answerTo = async (source: Source, entry: Entry, onComputing: () => void): Promise<ShotOutcome> => {
    const content = await contentOf(source);
    const key = `${source.id} ${content.sha256 ?? source.file} ${content.sidecarText ?? ""} ${JSON.stringify(entry)}`;
    const known = answers.get(key);
    if (known !== undefined) return known;
    onComputing();
    const answer = await computer.ask("shot", questionOf(source.file, content, entry));
    kept(answers, key, answer, KEPT_OUTCOMES);
    return answer;
  };
  const of: Outcomes["of"] = (source, entry, tell) => {
    let isWanted = true;
    const leave = (): void => {
      isWanted = false;
      waiting.delete(halt);
    };
    const told = (state: OutcomeState): void => {
      if (isWanted) tell(state);
    };
    const halt = (): void => {
      told({ stage: "stopped" });
      leave();
    };
    waiting.add(halt);
    told({ stage: "reading" });
    answerTo(source, entry, () => told({ stage: "computing" }))
      .then(
        (outcome) => told({ stage: "done", outcome }),
        (fault: unknown) => told(stateOfFault(fault, source)),
      )
      .finally(() => waiting.delete(halt));
    return leave;
  };
  const stop = (): void => {
    for (const halt of [...waiting]) halt();
    computer.stop();
  };
  return { of, stop };
}

function questionOf(
  file: string,
  content: SourceContent & { readonly sha256: string | undefined },
  entry: Entry,
): ShotQuestion {
  return {
    bytes: content.bytes,
    file,
    marks: entry.marks,
    ...(content.sha256 === undefined ? {} : { sha256: content.sha256 }),
    ...(content.sidecarText === undefined ? {} : { sidecarText: content.sidecarText }),
    ...(entry.facts === undefined ? {} : { facts: entry.facts }),
  };
}

function stateOfFault(fault: unknown, source: Source): OutcomeState {
  if (fault instanceof ComputingStopped) return { stage: "stopped" };
  if (fault instanceof UnreadSource || fault instanceof DOMException) {
    return {
      stage: "unread",
      sentence: `${source.file} could not be read: ${fault.message}`,
      remedy: remedyOf(source),
    };
  }
  return { stage: "broken", message: fault instanceof Error ? fault.message : String(fault) };
}

/** The bytes of a recording could not be had. */
export class UnreadSource extends Error {
  override readonly name: string = "UnreadSource";
}

function remedyOf(source: Source): string {
  return source.kind === "file"
    ? "Check that the file is still where it was, then drop it here again."
    : "Start Underfoot again in its terminal, then load this page anew.";
}

function kept<K, V>(map: Map<K, V>, key: K, value: V, most: number): void {
  map.delete(key);
  map.set(key, value);
  if (map.size > most) {
    const oldest = map.keys().next();
    if (!oldest.done) map.delete(oldest.value);
  }
}
