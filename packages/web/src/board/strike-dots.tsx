import type { BoardCell } from "@underfoot/compare";
import type { ReactElement } from "react";

/** A plain club face, mm from its centre, as seen from the target: a right-handed club's toe is on the left. */
const FACE = "M36 17L36 -1L-24 -21C-38 -25 -44 -16 -44 -2C-44 12 -38 19 -26 19L34 19Q36 19 36 17Z";
const NECK = "M28 -4L34 -27L42 -27L36 -1";

export interface StrikeDotsProps {
  readonly strikes: BoardCell["strikes"];
  readonly handed: "right" | "left";
}

/** Where on the face the shots of a cell were struck: kept filled, the others hollow. Nothing where nobody said it. */
export function StrikeDots({ strikes, handed }: StrikeDotsProps): ReactElement | null {
  const placed = strikes.flatMap(({ shotId, label, strikeMm }) =>
    strikeMm === undefined ? [] : [{ shotId, isKept: label === "kept", toeMm: strikeMm[0], upMm: strikeMm[1] }],
  );
  if (placed.length === 0) return null;
  const side = handed === "right" ? -1 : 1;
  return (
    <svg className="strikes" width="82" height="50" viewBox="-48 -30 96 56" aria-hidden="true">
      <g transform={handed === "right" ? undefined : "scale(-1 1)"}>
        <path d={`${FACE}${NECK}`} className="face" />
      </g>
      {placed.map(({ shotId, isKept, toeMm, upMm }) => (
        <circle key={shotId} cx={side * toeMm} cy={-upMm} r="3.4" className={isKept ? "struck" : "struck hollow"} />
      ))}
    </svg>
  );
}
