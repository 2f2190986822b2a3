import type { Study, StudyCurve, StudyMeasure } from "@underfoot/compare";
import type { CurveStretch, PlayersFinding } from "@underfoot/statistics";
import { signedMs } from "../time-text.ts";
import { amountInput, countInput, countText, differenceInput, estimateText, pInput, pText } from "./estimate-text.ts";
import { directionOf, isAmount, titleInside } from "./measure-words.ts";
import { addingUp } from "./share-text.ts";
import type { WordedRule } from "./worded-rule.ts";

/** One measure over the players of a study. */
export interface PlayersFacts {
  readonly row: StudyMeasure;
  readonly study: Study;
}

/** Fewer players with both sides than this: no word on players at large. */
const LEAST_FOR_WORDS = 6;

const countBothSided = ({ cells }: Study): number =>
  cells.filter(({ countA, countB }) => countA > 0 && countB > 0).length;

const AMOUNT = "more|less";
const PLACE = "higher|lower|later|earlier|longer|shorter";
const TAIL = "({interval}; {slopeNote}p {p}); {k} of {N} in that direction.";
const SLOPE = "the slope alone gives {share}; the players add {d} ({range}; p {p}); {k} of {N} add in that direction.";

const NOT_KNOWN = { value: Number.NaN, low: Number.NaN, high: Number.NaN };

/** Between lies, with a share of gravity's in the measure: no difference may then be said without it. */
const hasShare = ({ row, study }: PlayersFacts): boolean => study.isBetweenLies && row.slopeShare !== 0;

/** Said in the interval's brackets between lies where no share is named. */
function slopeNote(facts: PlayersFacts): string {
  const { row, study } = facts;
  if (!study.isBetweenLies || hasShare(facts)) return "";
  if (study.countLieUnknown > 0) return "slope share not known; ";
  return row.axes === "level" ? "level axes, no slope share; " : "no slope share in it; ";
}

function slotsOf(facts: PlayersFacts) {
  const { row, study } = facts;
  const model = row.model ?? NOT_KNOWN;
  const { size, along, range } = estimateText(model, row.unit);
  const count = row.twoStage?.n ?? study.players.length;
  const word = directionOf(row, model.value);
  return {
    template: isAmount(word) ? 0 : 1,
    slots: {
      A: study.a,
      B: study.b,
      N: String(count),
      k: String(row.twoStage?.countSameDirection ?? 0),
      d: size,
      interval: along,
      range,
      [isAmount(word) ? AMOUNT : PLACE]: word,
      measure: titleInside(row.title),
      slopeNote: slopeNote(facts),
      p: pText(row.adjustedP),
      p1: pText(row.model?.p ?? Number.NaN),
      p2: pText(row.twoStage?.p ?? Number.NaN),
    },
    inputs: [
      differenceInput(`${row.title}, over players`, model, row.unit),
      ...(hasShare(facts)
        ? [
            amountInput("with the slope’s share", row.raw, row.unit),
            amountInput("slope’s share of the difference, mean over players", row.slopeShare, row.unit),
          ]
        : []),
      countInput("players", count),
      pInput("p of the model", row.model?.p ?? Number.NaN),
      pInput("p player by player", row.twoStage?.p ?? Number.NaN),
      pInput("p after allowing for looks", row.adjustedP),
    ],
  };
}

/** Raw difference, slope's share, and what is left, which add up as they are written; the interval carries its own signs. */
function withShare(facts: PlayersFacts) {
  const { row } = facts;
  const base = slotsOf(facts);
  const { raw, share, left } = addingUp(row.model ?? NOT_KNOWN, row);
  const word = directionOf(row, row.raw);
  const { [AMOUNT]: _, [PLACE]: __, ...slots } = base.slots;
  return {
    template: isAmount(word) ? 2 : 3,
    slots: { ...slots, raw, share, d: left, [isAmount(word) ? AMOUNT : PLACE]: word },
    inputs: base.inputs,
  };
}

/** What may be said of one measure over players: the first that may speak. */
export const PLAYERS_RULES: readonly WordedRule<PlayersFacts>[] = [
  {
    id: "players-disagree",
    condition: "Model and two-stage check do not fall on one side of the level.",
    templates: ["The two analyses disagree (model {p1}, player by player {p2}) on {measure}; take it as open."],
    maySay: ({ row }) => row.say === "open",
    filled: (facts) => ({ ...slotsOf(facts), template: 0 }),
  },
  {
    id: "players",
    condition:
      "Six players or more; model and two-stage check agree, p after allowing for looks no more than 0.05. Between lies judged is what is left without the slope’s share of each shot.",
    templates: [
      `Over {N} players: {B} {d} {${AMOUNT}} {measure} than {A} ${TAIL}`,
      `Over {N} players: {measure} {d} {${PLACE}} in {B} than in {A} ${TAIL}`,
      `Over {N} players: {B} {raw} {${AMOUNT}} {measure} than {A}; ${SLOPE}`,
      `Over {N} players: {measure} {raw} {${PLACE}} in {B} than in {A}; ${SLOPE}`,
    ],
    maySay: ({ row, study }) => row.say === "beyond" && countBothSided(study) >= LEAST_FOR_WORDS,
    filled: (facts) => (hasShare(facts) ? withShare(facts) : slotsOf(facts)),
  },
  {
    id: "players-within",
    condition: "Six players or more; model and two-stage check agree, not beyond.",
    templates: [
      "Over {N} players no change beyond scatter in {measure} ({range}; {slopeNote}p {p}).",
      "Over {N} players, less the slope’s share of {share}, no change beyond scatter in {measure} ({range}; p {p}).",
    ],
    maySay: ({ row, study }) => row.say === "within" && countBothSided(study) >= LEAST_FOR_WORDS,
    filled: (facts) => (hasShare(facts) ? { ...withShare(facts), template: 1 } : { ...slotsOf(facts), template: 0 }),
  },
  {
    id: "players-one-side",
    condition: "No player has shots on both sides.",
    templates: ["No player has shots in both {A} and {B}: players and conditions cannot be told apart."],
    maySay: ({ row }) => row.status === "between-players",
    filled: ({ study }) => ({ slots: { A: study.a, B: study.b }, inputs: [] }),
  },
  {
    id: "players-no-estimate",
    condition: "Six players or more, but the values allow no estimate.",
    templates: ["No estimate over players for {measure}: {reason}."],
    maySay: ({ row, study }) => row.status === "withheld" && countBothSided(study) >= LEAST_FOR_WORDS,
    filled: ({ row }) => ({
      slots: {
        measure: titleInside(row.title),
        reason: row.reason === "too-few" ? "too few shots have it" : "what the players do does not vary enough to fit",
      },
      inputs: [],
    }),
  },
  {
    id: "players-few",
    condition: "Fewer than six players with both conditions.",
    templates: [
      "{players}: each by itself, and no word on players at large from so few. Words need 6 with both sides.",
    ],
    maySay: () => true,
    filled: ({ study }) => ({
      slots: { players: countText(countBothSided(study), "player") },
      inputs: [countInput("players with both sides", countBothSided(study))],
    }),
  },
];

export interface PlayersFindingFacts extends PlayersFacts {
  readonly finding: PlayersFinding;
}

const WHAT: Readonly<Record<Exclude<NonNullable<PlayersFinding["what"]>, "correlation">, string>> = {
  level: "their level",
  reaction: "how they react",
  session: "how their sessions vary",
  crossed: "what they share with others",
};

/** What the model found about itself. */
export const PLAYERS_FINDING_RULES: readonly WordedRule<PlayersFindingFacts>[] = [
  {
    id: "singular",
    condition:
      "A scatter between players is estimated at zero, or the correlation of level and reaction at its end, +1 or −1; the fit is kept.",
    templates: [
      "The players do not differ measurably in {what} ({measure}).",
      "With so few players, how they differ in level and in how they react to {B} cannot be told apart ({measure}): in the model the one follows the other exactly.",
    ],
    maySay: ({ finding }) => finding.code === "singular",
    filled: ({ finding: { what = "level" }, row, study }) => ({
      template: what === "correlation" ? 1 : 0,
      slots: { ...(what === "correlation" ? {} : { what: WHAT[what] }), B: study.b, measure: titleInside(row.title) },
      inputs: [],
    }),
  },
  {
    id: "slope-not-estimated",
    condition: "Too few shots to see how each player reacts.",
    templates: [
      "How each player reacts to {B} is not in the model of {measure}: a difference is then claimed too easily.",
    ],
    maySay: ({ finding }) => finding.code === "slope-not-estimated",
    filled: ({ row, study }) => ({ slots: { B: study.b, measure: titleInside(row.title) }, inputs: [] }),
  },
  {
    id: "not-converged",
    condition: "The model’s search did not settle.",
    templates: ["The model of {measure} did not settle: its numbers are not to be read."],
    maySay: ({ finding }) => finding.code === "not-converged",
    filled: ({ row }) => ({ slots: { measure: titleInside(row.title) }, inputs: [] }),
  },
];

/** What is said of the study as a whole. */
export const STUDY_RULES: readonly WordedRule<{ readonly study: Study }>[] = [
  {
    id: "study-few",
    condition: "Fewer than six players.",
    templates: ["{players}: each player’s own comparison, and no word on players at large. Words need 6."],
    maySay: ({ study }) => countBothSided(study) < LEAST_FOR_WORDS,
    filled: ({ study }) => ({
      slots: { players: countText(countBothSided(study), "player") },
      inputs: [countInput("players with both sides", countBothSided(study))],
    }),
  },
  {
    id: "study-no-estimate",
    condition: "Six players or more, but no measure with an estimate.",
    templates: ["No estimate over {players}: each measure says why."],
    maySay: ({ study }) => study.measures.every(({ say }) => say === "too-few"),
    filled: ({ study }) => ({
      slots: { players: countText(countBothSided(study), "player") },
      inputs: [countInput("players with both sides", countBothSided(study))],
    }),
  },
  {
    id: "study-holds",
    condition: "Measures on which model and two-stage check agree that they differ, after allowing for looks.",
    templates: [
      "Over {N} players {k} of {measures} {differs|differ} between {A} and {B} beyond scatter.",
      "Over {N} players none of {measures} differs between {A} and {B} beyond scatter.",
    ],
    maySay: () => true,
    filled: ({ study }) => {
      const count = study.measures.filter(({ say }) => say === "beyond").length;
      return {
        template: count > 0 ? 0 : 1,
        slots: {
          N: String(countBothSided(study)),
          k: String(count),
          measures: countText(study.looks.countMeasures, "measure"),
          "differs|differ": count === 1 ? "differs" : "differ",
          A: study.a,
          B: study.b,
        },
        inputs: [
          countInput("players", study.players.length),
          countInput("measures looked at", study.looks.countMeasures),
        ],
      };
    },
  },
];

/** A curve over players, and one of its stretches where it has any. */
export interface StudyCurveFacts {
  readonly curve: StudyCurve;
  readonly study: Study;
  readonly stretch: CurveStretch | undefined;
}

/** Curves of a study, players as units. */
export const STUDY_CURVE_RULES: readonly WordedRule<StudyCurveFacts>[] = [
  {
    id: "study-curve-beyond",
    condition: "As curve-beyond, one mean difference a player, six players or more.",
    templates: [
      "Over {N} players, from {from} to {to} ms {measure} is {higher|lower} in {B}, by up to {d} at {at} ms ({interval}{share}).",
    ],
    maySay: ({ curve, stretch }) => curve.status === "judged" && stretch !== undefined,
    filled: ({ curve, study, stretch }) => {
      const { fromMs, toMs, atMs, difference: value, low, high, p } = stretch ?? NO_STRETCH;
      const { size, along } = estimateText({ value, low, high }, curve.unit);
      return {
        slots: {
          N: String(curve.players.length),
          from: signedMs(fromMs),
          to: signedMs(toMs),
          at: signedMs(atMs),
          measure: titleInside(curve.title),
          "higher|lower": value > 0 ? "higher" : "lower",
          B: study.b,
          d: size,
          interval: along,
          share: study.isBetweenLies ? "; the slope’s share taken off each shot" : "",
        },
        inputs: [
          differenceInput(`${curve.title}, largest difference`, { value, low, high }, curve.unit),
          pInput("p", p),
        ],
      };
    },
  },
  {
    id: "study-curve-few",
    condition: "Fewer than six players with the curve.",
    templates: ["{measure}: too few players for a word on the curve."],
    maySay: ({ curve }) => curve.status === "too-few",
    filled: ({ curve }) => ({ slots: { measure: titleInside(curve.title) }, inputs: [] }),
  },
  {
    id: "study-curve-within",
    condition: "No stretch beyond scatter, players as units.",
    templates: ["At no instant does {measure} differ beyond scatter over these players."],
    maySay: ({ curve, stretch }) => curve.status === "judged" && stretch === undefined,
    filled: ({ curve }) => ({ slots: { measure: titleInside(curve.title) }, inputs: [pInput("p", curve.p)] }),
  },
];

const NO_STRETCH = {
  ...NOT_KNOWN,
  fromMs: Number.NaN,
  toMs: Number.NaN,
  atMs: Number.NaN,
  difference: Number.NaN,
  p: 1,
};

/** What must be known to read a study. */
export const STUDY_NOTICE_RULES: readonly WordedRule<{ readonly study: Study }>[] = [
  {
    id: "study-between-lies",
    condition: "The sides stand on different lies.",
    templates: [
      "{A} and {B} stand on different lies: each shot’s own slope share is taken off before anything is compared.",
    ],
    maySay: ({ study }) => study.isBetweenLies,
    filled: ({ study }) => ({ slots: { A: study.a, B: study.b }, inputs: [] }),
  },
  {
    id: "study-lie-unknown",
    condition: "The sides stand on different lies, and nobody gave the lie of some shots.",
    templates: ["The lie of {shots} is not known, and with it the slope’s share."],
    maySay: ({ study }) => study.isBetweenLies && study.countLieUnknown > 0,
    filled: ({ study }) => ({
      slots: { shots: countText(study.countLieUnknown, "shot") },
      inputs: [countInput("shots whose lie is not known", study.countLieUnknown)],
    }),
  },
  {
    id: "study-one-sided",
    condition: "Some players have shots on one side only.",
    templates: ["{players} with shots on one side only: they tell nothing of the difference."],
    maySay: ({ study }) => countOneSided(study) > 0,
    filled: ({ study }) => ({
      slots: { players: countText(countOneSided(study), "player") },
      inputs: [countInput("players on one side only", countOneSided(study))],
    }),
  },
];

function countOneSided({ cells }: Study): number {
  return cells.filter(({ countA, countB }) => (countA === 0) !== (countB === 0)).length;
}
