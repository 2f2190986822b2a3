import { lieText } from "@underfoot/report";
import type { ReactElement } from "react";
import type { PlanLie } from "../order/plan-grid.ts";
import { isSloped } from "./lie-cautions.ts";

export interface LiePictureProps {
  readonly lie: PlanLie;
  readonly widthPx: number;
}

const HEIGHT_PX = 118;
const RAD = Math.PI / 180;

/** The lie from the side: along the target line with the target on the right, and from behind the player's heels to the ball. */
export function LiePicture({ lie, widthPx }: LiePictureProps): ReactElement | null {
  if (widthPx < 100) return null;
  const halfPx = (widthPx - 16) / 2;
  return (
    <svg
      width={widthPx}
      height={HEIGHT_PX}
      role="img"
      aria-label={`The lie ${lie.name} from the side: ${lieText(lie)}. Pitch ${lie.pitchDeg}°, roll ${lie.rollDeg}°.`}
    >
      <SideView
        xPx={0}
        widthPx={halfPx}
        angleDeg={lie.pitchDeg}
        title="along the target"
        ends={["", "target"]}
        isSloped={isSloped(lie)}
      />
      <SideView
        xPx={halfPx + 16}
        widthPx={halfPx}
        angleDeg={lie.rollDeg}
        title="heels to ball"
        ends={["heels", "ball"]}
        isSloped={isSloped(lie)}
      />
    </svg>
  );
}

interface SideViewProps {
  readonly xPx: number;
  readonly widthPx: number;
  readonly angleDeg: number;
  readonly title: string;
  readonly ends: readonly [string, string];
  readonly isSloped: boolean;
}

/** The ground at its true angle over the level, gravity's hachure between them. */
function SideView({ xPx, widthPx, angleDeg, title, ends, isSloped: isAny }: SideViewProps): ReactElement {
  const steepest = Math.max(-24, Math.min(24, angleDeg));
  const runPx = widthPx - 12;
  const risePx = Math.min(52, Math.abs(runPx * Math.tan(steepest * RAD))) * Math.sign(steepest);
  const middleY = 70;
  const [leftY, rightY] = [middleY + risePx / 2, middleY - risePx / 2];
  const [left, right] = [xPx + 6, xPx + 6 + runPx];
  const lowest = Math.max(leftY, rightY);
  const foot = leftY === lowest ? right : left;
  const top = Math.min(leftY, rightY);
  return (
    <g>
      {isAny && Math.abs(risePx) > 0.5 ? (
        <path d={`M${left} ${leftY}L${right} ${rightY}L${foot} ${lowest}Z`} fill="url(#hachure)" />
      ) : null}
      <path d={`M${left} ${lowest}H${right}`} stroke="var(--turf)" strokeDasharray="2 4" />
      <path d={`M${left} ${leftY}L${right} ${rightY}`} stroke="var(--turf-ink)" strokeWidth={3} />
      <text x={left} y={16} className="plan-caption">
        {title}
      </text>
      <text x={left} y={Math.min(top - 8, 46)} className="note slope strong">
        {`${angleDeg > 0 ? "+" : ""}${angleDeg.toFixed(1)}°`.replace("-", "−")}
      </text>
      <text x={left} y={HEIGHT_PX - 6} className="plan-caption">
        {ends[0]}
      </text>
      <text x={right} y={HEIGHT_PX - 6} className="plan-caption end">
        {ends[1]}
      </text>
    </g>
  );
}
