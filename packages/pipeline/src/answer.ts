import { type ShotOutcome, type ShotQuestion, shotOutcome } from "./shot-outcome.ts";

/** A request to the chain, as plain data that can cross to a worker. */
export type Work = { readonly kind: "shot"; readonly id: number } & ShotQuestion;

export type Done = { readonly kind: "shot"; readonly id: number; readonly outcome: ShotOutcome };

/** The one function behind every host: command, server, page worker. */
export function answer(work: Work): Done {
  switch (work.kind) {
    case "shot":
      return { kind: work.kind, id: work.id, outcome: shotOutcome(work) };
  }
}
