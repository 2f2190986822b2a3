import type { EventName } from "@underfoot/domain";
import { validMeasureOf } from "./measure-of.ts";
import {
  goingBackStretches,
  type MotionWords,
  motionThroughout,
  motionWords,
  type Stretch,
  slowingStretches,
} from "./motion-words.ts";
import { inCentimetres, inMetresPerSecond } from "./numbers.ts";
import { type PeakStair, peakStair } from "./peak-stair.ts";
import type { Direction } from "./player-force.ts";
import { input, type Sentence, type SentenceFacts, type SentenceInput, type SentenceRule, SILENT } from "./sentence.ts";
import { eventOf, msFromS, sampleAt, valueAtS } from "./shot-time.ts";
import { hasSlopeShare } from "./slope-words.ts";
import { signedMs } from "./time-text.ts";

/** "Through impact" means at least this long to both sides of it, s. Ours. */
const THROUGH_S = 0.05;
/** Changes of place are told beyond this many sigmas. */
const SURE_SIGMAS = 2;

const FORCE_WORDS: Readonly<Record<Direction, string>> = { target: "target", ahead: "toes", up: "up" };

/** "about " where times hang on an estimated impact. */
function about({ zero }: SentenceFacts): string {
  return zero.isEstimated ? "about " : "";
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Peak order in words: "target first, toes second, up last", "target first, then toes and up together". */
function orderWords({ order, orderSteps }: PeakStair): string {
  const [first = "", second = "", last = ""] = order.map(({ direction }) => FORCE_WORDS[direction]);
  const [firstTogether, lastTogether] = orderSteps.map(({ isTogether }) => isTogether);
  if (firstTogether && lastTogether) return `${first}, ${second} and ${last} together`;
  if (firstTogether) return `${first} and ${second} together, ${last} last`;
  if (lastTogether) return `${first} first, then ${second} and ${last} together`;
  return `${first} first, ${second} second, ${last} last`;
}

const MOTION_WORDS: Readonly<Record<MotionWords["motion"], string | undefined>> = {
  "to-target": "moving to the target",
  "going-back": "going back",
  "about-still": "about still along the target line",
  "not-known": undefined,
};

/** What the body does around impact, said only where it holds over impact's own uncertainty. */
function impactWords(facts: SentenceFacts): string | undefined {
  const { shot, axes } = facts;
  const impact = eventOf(shot, "impact");
  if (impact === undefined) return undefined;
  const unsureS = (SURE_SIGMAS * impact.sigmaMs) / 1000;
  const throughS = Math.max(THROUGH_S, unsureS);
  const around = (reachS: number): MotionWords["motion"] =>
    motionThroughout(shot, axes, impact.timeS - reachS, impact.timeS + reachS);
  if (around(throughS) === "to-target") return "still moving to the target through impact";
  const words = MOTION_WORDS[around(unsureS)];
  return words === undefined ? undefined : `${words} at impact`;
}

function headline(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { shot, measures, axes, zero } = facts;
  const stair = peakStair(shot, measures, axes, zero);
  const motion = impactWords(facts);
  const parts = [stair === undefined ? undefined : orderWords(stair), motion].filter((part) => part !== undefined);
  if (parts.length === 0)
    return [{ text: `Peak order and motion through impact cannot be said: ${whySilent(facts)}.`, inputs: [] }];
  const inputs: SentenceInput[] = (stair?.order ?? []).map(({ direction, timeMs }) =>
    input(`time of peak ${direction} force`, timeMs, "ms"),
  );
  for (const { from, to, gapMs, sigmaMs } of stair?.orderSteps ?? []) {
    inputs.push(input(`gap ${from} to ${to}`, gapMs, "ms", sigmaMs));
  }
  const impact = eventOf(shot, "impact");
  if (impact !== undefined) {
    const { speedMPerS, speedSigmaMPerS } = motionWords(shot, axes)(sampleAt(shot, impact.timeS));
    inputs.push(input("speed to target at impact", speedMPerS, "m/s", speedSigmaMPerS));
  }
  return [{ text: `${capital(parts.join(", and "))}.`, inputs }];
}

/** Why there is neither an order nor a motion. */
function whySilent({ shot }: SentenceFacts): string {
  const missing = (["top", "impact"] as const).filter((event) => eventOf(shot, event) === undefined);
  if (missing.length > 0) return `${missing.join(" and ")} not found`;
  return shot.both.wrench.upN.some(Number.isNaN) ? "the recording has a gap" : "the speed is too close to call";
}

/** Travel at an event with its sigma, m: the measure, else the curve. */
function travelAt(facts: SentenceFacts, event: EventName): { valueM: number; sigmaM: number } | undefined {
  const { shot, measures, axes } = facts;
  const measure = validMeasureOf(measures, `both.travelTarget.at.${event}`, axes);
  if (measure !== undefined) return { valueM: measure.value / 1000, sigmaM: measure.sigma / 1000 };
  const found = eventOf(shot, event);
  if (found === undefined || measures.length > 0) return undefined;
  const valueM = valueAtS(shot, shot[axes].travelTargetM, found.timeS);
  const sigmaM = valueAtS(shot, shot[axes].travelTargetSigmaM, found.timeS);
  return Number.isFinite(valueM) && Number.isFinite(sigmaM) ? { valueM, sigmaM } : undefined;
}

function travel(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { player } = facts;
  const impact = travelAt(facts, "impact");
  if (impact === undefined) return SILENT;
  const { valueM, sigmaM } = impact;
  const isSure = Math.abs(valueM) > SURE_SIGMAS * sigmaM;
  const { text: size } = inCentimetres(Math.abs(valueM), sigmaM);
  const { text: signed, plusMinus = "" } = inCentimetres(valueM, sigmaM);
  const where = isSure
    ? `${player.Subject} ${player.is} ${about(facts)}${size} ${valueM > 0 ? "nearer the target" : "farther from the target"} at impact than at address`
    : `At impact ${player.subject} ${player.is} about where ${player.subject} stood at address (${signed} ${plusMinus} along the target line)`;
  const after = travelAfter(facts, impact, isSure && valueM > 0);
  return [
    {
      text: after === undefined ? `${where}.` : `${where}, and move${player.s} ${after.text} after it.`,
      inputs: [input("travel to target at impact", valueM, "m", sigmaM), ...(after === undefined ? [] : [after.input])],
    },
  ];
}

/** What the body travels from impact to finish, where it is beyond its uncertainty; `isMore`: nearer already. */
function travelAfter(
  facts: SentenceFacts,
  impact: { readonly valueM: number; readonly sigmaM: number },
  isMore: boolean,
): { readonly text: string; readonly input: SentenceInput } | undefined {
  const finish = travelAt(facts, "finish");
  if (finish === undefined) return undefined;
  const afterM = finish.valueM - impact.valueM;
  const sigmaM = Math.sqrt(Math.abs(finish.sigmaM ** 2 - impact.sigmaM ** 2)) || finish.sigmaM;
  if (Math.abs(afterM) <= SURE_SIGMAS * sigmaM) return undefined;
  const { text } = inCentimetres(Math.abs(afterM), sigmaM);
  return {
    text: `${text} ${afterM < 0 ? "away from the target" : isMore ? "more" : "to the target"}`,
    input: input("travel to target from impact to finish", afterM, "m", sigmaM),
  };
}

function spanText(facts: SentenceFacts, { first, end }: Stretch): string {
  const ms = (sample: number): string => signedMs(msFromS(facts.zero, sample / facts.shot.rateHz));
  return `From ${about(facts)}${ms(first)} to ${ms(end - 1)} ms`;
}

function longest(stretches: readonly Stretch[]): Stretch | undefined {
  return [...stretches].sort((a, b) => b.end - b.first - (a.end - a.first))[0];
}

/** The instant of a stretch at which a quantity is smallest. */
function lowestIn({ first, end }: Stretch, value: (i: number) => number): number {
  let at = first;
  for (let i = first; i < end; i++) if (value(i) < value(at)) at = i;
  return at;
}

function motionInputs(facts: SentenceFacts, i: number): readonly SentenceInput[] {
  const words = motionWords(facts.shot, facts.axes)(i);
  const when = `at ${signedMs(msFromS(facts.zero, i / facts.shot.rateHz))} ms`;
  return [
    input(`speed to target ${when}`, words.speedMPerS, "m/s", words.speedSigmaMPerS),
    input(`push less the quiet stance ${when}`, words.netN, "N", words.netSigmaN),
  ];
}

function slowing(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { shot, axes } = facts;
  const stretch = longest(slowingStretches(shot, axes));
  if (stretch === undefined) return SILENT;
  const wordsAt = motionWords(shot, axes);
  const what = hasSlopeShare(shot, axes, "target") ? "the push is below the slope’s share" : "the push takes speed off";
  const i = lowestIn(stretch, (k) => wordsAt(k).netN);
  return [{ text: `${spanText(facts, stretch)} ${what}: slowing, not going back.`, inputs: motionInputs(facts, i) }];
}

function goingBack(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { shot, axes, player } = facts;
  const stretch = longest(goingBackStretches(shot, axes));
  if (stretch === undefined) return SILENT;
  const wordsAt = motionWords(shot, axes);
  const i = lowestIn(stretch, (k) => wordsAt(k).speedMPerS);
  const { speedMPerS, speedSigmaMPerS } = wordsAt(i);
  const speed = inMetresPerSecond(-speedMPerS, speedSigmaMPerS).text;
  const text = `${spanText(facts, stretch)} ${player.subject} ${player.is} going back, at up to ${speed}.`;
  return [{ text, inputs: motionInputs(facts, i) }];
}

export const MOTION_RULES: readonly SentenceRule[] = [
  {
    id: "headline",
    place: "headline",
    condition:
      "Order of the peaks of target, ahead (toes) and up force between top - 150 ms and impact + 150 ms; two closer than two sigmas of their gap are together. Through impact: speed to target right of zero by more than two sigmas for 50 ms (two sigmas of impact, if that is longer) to both sides; at impact: one and the same state over two sigmas of impact. Where neither can be said: why.",
    made: headline,
  },
  {
    id: "travel",
    place: "reading",
    condition:
      "Travel to target at impact beyond two sigmas: nearer or farther; else about where the player was. Travel after impact only beyond two sigmas.",
    made: travel,
  },
  {
    id: "slowing",
    place: "reading",
    condition:
      "From top on, for 50 ms or more: speed to target right of zero by more than two sigmas while the push is less than in the quiet stance by more than two sigmas. The longest such stretch.",
    made: slowing,
  },
  {
    id: "going-back",
    place: "reading",
    condition: "From impact on, for 50 ms or more: speed to target left of zero by more than two sigmas.",
    made: goingBack,
  },
];
