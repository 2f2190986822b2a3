import type { TruthMeasure } from "./shot-truth.ts";
import { footMeasures } from "./truth-foot-measures.ts";
import { forceMeasures } from "./truth-force-measures.ts";
import { motionMeasures } from "./truth-motion-measures.ts";
import type { TruthScene } from "./truth-scene.ts";

/**
 * The measures of a shot as they truly are, by the definitions of the measures' catalogue, from unfiltered curves at
 * 1 kHz or more; peaks by the parabola through the highest sample and its neighbours.
 */
export function truthMeasures(scene: TruthScene): TruthMeasure[] {
  return [...forceMeasures(scene), ...footMeasures(scene), ...motionMeasures(scene)];
}
