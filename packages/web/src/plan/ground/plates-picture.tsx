import type { Handed, TurfPoint } from "@underfoot/domain";
import { lieContours, type PlanExtent, untracedSole } from "@underfoot/report";
import { type ReactElement, useId } from "react";
import { Contours, outlinePath, type PlanScale } from "../../shot/sheet/plan.tsx";
import type { PlanLie } from "../order/plan-grid.ts";
import type { GroundPlan, GroundSole } from "./ground-plan.ts";

export interface PlatesPictureProps {
  readonly ground: GroundPlan;
  readonly soles: readonly GroundSole[];
  readonly lie: PlanLie | undefined;
  readonly handed: Handed;
  readonly widthPx: number;
}

/** Room around the plates, m. */
const ROOM_M = 0.06;
/** Above the plates, for the caption and the flag. */
const HEAD_PX = 46;

/** The ground in px: target to the right, toes down for right-handed players, up for left-handed ones. */
export interface GroundScale extends PlanScale {
  readonly extent: PlanExtent;
  readonly pxPerM: number;
  readonly heightPx: number;
  readonly turfAt: (xPx: number, yPx: number) => TurfPoint;
}

/** @param points  what has to be seen */
export function groundScale(points: readonly TurfPoint[], handed: Handed, widthPx: number): GroundScale {
  const targets = points.map(({ targetM }) => targetM);
  const aheads = points.map(({ aheadM }) => aheadM);
  const extent = {
    minTargetM: Math.min(...targets) - ROOM_M,
    maxTargetM: Math.max(...targets) + ROOM_M,
    minAheadM: Math.min(...aheads) - ROOM_M,
    maxAheadM: Math.max(...aheads) + ROOM_M,
  };
  const pxPerM = widthPx / (extent.maxTargetM - extent.minTargetM);
  const down = handed === "right" ? 1 : -1;
  const topM = down === 1 ? extent.minAheadM : -extent.maxAheadM;
  return {
    extent,
    pxPerM,
    heightPx: HEAD_PX + (extent.maxAheadM - extent.minAheadM) * pxPerM,
    xTarget: (targetM) => (targetM - extent.minTargetM) * pxPerM,
    yAhead: (aheadM) => HEAD_PX + (down * aheadM - topM) * pxPerM,
    turfAt: (xPx, yPx) => ({
      targetM: extent.minTargetM + xPx / pxPerM,
      aheadM: down * (topM + (yPx - HEAD_PX) / pxPerM),
    }),
  };
}

/** The plates from above with the feet on them, and the lie as lines of equal height. */
export function PlatesPicture({ ground, soles, lie, handed, widthPx }: PlatesPictureProps): ReactElement | null {
  if (widthPx < 100) return null;
  const scale = groundScale(
    ground.plates.flatMap(({ outline }) => outline),
    handed,
    widthPx,
  );
  return (
    <svg width={widthPx} height={scale.heightPx} role="img" aria-label={spoken({ ground, soles, lie })}>
      <GroundLayer {...{ ground, lie, handed, scale, widthPx }} />
      {ground.plates.map(({ plate, foot, outline }) => {
        if (foot === "none" || foot === "both") return null;
        const traced = soles.find((sole) => sole.foot === foot);
        return (
          <SoleShape
            key={plate}
            foot={foot}
            outline={traced?.outline ?? untracedSole(outline)}
            {...{ scale }}
            isTraced={traced !== undefined}
          />
        );
      })}
      <PlateWords ground={ground} scale={scale} />
    </svg>
  );
}

/** Ground, contours, plate edges and the flag: what lies under the feet. */
export function GroundLayer({
  ground,
  lie,
  handed,
  scale,
  widthPx,
}: Omit<PlatesPictureProps, "soles"> & { readonly scale: GroundScale }): ReactElement {
  const clip = useId();
  const box = { x: 0, y: 0, width: widthPx, height: scale.heightPx };
  const isRight = handed === "right";
  return (
    <g>
      <clipPath id={clip}>
        <rect {...box} />
      </clipPath>
      <rect {...box} fill="var(--ground)" className="ground" />
      <g clipPath={`url(#${clip})`}>
        {lie === undefined ? null : (
          <Contours plan={{ contours: lieContours(lie, scale.extent), isAheadDown: isRight }} scale={scale} box={box} />
        )}
        {ground.plates.map(({ plate, outline }) => (
          <path key={plate} d={outlinePath(outline, scale)} className="plate" />
        ))}
      </g>
      <text x={10} y={20} className="plan-title">
        Plates
      </text>
      <text x={10} y={37} className="plan-caption">
        {isRight ? "seen from above, from the ball side" : "seen from above, from behind the heels"}
      </text>
      <path d={`M${widthPx - 22} 8v22`} stroke="var(--ink)" strokeWidth={2} />
      <path d={`M${widthPx - 22} 8l13 5l-13 5Z`} fill="var(--ink)" />
      <text x={widthPx - 28} y={20} className="plan-caption end">
        target
      </text>
    </g>
  );
}

interface SoleShapeProps {
  readonly foot: "lead" | "trail";
  readonly outline: readonly TurfPoint[];
  readonly scale: GroundScale;
  readonly isTraced: boolean;
}

export function SoleShape({ foot, outline, scale, isTraced }: SoleShapeProps): ReactElement {
  return (
    <path
      data-sole={foot}
      d={outlinePath(outline, scale)}
      fill="var(--paper)"
      stroke={`var(--${foot})`}
      strokeWidth={foot === "lead" ? 2.4 : 2}
      strokeDasharray={isTraced ? (foot === "trail" ? "8 5" : undefined) : "3 4"}
    />
  );
}

function PlateWords({ ground, scale }: { readonly ground: GroundPlan; readonly scale: GroundScale }): ReactElement {
  return (
    <g>
      {ground.plates.map(({ plate, foot, outline }) => {
        const targets = outline.map(({ targetM }) => targetM);
        const x = scale.xTarget((Math.min(...targets) + Math.max(...targets)) / 2);
        return (
          <text key={plate} x={x} y={scale.heightPx - 10} className="plan-caption middle">
            plate {plate}: {foot === "none" ? "no foot" : foot}
          </text>
        );
      })}
    </g>
  );
}

function spoken({ ground, soles, lie }: Pick<PlatesPictureProps, "ground" | "soles" | "lie">): string {
  const plates = ground.plates.map(({ plate, foot }) => `plate ${plate} under ${foot === "none" ? "no foot" : foot}`);
  const traced = soles.map(({ foot }) => foot);
  const feet = traced.length === 0 ? "no foot traced" : `traced: ${traced.join(" and ")}`;
  const slope = lie === undefined ? "no lie chosen" : `lie ${lie.name}`;
  return `The plates from above, target on the right: ${plates.join(", ")}; ${feet}; ${slope}.`;
}
