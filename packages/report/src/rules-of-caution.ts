import type { Measure } from "@underfoot/mechanics";
import { validMeasureOf } from "./measure-of.ts";
import { asRatio } from "./numbers.ts";
import { input, type Sentence, type SentenceFacts, type SentenceInput, type SentenceRule, SILENT } from "./sentence.ts";
import { isFlat } from "./slope-words.ts";

function lieInputs({ shot }: SentenceFacts): readonly SentenceInput[] {
  const { pitchDeg, rollDeg, sdDeg } = shot.lie;
  return [input("pitch", pitchDeg, "°", sdDeg), input("roll", rollDeg, "°", sdDeg)];
}

function slopedLie(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  if (isFlat(facts.shot)) return SILENT;
  const text =
    "Hitting from tilted plates can slip or strain: secure plates and stance, keep within the plates’ rated load, stop at pain.";
  return [{ text, inputs: lieInputs(facts) }];
}

/** Feet whose required friction reaches the caution of the settings. */
function slippery({
  shot,
  measures,
  axes,
}: SentenceFacts): readonly { readonly foot: string; readonly peak: Measure }[] {
  return (["lead", "trail"] as const).flatMap((foot) => {
    const peak = validMeasureOf(measures, `${foot}.friction.peak`, axes);
    return peak !== undefined && peak.value >= shot.settings.frictionCaution ? [{ foot, peak }] : [];
  });
}

function friction(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  const { frictionCaution, frictionStrongCaution } = facts.shot.settings;
  return slippery(facts).map(({ foot, peak }) => {
    const isStrong = peak.value >= frictionStrongCaution;
    const { text, plusMinus = "" } = asRatio(peak.value, peak.sigma);
    const limit = asRatio(isStrong ? frictionStrongCaution : frictionCaution).text;
    const advice = isStrong
      ? "stop, and check shoes, surface, water and how the plates are secured before the next shot"
      : "check shoes, surface, water and how the plates are secured";
    return {
      text: `The ${foot} foot asked the footing for a friction of ${text} ${plusMinus} (caution from ${limit}): ${advice}.`,
      inputs: [input(peak.id, peak.value, peak.unit, peak.sigma), input("caution from", frictionCaution, "1")],
    };
  });
}

function noDiagnosis(facts: SentenceFacts): readonly Pick<Sentence, "text" | "inputs">[] {
  if (isFlat(facts.shot) && slippery(facts).length === 0) return SILENT;
  const text =
    "A measure is no diagnosis: injury or pain belongs with a licensed clinician. Local rules for the place come first.";
  return [{ text, inputs: [] }];
}

export const CAUTION_RULES: readonly SentenceRule[] = [
  {
    id: "sloped-lie",
    place: "caution",
    condition: "Pitch or roll beyond two sigmas of the inclinometer and half a degree.",
    made: slopedLie,
  },
  {
    id: "friction",
    place: "caution",
    condition: "A foot's required friction reaches the caution of the settings (common practice, no source).",
    made: friction,
  },
  { id: "no-diagnosis", place: "caution", condition: "Wherever another caution stands.", made: noDiagnosis },
];
