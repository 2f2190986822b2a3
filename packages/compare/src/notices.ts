import type { ComparedLabel } from "./compared-shot.ts";

/** What must be said beside a comparison. Data; the words are the report's. */
export type Notice =
  /** Shots that do not count, by label, of A and of B. */
  | {
      readonly code: "left-out";
      readonly label: Exclude<ComparedLabel, "kept">;
      readonly countA: number;
      readonly countB: number;
    }
  /** Each side's own, one of them differs or is not known. */
  | {
      readonly code: "different-clubs" | "different-shoes" | "different-layouts";
      readonly a: readonly string[];
      readonly b: readonly string[];
    }
  /** All shots of one side came before all of the other: time and condition cannot be told apart. No verdict. */
  | { readonly code: "order-confounded"; readonly first: "a" | "b" }
  /** A lie was visited once: lie and time cannot be told apart. */
  | { readonly code: "lie-once"; readonly sides: readonly ("a" | "b")[] }
  /** The sides stand on different lies: the slope's share is named and taken off. */
  | { readonly code: "between-lies" }
  /** Nobody gave the lie of some shots: the slope's share is not known. */
  | { readonly code: "lie-unknown"; readonly countA: number; readonly countB: number }
  /** Shots of one side stand on several lies. */
  | { readonly code: "several-lies"; readonly sides: readonly ("a" | "b")[] }
  /** All of A on one day, all of B on another: two days, not a trend. */
  | { readonly code: "between-sessions" }
  /** Several sessions, each with both sides: compared within each. Shots of the others are left out. */
  | {
      readonly code: "several-sessions";
      readonly countSessions: number;
      readonly countA: number;
      readonly countB: number;
    }
  /** Several sessions, none with both sides: no verdict. */
  | { readonly code: "sessions-not-shared" }
  /** Impact is estimated in so many shots: curves are smeared by its uncertainty. */
  | { readonly code: "impact-estimated"; readonly countA: number; readonly countB: number }
  /** Measures with a missing value in some shot: outside the family of common labellings, corrected by Holm instead. */
  | { readonly code: "missing-values"; readonly columns: readonly string[] }
  /** Leaving mishits out decides these measures. */
  | { readonly code: "mishits-decide"; readonly columns: readonly string[] };
