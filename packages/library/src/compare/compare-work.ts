import { type Comparison, type ComparisonOptions, comparison, type ShotGroup } from "@underfoot/compare";
import { type Fault, random, UnderfootError } from "@underfoot/domain";
import type { ShotQuestion } from "@underfoot/pipeline";
import { type ComputedShot, comparedShot, computedShot, type PackedShot } from "./computed-shot.ts";

export interface PackedGroup {
  readonly name: string;
  readonly shots: readonly PackedShot[];
}

/** What a thread is asked, by kind, and what it answers. */
interface Works {
  readonly shot: {
    readonly ask: { readonly question: ShotQuestion; readonly curves: readonly string[] };
    readonly answer: ComputedShot;
  };
  readonly comparison: {
    readonly ask: {
      readonly a: PackedGroup;
      readonly b: PackedGroup;
      readonly options: Omit<ComparisonOptions, "a" | "b" | "streams">;
    };
    readonly answer: Comparison;
  };
}

export type CompareWork = { readonly [K in keyof Works]: { readonly kind: K } & Works[K]["ask"] }[keyof Works];
export type CompareAnswer<K extends keyof Works> = Works[K]["answer"];

export type CompareDone =
  | { readonly answer: CompareAnswer<keyof Works> }
  /** The task cannot be done, in words. */
  | { readonly fault: Fault }
  /** A broken promise of our own code. */
  | { readonly ourFault: string };

function unpacked({ name, shots }: PackedGroup): ShotGroup {
  return { name, shots: shots.map(({ said, computed }) => comparedShot(said, computed)) };
}

function answered(work: CompareWork): CompareAnswer<keyof Works> {
  switch (work.kind) {
    case "shot":
      return computedShot(work.question, work.curves);
    case "comparison":
      return comparison({ ...work.options, a: unpacked(work.a), b: unpacked(work.b), streams: random });
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
