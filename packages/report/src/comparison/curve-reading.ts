import type { ComparedCurves, Comparison } from "@underfoot/compare";
import type { Sentence } from "../sentence.ts";
import { CLUSTER_RULE, CURVES_RULES, STRETCH_RULE } from "./rules-of-curves.ts";
import { sentenceOf, sentencesOf } from "./worded-rule.ts";

/** Whole curves in words: each stretch that leaves scatter, or that there is none, or why nothing is said. */
export function curveReading(curves: ComparedCurves, comparison: Pick<Comparison, "b">): readonly Sentence[] {
  const { arrangements, countArrangements } = curves;
  const isExact = arrangements === "exact";
  const stretches = curves.curves.flatMap((curve) =>
    curve.stretches.map((stretch) =>
      sentenceOf(STRETCH_RULE, { curve, stretch, nameB: comparison.b.name, isExact, countArrangements }),
    ),
  );
  const clusters = curves.curves.flatMap((curve) =>
    (curve.clusters ?? []).flatMap((cluster) => sentencesOf([CLUSTER_RULE], { cluster, curve, curves })),
  );
  return [...stretches, ...sentencesOf(CURVES_RULES, { curves }), ...clusters];
}
