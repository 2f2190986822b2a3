import type { MarkerTrail } from "@underfoot/domain";
import type { C3dLayout } from "./c3d-layout.ts";
import { type NumberReader, vaxReal } from "./c3d-numbers.ts";
import { type C3dParameters, textsOf } from "./c3d-parameters.ts";

/** What stands before a colon in a point's label may name the person: it is left out. */
const withoutSubject = (label: string): string => label.slice(label.lastIndexOf(":") + 1);

type One = (view: DataView, at: number) => number;

const littleReal: One = (view, at) => view.getFloat32(at, true);
const bigReal: One = (view, at) => view.getFloat32(at, false);
const littleInteger: One = (view, at) => view.getInt16(at, true);
const bigInteger: One = (view, at) => view.getInt16(at, false);

function oneOf({ isReal, processor }: C3dLayout): One {
  if (!isReal) return processor === "mips" ? bigInteger : littleInteger;
  if (processor === "dec") return vaxReal;
  return processor === "mips" ? bigReal : littleReal;
}

/**
 * The marker points in m, one sample a frame; a point marked invalid (fourth number negative) is NaN.
 * Takes 24 bytes a point and frame.
 */
export function markerTrails(
  { view }: NumberReader,
  parameters: C3dParameters,
  layout: C3dLayout,
  lengthToM: number,
): MarkerTrail[] {
  const { points, frames, frameBytes, isReal, dataAt, pointScale } = layout;
  const labels = textsOf(parameters, "POINT:LABELS");
  const width = isReal ? 4 : 2;
  const factor = lengthToM * (isReal ? 1 : pointScale);
  const one = oneOf(layout);
  const trails = Array.from({ length: points }, (_, p) => ({
    label: withoutSubject(labels[p] ?? "") || String(p + 1),
    xM: new Float64Array(frames),
    yM: new Float64Array(frames),
    zM: new Float64Array(frames),
  }));
  for (let f = 0; f < frames; f++) {
    let at = dataAt + f * frameBytes;
    for (let p = 0; p < points; p++, at += 4 * width) {
      const { xM, yM, zM } = trails[p]!;
      const scale = one(view, at + 3 * width) >= 0 ? factor : Number.NaN;
      xM[f] = scale * one(view, at);
      yM[f] = scale * one(view, at + width);
      zM[f] = scale * one(view, at + 2 * width);
    }
  }
  return trails;
}
