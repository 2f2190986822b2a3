import type { NormalStreams } from "@underfoot/statistics";
import { type Board, type BoardOptions, boardOf } from "./board.ts";
import type { ComparedShot, ShotGroup } from "./compared-shot.ts";
import { type Comparison, type ComparisonOptions, comparison } from "./comparison.ts";
import { type Outcome, type OutcomeOptions, outcomeOf } from "./outcome.ts";
import { type ShotAgainstShot, type ShotAgainstUsual, shotAgainstShot, shotAgainstUsual } from "./single-shots.ts";
import { type Study, type StudyOptions, studyOf } from "./study.ts";
import { type Usual, type UsualOptions, usualOf } from "./usual.ts";

type WithoutStreams<T> = Omit<T, "streams">;

/** What can be asked, as plain data that can cross to a worker. */
export type CompareWork =
  | ({ readonly kind: "conditions" } & WithoutStreams<ComparisonOptions>)
  | ({ readonly kind: "shot-usual"; readonly shot: ComparedShot; readonly group: ShotGroup } & UsualOptions)
  | ({
      readonly kind: "shot-pair";
      readonly a: ComparedShot;
      readonly b: ComparedShot;
      readonly groups: readonly [ShotGroup] | readonly [ShotGroup, ShotGroup];
    } & UsualOptions)
  | ({ readonly kind: "usual"; readonly group: ShotGroup } & UsualOptions)
  | ({ readonly kind: "board" } & WithoutStreams<BoardOptions>)
  | ({ readonly kind: "outcome" } & WithoutStreams<OutcomeOptions>)
  | ({ readonly kind: "study" } & WithoutStreams<StudyOptions>);

export type CompareAnswer = Comparison | ShotAgainstUsual | ShotAgainstShot | Usual | Board | Outcome | Study;

/** The answer to a kind of work. */
export type AnswerTo<K extends CompareWork["kind"]> = Extract<CompareAnswer, { readonly kind: K }>;

/** The one function behind every host: command, server, worker. */
export function compareAnswer(work: CompareWork, streams: NormalStreams): CompareAnswer {
  switch (work.kind) {
    case "conditions":
      return comparison({ ...work, streams });
    case "shot-usual":
      return shotAgainstUsual(work.shot, work.group, work);
    case "shot-pair":
      return shotAgainstShot(work.a, work.b, work);
    case "usual":
      return usualOf(work.group, work);
    case "board":
      return boardOf({ ...work, streams });
    case "outcome":
      return outcomeOf({ ...work, streams });
    case "study":
      return studyOf({ ...work, streams });
  }
}
