import { expect, test } from "vitest";
import { mergedFindings } from "./merged-findings.ts";

const notZeroed = (plate: number) => ({
  code: "not-zeroed",
  severity: "note" as const,
  sentence: `Plate ${plate} was not zeroed in this recording.`,
  remedy: "Zero it.",
});

test("the same words of two plates are said once, other words stay as they are", () => {
  const gap = { code: "gaps", severity: "caution" as const, sentence: "Plate 2 lost 12 samples.", remedy: "Look." };
  const otherGap = { ...gap, sentence: "Plate 1 lost 40 samples." };
  expect(mergedFindings([notZeroed(2), gap, notZeroed(1), otherGap])).toEqual([
    { ...notZeroed(1), sentence: "Plate 1 was not zeroed in this recording. Plate 2 likewise." },
    gap,
    otherGap,
  ]);
  expect(mergedFindings([])).toEqual([]);
});
