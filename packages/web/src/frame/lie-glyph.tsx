import type { ReactElement } from "react";

/** A lie's pitch drawn three times steeper than it is; the words beside it say the angle. Target is on the right. */
export function LieGlyph({ pitchDeg }: { readonly pitchDeg: number }): ReactElement {
  const rise = 15 * Math.tan((Math.min(25, Math.max(-25, 3 * pitchDeg)) * Math.PI) / 180);
  return (
    <svg className="lie-glyph" width="34" height="22" viewBox="-17 -11 34 22" aria-hidden="true">
      <path d={`M-15 ${rise}L15 ${-rise}`} stroke="var(--turf-ink)" strokeWidth="3" fill="none" />
    </svg>
  );
}
