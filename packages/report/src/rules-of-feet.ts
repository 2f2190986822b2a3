import type { EventName } from "@underfoot/domain";
import type { Measure } from "@underfoot/mechanics";
import { validMeasureOf } from "./measure-of.ts";
import { inPercent, type NumberText } from "./numbers.ts";
import { input, type Sentence, type SentenceFacts, type SentenceInput, type SentenceRule, SILENT } from "./sentence.ts";
import { eventOf, msFromS } from "./shot-time.ts";
import { signedMs } from "./time-text.ts";

function inputOf({ id, value, unit, sigma }: Measure): SentenceInput {
  return input(id, value, unit, sigma);
}

function percentOf(measure: Measure): NumberText {
  return inPercent(measure.value, measure.sigma);
}

/** "At delivery", or "At delivery, about −80 ms," where its time is only estimated. */
function atEvent({ shot, zero }: SentenceFacts, event: EventName): string {
  const found = eventOf(shot, event);
  if (found?.source !== "estimated") return `At ${event}`;
  return `At ${event}, about ${signedMs(msFromS(zero, found.timeS))} ms,`;
}

function loadShare(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { measures, axes, player } = facts;
  const delivery = validMeasureOf(measures, "lead.share.at.delivery", axes);
  if (delivery === undefined) return SILENT;
  const { text } = percentOf(delivery);
  const address = validMeasureOf(measures, "lead.share.at.address", axes);
  const before = address === undefined ? "" : `; at address it was ${percentOf(address).text}`;
  return [
    {
      text: `${atEvent(facts, "delivery")} ${text} of the load is on ${player.possessive} lead foot${before}.`,
      inputs: [inputOf(delivery), ...(address === undefined ? [] : [inputOf(address)])],
    },
  ];
}

function leadPressure(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { measures, axes, player } = facts;
  const heelToe = validMeasureOf(measures, "lead.heelToe.at.delivery", axes);
  if (heelToe === undefined) return SILENT;
  const innerOuter = validMeasureOf(measures, "lead.innerOuter.at.delivery", axes);
  const across = innerOuter === undefined ? "" : ` and ${percentOf(innerOuter).text} from the inner to the outer edge`;
  return [
    {
      text: `${atEvent(facts, "delivery")} the pressure under ${player.possessive} lead foot is ${percentOf(heelToe).text} of the way from heel to toe${across}.`,
      inputs: [inputOf(heelToe), ...(innerOuter === undefined ? [] : [inputOf(innerOuter)])],
    },
  ];
}

export const FEET_RULES: readonly SentenceRule[] = [
  {
    id: "load-share",
    place: "reading",
    condition: "The lead foot's load share at delivery is valid; that of address is added where it is.",
    made: loadShare,
  },
  {
    id: "lead-pressure",
    place: "reading",
    condition: "The lead foot is traced and loaded enough at delivery; across the foot only where that is valid too.",
    made: leadPressure,
  },
];
