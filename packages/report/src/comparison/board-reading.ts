import type { AgainstFlat, Board, BoardCell, Lozenge } from "@underfoot/compare";
import { PRONOUNS, type PronounForms } from "../pronoun.ts";
import type { Sentence } from "../sentence.ts";
import { unitText } from "../unit-text.ts";
import { type ComparisonReadingOptions, lozengeText } from "./comparison-reading.ts";
import { estimateText, resolutionOf, signedText, valueRangeText } from "./estimate-text.ts";
import type { MeasureFacts } from "./measure-facts.ts";
import { MEASURE_RULES } from "./rules-of-measures.ts";
import { NOTICE_RULES } from "./rules-of-sides.ts";
import { BAND_RULES } from "./rules-of-single-shots.ts";
import { BOARD_NOTICE_RULES, BOARD_RULES, CELL_RULES, lieNameOf } from "./rules-of-the-board.ts";
import { LOOKS_RULE } from "./rules-of-the-whole.ts";
import { firstSentence, neededSentence, sentenceOf, sentencesOf } from "./worded-rule.ts";

/** One cell of the board in words. */
export interface CellReading {
  readonly intent: string;
  readonly lie: string;
  /** Mean and usual band here: "83 %", "73 to 80 %"; empty without. */
  readonly value: string;
  readonly usual: string;
  /** Cell less flat, less the slope's share; empty on the flat. */
  readonly difference: string;
  readonly interval: string;
  readonly slopeShare: string;
  readonly verdict: string;
  readonly lozenge: Lozenge;
  /** Against the flat where there is such a difference, else where the next shot falls, or why nothing is said. */
  readonly sentence: Sentence;
  readonly notices: readonly Sentence[];
}

/** The board in words. */
export interface BoardReading {
  readonly headline: Sentence;
  readonly looks: readonly Sentence[];
  readonly notices: readonly Sentence[];
  readonly cells: readonly CellReading[];
}

const NOT_KNOWN = { low: Number.NaN, high: Number.NaN };

/** A cell against the flat as the rules of a measure see it; the flat's side as far as it is known from the board. */
function againstFlatFacts(
  board: Board,
  cell: BoardCell,
  { against, player }: { readonly against: AgainstFlat; readonly player: PronounForms },
): MeasureFacts {
  const lieName = lieNameOf({ board, cell, player });
  const flat = board.lies.find(({ isFlat }) => isFlat)?.name ?? "flat";
  const raw = against.raw.kind === "withheld" ? Number.NaN : against.raw.value;
  const nFlat = against.freed.n[0] ?? 0;
  return {
    row: {
      ...against,
      title: board.title,
      measure: board.measure,
      unit: board.unit,
      a: { n: nFlat, mean: cell.mean - raw, sigmaShared: 0 },
      b: { n: cell.n, mean: cell.mean, sigmaShared: 0 },
      sigmaShared: 0,
      q: Number.NaN,
      detectable: Number.NaN,
      mishitsDecide: false,
    },
    comparison: {
      a: { name: `${cell.intent} on ${flat}` },
      b: { name: `${cell.intent} on ${lieName}` },
      axes: board.axes,
      design: { kind: undefined, isBetweenLies: true },
      looks: board.looks,
      notices: against.notices,
    },
    player,
  };
}

function cellReading(board: Board, cell: BoardCell, player: PronounForms): CellReading {
  const { againstFlat: against, usual, mean, intent, lie } = cell;
  const band = usual.kind === "band" ? usual : NOT_KNOWN;
  const facts = against && againstFlatFacts(board, cell, { against, player });
  const freed = against === undefined || against.freed.kind === "withheld" ? undefined : against.freed;
  const text = freed && estimateText(freed, board.unit);
  const share = against?.slopeShare ?? 0;
  const lozenge = against?.lozenge ?? "none";
  const state = firstSentence(CELL_RULES, { board, cell, player });
  const own = { title: board.title, unit: board.unit, band: usual };
  return {
    ...{ intent, lie, lozenge },
    value: Number.isFinite(mean) ? unitText(mean, board.unit, resolutionOf(band)).text : "",
    usual: usual.kind === "band" ? valueRangeText(usual.low, usual.high, board.unit, resolutionOf(usual)) : "",
    difference: text?.signed ?? "",
    interval: text?.range ?? "",
    slopeShare: share === 0 ? "" : signedText(share, board.unit, freed === undefined ? 0 : resolutionOf(freed)),
    verdict: against === undefined ? "" : lozengeText(lozenge, board.looks.countPairs),
    sentence: state ?? (facts === undefined ? neededSentence(BAND_RULES, own) : neededSentence(MEASURE_RULES, facts)),
    notices:
      facts === undefined
        ? []
        : facts.comparison.notices
            .filter(({ code }) => code !== "between-lies")
            .flatMap((notice) => sentencesOf(NOTICE_RULES, { notice, comparison: facts.comparison, player })),
  };
}

/** Intents by lies in words: each cell against the same intent on the flat, all of these differences one family. */
export function boardReading(board: Board, { pronoun = "player" }: ComparisonReadingOptions = {}): BoardReading {
  const player = PRONOUNS[pronoun];
  const isJudged = board.cells.some(({ againstFlat }) => againstFlat !== undefined);
  return {
    headline: neededSentence(BOARD_RULES, { board, player }),
    looks: [sentenceOf(LOOKS_RULE, { looks: board.looks, corrected: isJudged ? ["corrected by Holm’s rule"] : [] })],
    notices: sentencesOf(BOARD_NOTICE_RULES, { board, player }),
    cells: board.cells.map((cell) => cellReading(board, cell, player)),
  };
}
