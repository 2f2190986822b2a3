import { type SheetModel, thinned } from "@underfoot/report";
import { memo, type ReactElement } from "react";
import { curvePath } from "./curve-path.ts";
import type { NoteWish } from "./placed-notes.ts";
import type { Box } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface CopFallProps {
  readonly model: SheetModel;
  readonly box: Box;
  readonly scale: SheetScale;
}

/** Pressure of both feet along the target line, falling with time under the plan on the plan's own scale. */
export const CopFall = memo(function CopFall({ model, box, scale }: CopFallProps): ReactElement {
  const both = model.fall.trails.find((trail) => trail.foot === "both");
  const place = { x: scale.xTarget, y: (sample: number) => scale.yTime(model.timesMs[sample] ?? Number.NaN) };
  const path = both === undefined ? "" : curvePath(both.targetM, thinned(both.targetM, box.height), place);
  const top = box.y - 34;
  return (
    <g data-column="cop">
      {model.fall.feet.map(({ foot, fromM, toM }) => (
        <rect
          key={foot}
          x={scale.xTarget(fromM)}
          y={top}
          width={scale.xTarget(toM) - scale.xTarget(fromM)}
          height={box.y + box.height - top}
          fill="var(--ground)"
          className="ground"
        />
      ))}
      <path d={path} className="curve casing" />
      <path d={path} className="curve heavy" stroke="var(--both)" />
    </g>
  );
});

/** The order in which lead shares are worth their room. */
const SHARE_ORDER = ["delivery", "address", "top", "finish", "impact", "start"];

/** Lead shares beside the falling pressure. */
export function shareWishes(model: SheetModel, scale: SheetScale): readonly NoteWish[] {
  return [...model.fall.shareLabels]
    .filter((label) => Number.isFinite(label.atM))
    .sort((a, b) => SHARE_ORDER.indexOf(a.event) - SHARE_ORDER.indexOf(b.event))
    .map((label) => ({
      key: `share ${label.event}`,
      lines: [label.text],
      x: scale.xTarget(label.atM),
      y: scale.yTime(label.timeMs) - 8,
      sides: ["left", "right"] as const,
      gapPx: 13,
      reachPx: 15,
    }));
}
