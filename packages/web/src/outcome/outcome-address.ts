import type { OutcomeName } from "@underfoot/compare";
import type { PlayerAxes } from "@underfoot/domain";
import { type SideQuery, sideFromText, sideText } from "../compare/choose/side-query.ts";
import { type LookedAt, lookedAtFrom, lookedAtQuery } from "../frame/looked-at.ts";

/** Results of which shots, against what. */
export interface OutcomeAsk extends LookedAt {
  /** Absent: nothing chosen yet, or what the address says cannot be read. */
  readonly of: SideQuery | undefined;
  readonly outcome: OutcomeName;
  readonly axes: PlayerAxes;
}

/** What a result is called where it is chosen and along its axis, with its unit and which way is more. */
export const OUTCOMES: Readonly<Record<OutcomeName, { readonly word: string; readonly axis: string }>> = {
  strikeToe: { word: "strike place, heel to toe", axis: "strike place, mm, + toward the toe" },
  strikeUp: { word: "strike height on the face", axis: "strike height, mm, + up the face" },
  startLine: { word: "start line", axis: "start line, degrees, + right of the target" },
  carry: { word: "carry", axis: "carry, m" },
  mishit: { word: "mishit or clean", axis: "" },
};

/** The measure that an address means which names none. */
export const FIRST_MEASURE = "lead.heelToe.at.delivery";
const isOutcome = (word: string | undefined): word is OutcomeName =>
  word !== undefined && Object.hasOwn(OUTCOMES, word);

/** What an address asks for; the strike place against the pressure under the lead foot where it names nothing else. */
export function outcomeAskFrom(query: Readonly<Record<string, string>>): OutcomeAsk {
  const side = query["of"] === undefined ? undefined : sideFromText(query["of"]);
  const outcome = query["outcome"];
  return {
    ...lookedAtFrom(query, FIRST_MEASURE),
    of: side?.kind === "shots" ? side : undefined,
    outcome: isOutcome(outcome) ? outcome : "strikeToe",
    axes: query["axes"] === "level" ? "level" : "turf",
  };
}

export function outcomeQuery(ask: OutcomeAsk): Record<string, string | undefined> {
  const { of, outcome, axes } = ask;
  return { of: of && sideText(of), outcome, ...lookedAtQuery(ask), axes };
}

/** Other shots are looked at for the first time. */
export function withShots(ask: OutcomeAsk, of: SideQuery): OutcomeAsk {
  return { ...ask, of, measures: [ask.measure] };
}
