import type { PlateCheckShape } from "@underfoot/protocol";

export type CheckKind = PlateCheckShape["kind"];

export interface CheckWords {
  readonly title: string;
  /** What to do before the recording is made, one sentence. */
  readonly todo: string;
  /** "The zero": begins the sentence of what was found. */
  readonly subject: string;
  /** What to look at where it fails. */
  readonly lookAt: string;
}

/** The checks in the order they are made. */
export const CHECK_KINDS = ["zero", "known-mass", "quiet-lean", "clocks", "outlines"] as const satisfies CheckKind[];

export const CHECK_WORDS: Readonly<Record<CheckKind, CheckWords>> = {
  zero: {
    title: "Zero",
    todo: "Nobody and nothing on the plates, lying as they will be used, for at least 2 s.",
    subject: "The zero",
    lookAt: "clear the plates, let them warm up, and zero them again",
  },
  "known-mass": {
    title: "Known mass",
    todo: "Lay a mass you have weighed on one plate, in the middle or near a corner, and leave it alone for 2 s.",
    subject: "The known mass",
    lookAt: "weigh the mass again, look for what touches the plate, then look at the calibration",
  },
  "quiet-lean": {
    title: "Lean of the quiet stance",
    todo: "The player stands still on both plates for 3 s, on the lie that the inclinometer was read on.",
    subject: "The lean of the quiet stance",
    lookAt: "check the inclinometer or the plates",
  },
  clocks: {
    title: "Clocks",
    todo: "Lay a board across both plates and strike it once, or rock from foot to foot for 8 s.",
    subject: "The clocks of the plates",
    lookAt: "start both streams again, then tap again",
  },
  outlines: {
    title: "Foot outlines",
    todo: "The player stands in place; walk a narrow tip with 50 N or more once round the edge of each shoe, one after the other.",
    subject: "The walked outlines",
    lookAt: "walk round the edge again, slowly, or drag the outline instead",
  },
};

/** Found and allowed are written alike: three figures at most, never finer than a hundredth, real minus, unit. */
export function amount(value: number | undefined, unit: string): string {
  if (value === undefined || !Number.isFinite(value)) return "not known";
  const size = Math.abs(value);
  const text = size >= 100 ? value.toFixed(0) : size >= 10 ? value.toFixed(1) : Number(value.toPrecision(2)).toFixed(2);
  return `${Number(text)}`.replace("-", "−") + unitText(unit);
}

function unitText(unit: string): string {
  if (unit === "") return "";
  return unit === "deg" || unit === "°" ? "°" : ` ${unit}`;
}
