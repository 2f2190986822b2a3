import type { PlateCheckShape } from "@underfoot/protocol";
import { amount, CHECK_KINDS, CHECK_WORDS, type CheckKind } from "./check-words.ts";

/** How one kind of check stands: the latest one counts. */
export interface CheckStanding {
  readonly kind: CheckKind;
  readonly latest: PlateCheckShape | undefined;
  /** Earlier ones, the newest first. */
  readonly earlier: readonly PlateCheckShape[];
  readonly state: "not-made" | "passed" | "failed" | "went-on";
}

/** @param checks  of the session, in the order they were made */
export function checkStandings(checks: readonly PlateCheckShape[]): readonly CheckStanding[] {
  return CHECK_KINDS.map((kind) => {
    const [latest, ...earlier] = checks.filter((check) => check.kind === kind).toReversed();
    return { kind, latest, earlier, state: stateOf(latest) };
  });
}

function stateOf(latest: PlateCheckShape | undefined): CheckStanding["state"] {
  if (latest === undefined) return "not-made";
  if (latest.isPassed) return "passed";
  return latest.wentOn ? "went-on" : "failed";
}

/** "The lean of the quiet stance is 1.9 degrees off: check the inclinometer or the plates." */
function failureSentence({ kind, latest }: CheckStanding): string {
  const { subject, lookAt } = CHECK_WORDS[kind];
  const verb = kind === "clocks" || kind === "outlines" ? "are" : "is";
  if (latest?.found === undefined) return `${subject} could not be proved: ${lookAt}.`;
  const unit = latest.unit === "deg" || latest.unit === "°" ? "degrees" : latest.unit;
  return `${subject} ${verb} ${amount(latest.found, unit)} off: ${lookAt}.`;
}

/**
 * The screen's first sentences: can the plates be trusted? How many checks passed, then what is wrong, or what was gone
 * past, or what is still to be made.
 */
export function trustSentence(standings: readonly CheckStanding[]): string {
  const of = (state: CheckStanding["state"]): readonly CheckStanding[] =>
    standings.filter((one) => one.state === state);
  const [passed, failed, wentOn, notMade] = [of("passed"), of("failed"), of("went-on"), of("not-made")];
  if (notMade.length === standings.length) return "No check has been made yet, so nothing is known about the plates.";
  const count =
    passed.length === standings.length
      ? `All ${standings.length} checks passed.`
      : `${passed.length} of ${standings.length} checks passed.`;
  const rest = [
    ...failed.map(failureSentence),
    ...(wentOn.length === 0
      ? []
      : [`You went on although ${inWords(wentOn)} failed; every shot says so until a repeat passes.`]),
    ...(failed.length > 0 || notMade.length === 0
      ? []
      : [`Not made yet: ${notMade.map(({ kind }) => CHECK_WORDS[kind].title.toLowerCase()).join(", ")}.`]),
  ];
  return [count, ...rest].join(" ");
}

const inWords = (standings: readonly CheckStanding[]): string =>
  standings.map(({ kind }) => lowered(CHECK_WORDS[kind].subject)).join(" and ");
const lowered = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
