import type { PlayerShape } from "@underfoot/protocol";

export const POSSESSIVES: Readonly<Record<PlayerShape["pronoun"], string>> = { she: "her", he: "his", they: "their" };
