import { EVENT_NAMES } from "@underfoot/domain";
import { inMetresPerSecond } from "./numbers.ts";
import { input, type Sentence, type SentenceFacts, type SentenceRule, SILENT } from "./sentence.ts";
import { eventOf, sampleAt } from "./shot-time.ts";

/** What is left out where an event is missing. */
const LEFT_OUT: Readonly<Record<string, string>> = {
  start: "backswing time and tempo are not given",
  top: "the order of the peaks, downswing time and everything at the top are not given",
  delivery: "nothing is given at delivery",
  impact: "times count from the first sample and nothing is given at impact",
  finish: "peaks are looked for to the end of the recording and no travel is given at the finish",
};

function notTraced({ shot }: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const missing = (["lead", "trail"] as const).filter(
    (foot) => shot[foot] !== undefined && shot.soles[foot] === undefined,
  );
  if (missing.length === 0) return SILENT;
  const feet = missing.length === 2 ? "Neither foot is traced" : `The ${missing[0]} foot is not traced`;
  const what = missing.length === 2 ? "Trace both feet on their plates." : "Trace it on its plate.";
  return [{ text: `${feet}, so heel to toe pressure is not given. ${what}`, inputs: [] }];
}

function eventsMissing(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { shot } = facts;
  return EVENT_NAMES.filter((event) => event !== "address" && eventOf(shot, event) === undefined)
    .filter((event) => !shot.findings.some(({ code }) => code === `${event}-not-found`))
    .map((event) => ({
      text: `The ${event} was not found, so ${LEFT_OUT[event]}. Mark it at the ruler.`,
      inputs: [],
    }));
}

function lieMissing({ shot, player }: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  if (shot.isLieKnown || shot.findings.some(({ code }) => code === "lie-unknown")) return SILENT;
  const { pitchDeg, rollDeg, sigmaDeg } = shot.slopeCheck;
  return [
    {
      text: `Nobody gave the lie, so flat is assumed and what a slope does would be read as ${player.own}. Enter both angles of the inclinometer.`,
      inputs: [
        input("lean of the quiet stance to target", pitchDeg, "°", sigmaDeg),
        input("and ahead", rollDeg, "°", sigmaDeg),
      ],
    },
  ];
}

function openMotion({ shot, axes }: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  if (shot.closing === "closed") return SILENT;
  const impact = eventOf(shot, "impact");
  const i = impact ? sampleAt(shot, impact.timeS) : shot.sampleCount - 1;
  const sigma = shot[axes].speedTargetSigmaMPerS[i];
  if (Number.isNaN(shot[axes].speedTargetMPerS[i])) return SILENT;
  const speed = inMetresPerSecond(0, sigma).plusMinus;
  const size = speed === undefined ? "" : ` (${speed} m/s ${impact ? "at impact" : "at the end"})`;
  return [
    {
      text: `No second quiet stance was found, so speed and travel are less certain${size}. Ask for a second of stillness after the finish.`,
      inputs: [input("one sigma of the speed to target", sigma ?? Number.NaN, "m/s")],
    },
  ];
}

function oneFootMissing({ shot }: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const missing = (["lead", "trail"] as const).filter((foot) => shot[foot] === undefined);
  if (missing.length === 0) return SILENT;
  const feet =
    missing.length === 2 ? "No plate carries one foot alone" : `No plate carries the ${missing[0]} foot alone`;
  return [{ text: `${feet}, so load share and couple are not given. Give each foot a plate of its own.`, inputs: [] }];
}

function findings({ shot }: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  return shot.findings
    .filter(({ severity, code }) => severity !== "note" || code.endsWith("-not-found"))
    .map(({ sentence, remedy }) => ({ text: `${sentence} ${remedy}`, inputs: [] }));
}

export const GAP_RULES: readonly SentenceRule[] = [
  { id: "one-plate", place: "missing", condition: "A foot has no plate of its own.", made: oneFootMissing },
  {
    id: "feet-not-traced",
    place: "missing",
    condition: "A foot with a plate of its own has no outline.",
    made: notTraced,
  },
  {
    id: "event-missing",
    place: "missing",
    condition: "An event was neither marked nor found, and no finding says so.",
    made: eventsMissing,
  },
  { id: "lie-missing", place: "missing", condition: "No lie is known, and no finding says so.", made: lieMissing },
  {
    id: "open-motion",
    place: "missing",
    condition: "The motion was not closed by a second quiet stance, and no gap ends it before impact.",
    made: openMotion,
  },
  {
    id: "finding",
    place: "missing",
    condition: "A finding of the computation that is more than a note, or an event that was not found.",
    made: findings,
  },
];
