import type { Notice } from "@underfoot/compare";
import { catalogueEntry } from "@underfoot/mechanics";
import type { PronounForms } from "../pronoun.ts";
import { countInput, countText, listText } from "./estimate-text.ts";
import { titleInside } from "./measure-words.ts";
import type { WordedRule } from "./worded-rule.ts";

/** One thing to be said beside a comparison. */
export interface NoticeFacts {
  readonly notice: Notice;
  readonly comparison: { readonly a: { readonly name: string }; readonly b: { readonly name: string } };
  readonly player: PronounForms;
}

type NoticeOf<Code extends Notice["code"]> = Extract<Notice, { readonly code: Code }>;

/** A rule that speaks of one kind of notice. */
function noticeRule<Code extends Notice["code"]>(
  code: Code,
  rule: Pick<WordedRule<NoticeFacts>, "condition" | "templates"> & {
    readonly id?: string;
    readonly filled: (
      notice: NoticeOf<Code>,
      facts: NoticeFacts,
    ) => { readonly template?: number; readonly slots: Readonly<Record<string, string>> };
  },
): WordedRule<NoticeFacts> {
  const of = ({ notice }: NoticeFacts): NoticeOf<Code> | undefined =>
    notice.code === code ? (notice as NoticeOf<Code>) : undefined;
  return {
    id: rule.id ?? code,
    condition: rule.condition,
    templates: rule.templates,
    maySay: (facts) => of(facts) !== undefined,
    filled: (facts) => {
      const notice = of(facts);
      if (notice === undefined) throw new RangeError(`no notice ${code}`);
      return { ...rule.filled(notice, facts), inputs: inputsOf(notice, facts) };
    },
  };
}

function inputsOf(notice: Notice, { comparison }: NoticeFacts) {
  return "countA" in notice
    ? [
        countInput(`shots of ${comparison.a.name}`, notice.countA),
        countInput(`shots of ${comparison.b.name}`, notice.countB),
      ]
    : [];
}

const names = ({ comparison }: NoticeFacts): { readonly A: string; readonly B: string } => ({
  A: comparison.a.name,
  B: comparison.b.name,
});

const sidesText = (sides: readonly ("a" | "b")[], { comparison }: NoticeFacts): string =>
  listText(sides.map((side) => comparison[side].name));

const measuresText = (columns: readonly string[]): string =>
  listText(columns.map((column) => titleInside(catalogueEntry(column.split(" ")[0] ?? "")?.title ?? column)));

/** Columns that are named; of more than these only the number is said. */
const MOST_NAMED = 3;

function different(code: "different-clubs" | "different-shoes" | "different-layouts", what: string) {
  return noticeRule(code, {
    condition: `The sides were hit with ${what} that differ, or are not known, on a side.`,
    templates: [`Different ${what}: {A} {ofA}, {B} {ofB}. What differs may be theirs.`],
    filled: ({ a, b }, facts) => ({ slots: { ...names(facts), ofA: listText(a), ofB: listText(b) } }),
  });
}

/** What differs between the sides besides what was asked; read before the headline. */
export const DIFFERENT_RULES: readonly WordedRule<NoticeFacts>[] = [
  different("different-clubs", "clubs"),
  different("different-shoes", "shoes"),
  different("different-layouts", "plate layouts"),
];

/** What must be known to read a comparison. */
export const NOTICE_RULES: readonly WordedRule<NoticeFacts>[] = [
  noticeRule("order-confounded", {
    id: "order",
    condition: "All shots of one side came before all of the other.",
    templates: ["All {first} came before all {second}: a change with time would look the same."],
    filled: ({ first }, { comparison: { a, b } }) => ({
      slots: { first: (first === "a" ? a : b).name, second: (first === "a" ? b : a).name },
    }),
  }),
  noticeRule("lie-once", {
    condition: "A lie was visited once.",
    templates: [
      "{sides}: one visit to the lie, so lie and time cannot be told apart; a change with time would look the same.",
    ],
    filled: ({ sides }, facts) => ({ slots: { sides: sidesText(sides, facts) } }),
  }),
  noticeRule("between-lies", {
    condition: "The sides stand on different lies.",
    templates: [
      "{A} and {B} stand on different lies: the slope’s share is named, and taken off before anything is judged.",
    ],
    filled: (_, facts) => ({ slots: names(facts) }),
  }),
  noticeRule("lie-unknown", {
    condition: "Nobody gave the lie of some shots.",
    templates: ["The lie of {shots} is not known, and with it the slope’s share."],
    filled: ({ countA, countB }) => ({ slots: { shots: countText(countA + countB, "shot") } }),
  }),
  noticeRule("several-lies", {
    condition: "Shots of one side stand on several lies.",
    templates: ["Shots of {sides} stand on several lies."],
    filled: ({ sides }, facts) => ({ slots: { sides: sidesText(sides, facts) } }),
  }),
  noticeRule("between-sessions", {
    condition: "All shots of one side on one day, all of the other on another.",
    templates: [
      "{A} and {B} are of two days: plates and outlines were laid again between them, and two days are not a trend.",
    ],
    filled: (_, facts) => ({ slots: names(facts) }),
  }),
  noticeRule("several-sessions", {
    condition: "Several sessions hold both sides.",
    templates: [
      "{count} sessions, compared within each.",
      "{count} sessions, compared within each; {left} of other sessions are left out.",
    ],
    filled: ({ countSessions, countA, countB }) => ({
      template: countA + countB === 0 ? 0 : 1,
      slots: { count: String(countSessions), left: countText(countA + countB, "shot") },
    }),
  }),
  noticeRule("sessions-not-shared", {
    condition: "Several sessions, none of which holds both sides.",
    templates: ["No session holds both {A} and {B}, so days and conditions cannot be told apart: no verdict."],
    filled: (_, facts) => ({ slots: names(facts) }),
  }),
  noticeRule("left-out", {
    condition:
      "Mishits, shots set aside or shots without a computation; chosen by label before the measure was looked at.",
    templates: ["Left out: {ofA} of {A} and {ofB} of {B} ({label})."],
    filled: ({ label, countA, countB }, facts) => ({
      slots: { ...names(facts), ofA: countText(countA, "shot"), ofB: countText(countB, "shot"), label: LABELS[label] },
    }),
  }),
  noticeRule("impact-estimated", {
    condition: "Impact is estimated from the forces in some shots.",
    templates: ["Impact is estimated in {ofA} of {A} and {ofB} of {B}: curves are smeared by its uncertainty."],
    filled: ({ countA, countB }, facts) => ({
      slots: { ...names(facts), ofA: countText(countA, "shot"), ofB: countText(countB, "shot") },
    }),
  }),
  noticeRule("missing-values", {
    condition: "Some shot lacks the measure: it shares no labellings with the others, so Holm's rule corrects it.",
    templates: [
      "Missing in some shot, and so corrected apart from the others: {measures}.",
      "{count} measures are missing in some shot, and so corrected apart from the others.",
    ],
    filled: ({ columns }) => ({
      template: columns.length > MOST_NAMED ? 1 : 0,
      slots: { measures: measuresText(columns), count: String(columns.length) },
    }),
  }),
  noticeRule("mishits-decide", {
    id: "mishits-decide-here",
    condition: "For some measure the verdicts without and with the mishits differ.",
    templates: ["Leaving out the mishits decides {count}: {measures}. Both are given."],
    filled: ({ columns }) => ({
      slots: { count: countText(columns.length, "measure"), measures: measuresText(columns) },
    }),
  }),
];

const LABELS = { mishit: "mishits", "set-aside": "set aside", invalid: "nothing could be computed" } as const;
