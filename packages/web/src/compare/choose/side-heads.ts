import { dayText } from "@underfoot/report";
import type { CompareAsk } from "../compare-address.ts";
import { type CountedShot, conditionOfShot, daysOf, shotsOfSide } from "./shot-counts.ts";
import { shotWords } from "./shot-words.ts";
import type { SideQuery } from "./side-query.ts";
import { daysText, sideWords } from "./side-words.ts";

export interface SideHead {
  readonly name: string;
  readonly detail: string;
}

/** Who is A and who is B, as they stand above the comparison. */
export interface SideHeads {
  readonly a: SideHead;
  readonly b: SideHead;
  readonly both: string;
  /** Of single shots: "stock, flat". */
  readonly condition: string;
}

/** @param shots  of the player */
export function sideHeads({ a, b }: Pick<CompareAsk, "a" | "b">, shots: readonly CountedShot[]): SideHeads {
  if (a?.kind !== "shots" || b?.kind !== "shots") {
    const [first, second] = b?.kind === "usual" ? [b, a] : [a, b];
    return {
      a: singleHead(first, shots),
      b: singleHead(second, shots),
      both: "",
      condition: second?.kind === "shot" ? conditionWords(shots.find(({ shotId }) => shotId === second.shotId)) : "",
    };
  }
  const dayOf = (sessionId: string): string | undefined => shots.find((shot) => shot.sessionId === sessionId)?.day;
  const words = sideWords(a.asked, b.asked, dayOf);
  const head = (name: string, facts: typeof a.asked): SideHead => ({
    name,
    detail: countsText(shotsOfSide(shots, facts)),
  });
  return { a: head(words.a, a.asked), b: head(words.b, b.asked), both: words.both, condition: "" };
}

function conditionWords(shot: CountedShot | undefined): string {
  return [shot?.intent, shot?.lieName].filter((word) => word !== undefined).join(", ");
}

/** "9 kept shots, 25 Nov 2025; 2 mishits". */
function countsText(shots: readonly CountedShot[]): string {
  const count = (label: CountedShot["label"]): number => shots.filter((shot) => shot.label === label).length;
  const [kept, mishits] = [count("kept"), count("mishit")];
  const days = daysText(daysOf(shots));
  return [
    `${kept} kept ${kept === 1 ? "shot" : "shots"}${days === "" ? "" : `, ${days}`}`,
    ...(mishits === 0 ? [] : [`${mishits} ${mishits === 1 ? "mishit" : "mishits"}`]),
  ].join("; ");
}

function singleHead(side: SideQuery | undefined, shots: readonly CountedShot[]): SideHead {
  if (side === undefined) return { name: "", detail: "" };
  if (side.kind === "shots")
    return {
      name: `usual ${sideWords(side.asked, {}, () => undefined).a}`,
      detail: countsText(shotsOfSide(shots, side.asked)),
    };
  const shot = shots.find(({ shotId }) => shotId === side.shotId);
  if (shot === undefined) return { name: side.kind === "usual" ? "usual" : "one shot", detail: "" };
  if (side.kind === "shot") return { name: `shot ${shotWords(shot)}`, detail: dayText(shot.day) };
  const others = shotsOfSide(shots, conditionOfShot(shot)).filter(({ shotId }) => shotId !== shot.shotId);
  return { name: `usual ${conditionWords(shot)}`, detail: countsText(others) };
}
