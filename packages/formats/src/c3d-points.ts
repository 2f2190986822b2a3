import type { MarkerTrail } from "@underfoot/domain";
import type { C3dLayout } from "./c3d-layout.ts";
import type { NumberReader } from "./c3d-numbers.ts";
import { type C3dParameters, textsOf } from "./c3d-parameters.ts";

/** What stands before a colon in a point's label may name the person: it is left out. */
const withoutSubject = (label: string): string => label.slice(label.lastIndexOf(":") + 1);

/**
 * The marker points in m, one sample a frame; a point marked invalid (fourth number negative) is NaN.
 * Takes 24 bytes a point and frame.
 */
export function markerTrails(
  numbers: NumberReader,
  parameters: C3dParameters,
  layout: C3dLayout,
  lengthToM: number,
): MarkerTrail[] {
  const { points, frames, frameBytes, isReal, dataAt, pointScale } = layout;
  const labels = textsOf(parameters, "POINT:LABELS");
  const width = isReal ? 4 : 2;
  const factor = lengthToM * (isReal ? 1 : pointScale);
  const one = isReal ? numbers.real : numbers.int16;
  return Array.from({ length: points }, (_, p) => {
    const xM = new Float64Array(frames);
    const yM = new Float64Array(frames);
    const zM = new Float64Array(frames);
    for (let f = 0; f < frames; f++) {
      const at = dataAt + f * frameBytes + 4 * p * width;
      const isValid = one(at + 3 * width) >= 0;
      xM[f] = isValid ? factor * one(at) : Number.NaN;
      yM[f] = isValid ? factor * one(at + width) : Number.NaN;
      zM[f] = isValid ? factor * one(at + 2 * width) : Number.NaN;
    }
    return { label: withoutSubject(labels[p] ?? "") || String(p + 1), xM, yM, zM };
  });
}
