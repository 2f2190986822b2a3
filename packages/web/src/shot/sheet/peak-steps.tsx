import type { PeakStair, SheetColumn } from "@underfoot/report";
import type { ReactElement } from "react";
import { columnX } from "./fall-column.tsx";
import type { Area } from "./placed-notes.ts";
import type { Box } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

/** One step of the stair between two neighbouring force columns. */
export interface PeakStep {
  readonly key: string;
  readonly path: string;
  readonly isTogether: boolean;
  readonly text: string;
  readonly textX: number;
  readonly textY: number;
  /** Room that words of the columns must leave free. */
  readonly area: Area;
}

export interface ShownColumn {
  readonly column: SheetColumn;
  readonly box: Box;
}

/** Width of a figure of a peak's number, px. */
const LABEL_LETTER_PX = 7.2;

/**
 * The peak stair across the force columns that are shown: down and right when they peak in the order of the columns,
 * a zigzag in any other order.
 */
export function peakSteps(stair: PeakStair, columns: readonly ShownColumn[], scale: SheetScale): readonly PeakStep[] {
  const points = stair.peaks.flatMap((peak) => {
    const shown = columns.find(({ column }) => column.id === peak.column);
    return shown === undefined
      ? []
      : [
          {
            peak,
            left: shown.box.x,
            x: columnX(shown.column, shown.box)(peak.value),
            labelPx: 22 + LABEL_LETTER_PX * (shown.column.peak?.label.length ?? 3),
            y: scale.yTime(peak.timeMs),
          },
        ];
  });
  return points.slice(1).flatMap((to, k) => {
    const from = points[k]!;
    const step = [...stair.steps, ...stair.orderSteps].find(
      (candidate) =>
        (candidate.from === from.peak.direction && candidate.to === to.peak.direction) ||
        (candidate.to === from.peak.direction && candidate.from === to.peak.direction),
    );
    if (step === undefined) return [];
    const turnX = to.left - 6;
    const startX = Math.min(from.x + from.labelPx, turnX);
    const [top, bottom] = [Math.min(from.y, to.y), Math.max(from.y, to.y)];
    const textY = to.y >= from.y ? to.y - 5 : to.y + 14;
    return [
      {
        key: `${from.peak.direction} ${to.peak.direction}`,
        path: `M${startX} ${from.y}H${turnX}V${to.y}H${Math.max(turnX, to.x - 8)}`,
        isTogether: step.isTogether,
        text: step.text,
        textX: turnX + 5,
        textY,
        area: {
          left: startX,
          right: Math.max(turnX + 8 + 7 * step.text.length, to.x),
          top: Math.min(top, textY - 12) - 2,
          bottom: bottom + 4,
        },
      },
    ];
  });
}

export function PeakSteps({ steps }: { readonly steps: readonly PeakStep[] }): ReactElement {
  return (
    <g className="stair">
      {steps.map((step) => (
        <g key={step.key}>
          <path
            d={step.path}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={1.6}
            strokeDasharray={step.isTogether ? "2 4" : undefined}
          />
          <text x={step.textX} y={step.textY} className="note strong">
            {step.text}
          </text>
        </g>
      ))}
    </g>
  );
}
