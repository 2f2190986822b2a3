import type { EventName } from "@underfoot/domain";
import { motionWords } from "./motion-words.ts";
import { inMetresPerSecond, inMilliseconds, inNewtons, inSeconds, roundedNewtons } from "./numbers.ts";
import { axisInTurf, forceAt, forceSigmaN, slopeShareN, slopeShareSigmaN } from "./player-force.ts";
import { input, type Sentence, type SentenceFacts, type SentenceRule, SILENT } from "./sentence.ts";
import { msFromS, sampleAt } from "./shot-time.ts";
import { hasSlopeShare } from "./slope-words.ts";

/** "toward" is told beyond this many sigmas. */
const SURE_SIGMAS = 2;

/** "250 ms before impact", "at delivery, 62 ms before impact", "about 40 ms after impact", "1.25 s into the recording". */
function whenText({ shot, zero }: SentenceFacts, sample: number): string {
  const timeS = sample / shot.rateHz;
  if (zero.kind === "first-sample") return `${inSeconds(timeS).text} into the recording`;
  const event: EventName | undefined = shot.events.find(
    (candidate) => Math.abs(candidate.timeS - timeS) * shot.rateHz <= 0.501,
  )?.event;
  const timeMs = msFromS(zero, timeS);
  if (event === "impact" || Math.abs(timeMs) < 0.5) return zero.isEstimated ? "about impact" : "at impact";
  const about = zero.isEstimated ? "about " : "";
  const when = `${about}${inMilliseconds(Math.abs(timeMs)).text} ${timeMs < 0 ? "before" : "after"} impact`;
  return event === undefined ? when : `at ${event}, ${when}`;
}

/** A force in words: "135 N to the target", "40 N away from the target". */
function toward(forceN: number, sigmaN: number): string {
  return `${inNewtons(Math.abs(forceN), sigmaN).text} ${forceN < 0 ? "away from" : "to"} the target`;
}

/** The slope's share and the player's, rounded so that they add up. */
function shares(facts: SentenceFacts, pushN: number, sigmaN: number): Pick<Sentence, "text" | "inputs"> {
  const { shot, axes, player } = facts;
  const shareN = slopeShareN(shot, axes).target;
  const shareSigmaN = slopeShareSigmaN(shot, axes);
  const bothSigmaN = Math.hypot(sigmaN, shareSigmaN);
  const ownN = roundedNewtons(pushN, bothSigmaN) - roundedNewtons(shareN, bothSigmaN);
  const isPlain = pushN >= 0 && shareN >= 0 && ownN >= 0;
  const own = isPlain ? inNewtons(ownN, bothSigmaN).text : toward(ownN, bothSigmaN);
  const share = isPlain ? inNewtons(shareN, bothSigmaN).text : toward(shareN, bothSigmaN);
  return {
    text: ` The slope’s share is ${share}; ${own} is ${player.own}.`,
    inputs: [
      input("slope’s share", shareN, "N", shareSigmaN),
      input("push less slope’s share", pushN - shareN, "N", bothSigmaN),
    ],
  };
}

function rulerPush(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { shot, axes, player, rulerS } = facts;
  if (rulerS === undefined) return SILENT;
  const i = sampleAt(shot, rulerS);
  const pushN = forceAt(shot.both, axisInTurf(shot, axes, "target"), i);
  const when = `At the ruler, ${whenText(facts, i)},`;
  if (!Number.isFinite(pushN)) {
    const text = `${when} there is no data: the recording has a gap here. Move the ruler beside it.`;
    return [{ text, inputs: [] }];
  }
  const sigmaN = forceSigmaN(shot, axes, "target", "absolute")(i);
  const isSloped = hasSlopeShare(shot, axes, "target");
  const decimalSigmaN = isSloped ? Math.hypot(sigmaN, slopeShareSigmaN(shot, axes)) : sigmaN;
  const inputs = [input("push to target at the ruler", pushN, "N", sigmaN)];
  const isSure = Math.abs(pushN) > SURE_SIGMAS * sigmaN;
  const what = isSure
    ? `the ground pushes ${player.object} ${toward(pushN, decimalSigmaN)}.`
    : `the ground hardly pushes ${player.object} along the target line: ${inNewtons(pushN, sigmaN).text} ${inNewtons(pushN, sigmaN).plusMinus ?? ""}.`;
  if (!isSloped) return [{ text: `${when} ${what}`, inputs }];
  const parts = shares(facts, pushN, sigmaN);
  return [{ text: `${when} ${what}${parts.text}`, inputs: [...inputs, ...parts.inputs] }];
}

function rulerMotion(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { shot, axes, player, rulerS } = facts;
  if (rulerS === undefined) return SILENT;
  const words = motionWords(shot, axes)(sampleAt(shot, rulerS));
  const { speedMPerS, speedSigmaMPerS, netN, netSigmaN } = words;
  if (words.motion === "not-known") return SILENT;
  const speed = inMetresPerSecond(Math.abs(speedMPerS), speedSigmaMPerS).text;
  const subject = `${player.Subject} ${player.is}`;
  const inputs = [
    input("speed to target at the ruler", speedMPerS, "m/s", speedSigmaMPerS),
    input("push less the quiet stance at the ruler", netN, "N", netSigmaN),
  ];
  if (words.motion === "about-still") return [{ text: `${subject} about still along the target line.`, inputs }];
  if (words.motion === "going-back") return [{ text: `${subject} going back at ${speed}.`, inputs }];
  const trend = { gaining: " and gaining", slowing: ": slowing, not going back", steady: "" }[words.trend];
  return [{ text: `${subject} moving to the target at ${speed}${trend}.`, inputs }];
}

export const RULER_RULES: readonly SentenceRule[] = [
  {
    id: "ruler-push",
    place: "ruler",
    condition:
      "Push to target at the ruler beyond two sigmas: with its direction; else hardly. On turf axes and a lie tilted along the target line beyond two sigmas and half a degree: the slope's share and what the player adds.",
    made: rulerPush,
  },
  {
    id: "ruler-motion",
    place: "ruler",
    condition:
      "Speed to target right of zero by more than two sigmas: moving to the target; left of it: going back; else about still. Gaining or slowing only beyond two sigmas of the push less the quiet stance, and only while moving to the target.",
    made: rulerMotion,
  },
];
