import type { Finding, Severity, ShotFacts } from "@underfoot/domain";
import type { ShotRow } from "../catalogue/catalogue-tables.ts";

/** What a person says of a shot as evidence: counted, kept but mishit, or left out of every comparison. */
export type ShotLabel = "kept" | "mishit" | "set-aside";

/** Set aside is a fact of its own; a mishit is a kept shot whose result is not good. */
function labelOf({ keep, result }: Pick<ShotFacts, "keep" | "result">): ShotLabel {
  if (keep === "set-aside") return "set-aside";
  return result?.isGood === false ? "mishit" : "kept";
}

/** The facts of a shot under another label. What else the result says stays. */
export function withLabel(facts: ShotFacts, label: ShotLabel): ShotFacts {
  if (label === "set-aside") return { ...facts, keep: "set-aside" };
  const { isGood, ...result } = facts.result ?? {};
  const good = label === "mishit" ? { isGood: false } : isGood === true ? { isGood } : {};
  const { result: _, ...others } = facts;
  const all = { ...result, ...good };
  return { ...others, keep: "kept", ...(Object.keys(all).length > 0 ? { result: all } : {}) };
}

/** The columns of a shot that follow from its facts. */
export type FactColumns = Pick<
  ShotRow,
  "label" | "intent" | "lie_name" | "pitch_deg" | "roll_deg" | "club" | "contact" | "start_line_deg" | "carry_m"
>;

export function factColumns(facts: ShotFacts | undefined): FactColumns {
  return {
    label: facts === undefined ? "kept" : labelOf(facts),
    intent: facts?.intent ?? null,
    lie_name: facts?.lieName ?? null,
    pitch_deg: facts?.lie?.pitchDeg ?? null,
    roll_deg: facts?.lie?.rollDeg ?? null,
    club: facts?.club ?? null,
    contact: facts?.result?.contact ?? null,
    start_line_deg: facts?.result?.startLineDeg ?? null,
    carry_m: facts?.result?.carryM ?? null,
  };
}

const SEVERITIES = ["note", "caution", "stop"] as const satisfies readonly Severity[];

/** 0 no finding, 1 note, 2 caution, 3 stop: worse is more. */
export function severityRank(severity: Finding["severity"]): number {
  return SEVERITIES.indexOf(severity) + 1;
}

export function severityOf(rank: number): Severity | undefined {
  return SEVERITIES[rank - 1];
}
