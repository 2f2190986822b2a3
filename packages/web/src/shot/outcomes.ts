import type { Settings } from "@underfoot/mechanics";
import type { ShotOutcome, ShotQuestion } from "@underfoot/pipeline";
import { type Computer, ComputingStopped } from "../computing/computer.ts";
import { type Entry, type Source, type SourceContent, UnreadSource } from "./source.ts";

/** Everything an answer hangs on. */
export interface Asked {
  readonly source: Source;
  readonly entry: Entry;
  /** The library's; undefined: the defaults. */
  readonly settings: Settings | undefined;
}

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
  readonly of: (asked: Asked, tell: (state: OutcomeState) => void) => () => void;
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
  /** By hash where the library knows it: several shots may lie in one recording. */
  const contents = new Map<unknown, Promise<SourceContent & { readonly sha256: string | undefined }>>();
  const answers = new Map<string, ShotOutcome>();
  const contentOf = (source: Source) => {
    const key = source.sha256 ?? source.read;
    const known = contents.get(key);
    if (known) return known;
    const read = source
      .read()
      .then(async (content) => ({ ...content, sha256: source.sha256 ?? (await sha256(content.bytes)) }));
    kept(contents, key, read, KEPT_RECORDINGS);
    // A failed reading is tried again next time.
    read.catch(() => contents.delete(key));
    return read;
  };
  const waiting = new Set<() => void>();
  const answerTo = async (asked: Asked, onComputing: () => void): Promise<ShotOutcome> => {
    const { source, entry, settings } = asked;
    const content = await contentOf(source);
    const key = JSON.stringify([
      ...[source.id, content.sha256 ?? source.file, content.sidecarText],
      ...[source.stretch, source.mapping, entry, settings],
    ]);
    const known = answers.get(key);
    if (known !== undefined) return known;
    onComputing();
    const answer = await computer.ask("shot", questionOf(asked, content));
    kept(answers, key, answer, KEPT_OUTCOMES);
    return answer;
  };
  const of: Outcomes["of"] = (asked, tell) => {
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
    answerTo(asked, () => told({ stage: "computing" }))
      .then(
        (outcome) => told({ stage: "done", outcome }),
        (fault: unknown) => told(stateOfFault(fault, asked.source)),
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
  { source, entry, settings }: Asked,
  content: SourceContent & { readonly sha256: string | undefined },
): ShotQuestion {
  return {
    bytes: content.bytes,
    file: source.file,
    marks: entry.marks,
    ...(content.sha256 === undefined ? {} : { sha256: content.sha256 }),
    ...(content.sidecarText === undefined ? {} : { sidecarText: content.sidecarText }),
    ...(entry.facts === undefined ? {} : { facts: entry.facts }),
    ...(source.stretch === undefined ? {} : { stretch: source.stretch }),
    ...(source.mapping === undefined ? {} : { mapping: source.mapping }),
    ...(settings === undefined ? {} : { settings }),
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
