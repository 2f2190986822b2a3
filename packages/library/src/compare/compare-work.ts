import {
  type Board,
  type BoardOptions,
  boardOf,
  type Comparison,
  type ComparisonOptions,
  comparison,
  type Outcome,
  type OutcomeOptions,
  outcomeOf,
  type ShotAgainstShot,
  type ShotAgainstUsual,
  type ShotGroup,
  type ShotSeries,
  type Study,
  type StudyOptions,
  shotAgainstShot,
  shotAgainstUsual,
  studyOf,
  type Usual,
  type UsualOptions,
  usualOf,
} from "@underfoot/compare";
import { type Fault, random, UnderfootError } from "@underfoot/domain";
import type { ShotQuestion } from "@underfoot/pipeline";
import { type ComputedShot, comparedShot, computedShot, type PackedShot, recordingCurves } from "./computed-shot.ts";

export interface PackedGroup {
  readonly name: string;
  readonly shots: readonly PackedShot[];
}

interface Pair {
  readonly a: PackedGroup;
  readonly b: PackedGroup;
}
interface One {
  readonly group: PackedGroup;
}
interface Work<Shots, Options, Answer> {
  readonly ask: Shots & { readonly options: Options };
  readonly answer: Answer;
}

/** What a thread is asked, by kind, and what it answers. */
interface Works {
  readonly shot: {
    readonly ask: { readonly question: ShotQuestion; readonly curves: readonly string[] };
    readonly answer: ComputedShot;
  };
  readonly curves: {
    readonly ask: { readonly question: ShotQuestion; readonly curves: readonly string[] };
    readonly answer: ReadonlyMap<string, ShotSeries>;
  };
  readonly comparison: Work<Pair, Omit<ComparisonOptions, "a" | "b" | "streams">, Comparison>;
  readonly "shot-usual": Work<One & { readonly shot: PackedShot }, UsualOptions, ShotAgainstUsual>;
  readonly "shot-pair": Work<
    { readonly a: PackedShot; readonly b: PackedShot; readonly groups: readonly [PackedGroup, PackedGroup] },
    UsualOptions,
    ShotAgainstShot
  >;
  readonly usual: Work<One, UsualOptions, Usual>;
  readonly board: Work<One, Omit<BoardOptions, "shots" | "streams">, Board>;
  readonly outcome: Work<One, Omit<OutcomeOptions, "group" | "streams">, Outcome>;
  readonly study: Work<Pair, Omit<StudyOptions, "a" | "b" | "streams">, Study>;
}

export type CompareWork = { readonly [K in keyof Works]: { readonly kind: K } & Works[K]["ask"] }[keyof Works];
export type CompareAnswer<K extends keyof Works> = Works[K]["answer"];
/** Options of one kind of work. */
export type WorkOptions<K> = Extract<CompareWork, { readonly kind: K; readonly options: unknown }>["options"];

export type CompareDone =
  | { readonly answer: CompareAnswer<keyof Works> }
  /** The task cannot be done, in words. */
  | { readonly fault: Fault }
  /** A broken promise of our own code. */
  | { readonly ourFault: string };

const shotOf = ({ said, computed }: PackedShot) => comparedShot(said, computed);

function groupOf({ name, shots }: PackedGroup): ShotGroup {
  return { name, shots: shots.map(shotOf) };
}

function answered(work: CompareWork): CompareAnswer<keyof Works> {
  const streams = random;
  switch (work.kind) {
    case "shot":
      return computedShot(work.question, work.curves);
    case "curves":
      return recordingCurves(work.question, work.curves);
    case "comparison":
      return comparison({ ...work.options, a: groupOf(work.a), b: groupOf(work.b), streams });
    case "shot-usual":
      return shotAgainstUsual(shotOf(work.shot), groupOf(work.group), work.options);
    case "shot-pair": {
      const [ofA, ofB] = work.groups;
      const groups = ofA.name === ofB.name ? ([groupOf(ofA)] as const) : ([groupOf(ofA), groupOf(ofB)] as const);
      return shotAgainstShot(shotOf(work.a), shotOf(work.b), { ...work.options, groups });
    }
    case "usual":
      return usualOf(groupOf(work.group), work.options);
    case "board":
      return boardOf({ ...work.options, shots: groupOf(work.group).shots, streams });
    case "outcome":
      return outcomeOf({ ...work.options, group: groupOf(work.group), streams });
    case "study":
      return studyOf({ ...work.options, a: groupOf(work.a), b: groupOf(work.b), streams });
  }
}

/** Does one work; what goes wrong comes back as words, since a fault of our own kind loses its kind between threads. */
export function compareDone(work: CompareWork): CompareDone {
  try {
    return { answer: answered(work) };
  } catch (fault) {
    if (fault instanceof UnderfootError) {
      const { code, message, remedy, where } = fault;
      return { fault: { code, sentence: message, remedy, where } };
    }
    return { ourFault: fault instanceof Error ? (fault.stack ?? fault.message) : String(fault) };
  }
}
