import type { Finding } from "@underfoot/domain";
import type { ReactElement } from "react";
import { mergedFindings } from "./merged-findings.ts";

/** As much of a finding as is shown. */
export type ListedFinding = Pick<Finding, "code" | "severity" | "sentence" | "remedy">;

const WORDS = { note: "Note", caution: "Caution", stop: "Not computed" } as const;
const RANK = { stop: 0, caution: 1, note: 2 } as const;

/** What must be said about a recording, gravest first, each with what to do. */
export function FindingList({ findings }: { readonly findings: readonly ListedFinding[] }): ReactElement | null {
  if (findings.length === 0) return null;
  const sorted = mergedFindings(findings).toSorted((a, b) => RANK[a.severity] - RANK[b.severity]);
  return (
    <ul className="findings">
      {sorted.map((finding) => (
        <li key={`${finding.code} ${finding.sentence}`} className={finding.severity}>
          <b>{WORDS[finding.severity]}.</b> {finding.sentence} <span className="quiet">{finding.remedy}</span>
        </li>
      ))}
    </ul>
  );
}
