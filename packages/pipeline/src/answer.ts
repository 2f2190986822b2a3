import { type FirstLook, type FirstLookQuestion, firstKind, firstLook } from "./first-look.ts";
import { type ShotOutcome, type ShotQuestion, shotOutcome } from "./shot-outcome.ts";

/** What can be asked of the chain, each question with its answer. */
export interface Answers {
  readonly shot: { readonly question: ShotQuestion; readonly outcome: ShotOutcome };
  readonly "first-look": { readonly question: FirstLookQuestion; readonly outcome: FirstLook };
  readonly "first-kind": {
    readonly question: Parameters<typeof firstKind>[0];
    readonly outcome: ReturnType<typeof firstKind>;
  };
}

/** A request to the chain, as plain data that can cross to a worker. */
export type Work = {
  [K in keyof Answers]: { readonly kind: K; readonly id: number } & Answers[K]["question"];
}[keyof Answers];

export type Done = {
  [K in keyof Answers]: { readonly kind: K; readonly id: number; readonly outcome: Answers[K]["outcome"] };
}[keyof Answers];

/** The one function behind every host: command, server, page worker. */
export function answer(work: Work): Done {
  switch (work.kind) {
    case "shot":
      return { kind: work.kind, id: work.id, outcome: shotOutcome(work) };
    case "first-look":
      return { kind: work.kind, id: work.id, outcome: firstLook(work) };
    case "first-kind":
      return { kind: work.kind, id: work.id, outcome: firstKind(work) };
  }
}
