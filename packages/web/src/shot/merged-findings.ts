import type { ListedFinding } from "./finding-list.tsx";

const PLATE = /\bPlate (\d+)\b/;

/** What is said of several plates in the same words is said once: "Plate 1 was not zeroed ... Plate 2 likewise." */
export function mergedFindings(findings: readonly ListedFinding[]): readonly ListedFinding[] {
  const groups = new Map<string, ListedFinding[]>();
  for (const finding of findings) {
    const key = `${finding.code} ${finding.severity} ${finding.sentence.replace(PLATE, "Plate")} ${finding.remedy}`;
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  return [...groups.values()].map((same) => {
    const sorted = same.toSorted((a, b) => plateOf(a) - plateOf(b));
    const [first = same[0] as ListedFinding, ...others] = sorted;
    const likewise = others.map((other) => ` Plate ${plateOf(other)} likewise.`).join("");
    return { ...first, sentence: `${first.sentence}${likewise}` };
  });
}

const plateOf = ({ sentence }: ListedFinding): number => Number(PLATE.exec(sentence)?.[1] ?? 0);
