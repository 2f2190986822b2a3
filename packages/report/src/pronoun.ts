/** How sentences speak of the player: from the player's record; `player` where nothing is known, `you` on the handout. */
export type Pronoun = "she" | "he" | "they" | "player" | "you";

/** The forms a sentence needs. */
export interface PronounForms {
  /** "she"; `Subject` begins a sentence. */
  readonly subject: string;
  readonly Subject: string;
  /** "pushes her". */
  readonly object: string;
  /** "her lead foot". */
  readonly possessive: string;
  /** "67 N is hers". */
  readonly own: string;
  /** "is" or "are". */
  readonly is: string;
  /** Ending of the verb: "moves" or "move". */
  readonly s: "s" | "";
}

/** Forms of each pronoun. */
export const PRONOUNS: Readonly<Record<Pronoun, PronounForms>> = {
  she: { subject: "she", Subject: "She", object: "her", possessive: "her", own: "hers", is: "is", s: "s" },
  he: { subject: "he", Subject: "He", object: "him", possessive: "his", own: "his", is: "is", s: "s" },
  they: { subject: "they", Subject: "They", object: "them", possessive: "their", own: "theirs", is: "are", s: "" },
  player: {
    subject: "the player",
    Subject: "The player",
    object: "the player",
    possessive: "the player’s",
    own: "the player’s",
    is: "is",
    s: "s",
  },
  you: { subject: "you", Subject: "You", object: "you", possessive: "your", own: "yours", is: "are", s: "" },
};
