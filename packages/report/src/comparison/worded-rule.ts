import type { Sentence, SentenceInput } from "../sentence.ts";

/** What a template is filled with, and the numbers behind it. */
export interface Filling {
  /** Place of the template where a rule has several; the first by default. */
  readonly template?: number;
  /** By the name between the braces; of `{more|less}` the word that holds. */
  readonly slots: Readonly<Record<string, string>>;
  readonly inputs: readonly SentenceInput[];
}

/** One rule of the table of sentences: when it may be said, in words and as a test, and what is then said. */
export interface WordedRule<Facts> {
  readonly id: string;
  /** When the sentence may be said, in words. */
  readonly condition: string;
  /** `{x}` is filled in, `{more|less}` is one of these words. */
  readonly templates: readonly string[];
  readonly maySay: (facts: Facts) => boolean;
  /** Only asked where the sentence may be said. */
  readonly filled: (facts: Facts) => Filling;
}

/** A rule as a table shows it. */
export type RuleText = Pick<WordedRule<unknown>, "id" | "condition" | "templates">;

const SLOT = /\{([^{}]+)\}/g;

/** The template with its slots filled and a capital at its beginning. RangeError where a slot stays empty or its word is not one of the choice. */
export function textOf(template: string, slots: Filling["slots"]): string {
  const text = template.replaceAll(SLOT, (_, name: string) => {
    const word = slots[name];
    if (word === undefined) throw new RangeError(`nothing fills {${name}} of "${template}"`);
    if (name.includes("|") && !name.split("|").includes(word))
      throw new RangeError(`"${word}" is not one of {${name}} of "${template}"`);
    return word;
  });
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** The sentence of one rule. */
export function sentenceOf<Facts>(rule: WordedRule<Facts>, facts: Facts): Sentence {
  const { template = 0, slots, inputs } = rule.filled(facts);
  return { rule: rule.id, condition: rule.condition, text: textOf(rule.templates[template] ?? "", slots), inputs };
}

/** The sentences of all rules that may speak, in their order. */
export function sentencesOf<Facts>(rules: readonly WordedRule<Facts>[], facts: Facts): readonly Sentence[] {
  return rules.filter((rule) => rule.maySay(facts)).map((rule) => sentenceOf(rule, facts));
}

/** The sentence of the first rule that may speak; undefined where none may. */
export function firstSentence<Facts>(rules: readonly WordedRule<Facts>[], facts: Facts): Sentence | undefined {
  const rule = rules.find(({ maySay }) => maySay(facts));
  return rule && sentenceOf(rule, facts);
}

/** The same where the last rule of the list always speaks. RangeError where none does: an error of the list. */
export function neededSentence<Facts>(rules: readonly WordedRule<Facts>[], facts: Facts): Sentence {
  const sentence = firstSentence(rules, facts);
  if (sentence === undefined) throw new RangeError(`none of the rules ${rules.map(({ id }) => id).join(", ")} speaks`);
  return sentence;
}
