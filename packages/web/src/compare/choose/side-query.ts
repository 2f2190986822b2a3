import { type ShotsAsked, shotsAsked, shotsAskedText, UnderfootError } from "@underfoot/domain";

/** The facts by which a side is chosen on the page; an address may name others besides. */
export const SIDE_FACTS = ["intent", "lieName", "club", "sessionId"] as const;
export type SideFact = (typeof SIDE_FACTS)[number];

/** One side of a comparison: the shots that are asked for, one shot, or what is usual where a shot stands. */
export type SideQuery =
  | { readonly kind: "shots"; readonly asked: ShotsAsked }
  | { readonly kind: "shot"; readonly shotId: string }
  | { readonly kind: "usual"; readonly shotId: string };

const USUAL = "usual=";

/** A side as it stands in an address: `intent=low;lieName=flat`, `shot=ID` or `usual=ID`. */
export function sideText(side: SideQuery): string {
  switch (side.kind) {
    case "shots":
      return shotsAskedText(side.asked);
    case "shot":
      return shotsAskedText({ shotIds: [side.shotId] });
    case "usual":
      return shotsAskedText({ shotIds: [side.shotId] }).replace("shot=", USUAL);
  }
}

function askedFrom(text: string): ShotsAsked | undefined {
  try {
    return shotsAsked(text);
  } catch (fault) {
    if (fault instanceof UnderfootError) return undefined;
    throw fault;
  }
}

/** @returns undefined where the text is no side, or asks for all shots of everybody */
export function sideFromText(text: string): SideQuery | undefined {
  const isUsual = text.startsWith(USUAL);
  const asked = askedFrom(isUsual ? text.replace(USUAL, "shot=") : text);
  if (asked === undefined || Object.keys(asked).length === 0) return undefined;
  const { shotIds, ...facts } = asked;
  const isOne = shotIds?.length === 1 && Object.keys(facts).length === 0;
  const [shotId = ""] = shotIds ?? [];
  if (isUsual) return isOne ? { kind: "usual", shotId } : undefined;
  return isOne ? { kind: "shot", shotId } : { kind: "shots", asked };
}
