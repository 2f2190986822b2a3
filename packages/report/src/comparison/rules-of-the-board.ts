import type { AgainstFlat, Board, BoardCell } from "@underfoot/compare";
import type { PronounForms } from "../pronoun.ts";
import {
  countInput,
  countText,
  differenceInput,
  estimateText,
  listText,
  resolutionOf,
  signedText,
} from "./estimate-text.ts";
import { directionOf, titleInside } from "./measure-words.ts";
import type { WordedRule } from "./worded-rule.ts";

export interface BoardFacts {
  readonly board: Board;
  readonly player: PronounForms;
}

export interface CellFacts extends BoardFacts {
  readonly cell: BoardCell;
}

/** Cells named in the headline; of more only the number is said. */
const MOST_NAMED = 3;

export const lieNameOf = ({ board, cell }: CellFacts): string =>
  board.lies.find(({ key }) => key === cell.lie)?.name ?? cell.lie;

type Judged = BoardCell & { readonly againstFlat: AgainstFlat };

const judgedCells = ({ board }: BoardFacts): readonly Judged[] =>
  board.cells.filter((cell): cell is Judged => cell.againstFlat !== undefined);

function beyondCells(facts: BoardFacts): readonly Judged[] {
  return judgedCells(facts).filter(({ againstFlat }) => againstFlat.verdict === "beyondScatter");
}

function namedCell(facts: BoardFacts, cell: Judged): string {
  const { freed, slopeShare } = cell.againstFlat;
  const place = `${cell.intent} on ${lieNameOf({ ...facts, cell })}`;
  if (freed.kind === "withheld") return place;
  const { unit } = facts.board;
  const { size, signed } = estimateText(freed, unit);
  const what =
    slopeShare === 0
      ? `${size} ${directionOf(facts.board, freed.value, cell.mean < 0)}`
      : `${signed} beside the slope’s share of ${signedText(slopeShare, unit, resolutionOf(freed))}`;
  return `${place} (${what})`;
}

/** Headline of the board: the first that may speak. */
export const BOARD_RULES: readonly WordedRule<BoardFacts>[] = [
  {
    id: "board-empty",
    condition: "No cell has a shot that counts.",
    templates: ["No kept shots here yet."],
    maySay: ({ board }) => board.cells.every(({ n }) => n === 0),
    filled: () => ({ slots: {}, inputs: [] }),
  },
  {
    id: "board-no-flat",
    condition: "No cell has shots on the flat to be held against.",
    templates: [
      "Nothing to hold the lies against yet: {measure} needs shots of one intent on the flat and on another lie.",
    ],
    maySay: (facts) => judgedCells(facts).length === 0,
    filled: ({ board }) => ({ slots: { measure: titleInside(board.title) }, inputs: [] }),
  },
  {
    id: "board-too-few",
    condition: "Every difference from the flat rests on fewer than five shots on a side.",
    templates: ["Too few to tell: a word on a lie needs 5 shots there and 5 on the flat."],
    maySay: (facts) => judgedCells(facts).every(({ againstFlat }) => againstFlat.verdict === "tooFew"),
    filled: () => ({ slots: {}, inputs: [] }),
  },
  {
    id: "board-beyond",
    condition:
      "Differences from the flat that stay beyond scatter and the slope’s share after allowing for all of them.",
    templates: [
      "{k} of {differences} from the flat in {measure} is beyond {possessive} scatter: {list}.",
      "{k} of {differences} from the flat in {measure} are beyond {possessive} scatter: {list}.",
    ],
    maySay: (facts) => beyondCells(facts).length > 0,
    filled: (facts) => {
      const found = beyondCells(facts);
      const named = found.slice(0, MOST_NAMED).map((cell) => namedCell(facts, cell));
      const rest = found.length - named.length;
      return {
        template: found.length === 1 ? 0 : 1,
        slots: {
          k: String(found.length),
          differences: countText(judgedCells(facts).length, "difference"),
          measure: titleInside(facts.board.title),
          possessive: facts.player.possessive,
          list: listText([...named, ...(rest > 0 ? [`${rest} more`] : [])]),
        },
        inputs: found.flatMap((cell) => {
          const { freed } = cell.againstFlat;
          const name = `${cell.intent} on ${lieNameOf({ ...facts, cell })}`;
          return freed.kind === "withheld" ? [] : [differenceInput(name, freed, facts.board.unit)];
        }),
      };
    },
  },
  {
    id: "board-nothing",
    condition: "No difference from the flat stays beyond scatter and the slope’s share.",
    templates: [
      "On no lie is a difference from the flat in {measure} beyond {possessive} scatter and the slope’s share.",
    ],
    maySay: () => true,
    filled: (facts) => ({
      slots: { measure: titleInside(facts.board.title), possessive: facts.player.possessive },
      inputs: [countInput("differences from the flat", judgedCells(facts).length)],
    }),
  },
];

/** What must be known to read the board. */
export const BOARD_NOTICE_RULES: readonly WordedRule<BoardFacts>[] = [
  {
    id: "board-clubs",
    condition: "The shots of the board were hit with several clubs.",
    templates: ["Several clubs on this board: {clubs}. What differs may be theirs."],
    maySay: ({ board }) => board.clubs.length > 1,
    filled: ({ board }) => ({ slots: { clubs: listText(board.clubs) }, inputs: [] }),
  },
];

/** A cell that has no difference from the flat to tell. */
export const CELL_RULES: readonly WordedRule<CellFacts>[] = [
  {
    id: "cell-not-hit",
    condition: "No shot of the intent on the lie.",
    templates: ["{intent} on {lie}: not hit yet."],
    maySay: ({ cell }) => cell.state === "not-hit",
    filled: (facts) => ({ slots: cellSlots(facts), inputs: [] }),
  },
  {
    id: "cell-only-mishits",
    condition: "Shots, but none that counts.",
    templates: ["{intent} on {lie}: no kept shot, {mishits}."],
    maySay: ({ cell }) => cell.state === "only-mishits",
    filled: (facts) => ({ slots: cellSlots(facts), inputs: [countInput("mishits", facts.cell.tally.mishit)] }),
  },
  {
    id: "cell-too-few",
    condition: "Fewer than five shots that count.",
    templates: ["{intent} on {lie}: {shots}, too few to tell. Words need 5."],
    maySay: ({ cell }) => cell.state === "too-few",
    filled: (facts) => ({ slots: cellSlots(facts), inputs: [countInput("shots", facts.cell.n)] }),
  },
];

function cellSlots(facts: CellFacts): Readonly<Record<string, string>> {
  const { cell } = facts;
  return {
    intent: cell.intent,
    lie: lieNameOf(facts),
    mishits: countText(cell.tally.mishit, "mishit"),
    shots: countText(cell.n, "shot"),
  };
}
