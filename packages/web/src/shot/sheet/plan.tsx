import type { TurfPoint } from "@underfoot/domain";
import { type CopTrail, inCentimetres, inNewtons, type SheetModel, type SheetPlan } from "@underfoot/report";
import { memo, type ReactElement } from "react";
import type { Box } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface PlanProps {
  readonly model: SheetModel;
  readonly box: Box;
  readonly scale: SheetScale;
}

/** The part of a scale that a plan needs: metres along target and ahead to px. */
export type PlanScale = Pick<SheetScale, "xTarget" | "yAhead">;

const px = (value: number): string => value.toFixed(1);

/** A closed outline on the plan. */
export function outlinePath(points: readonly TurfPoint[], scale: PlanScale): string {
  return `${points.map(({ targetM, aheadM }, k) => `${k === 0 ? "M" : "L"}${px(scale.xTarget(targetM))} ${px(scale.yAhead(aheadM))}`).join("")}Z`;
}

/** The ground from above, everything that does not move with the ruler. */
export const Plan = memo(function Plan({ model, box, scale }: PlanProps): ReactElement {
  const { plan } = model;
  return (
    <g className="plan">
      <clipPath id="plan-clip">
        <rect {...box} />
      </clipPath>
      <rect {...box} fill="var(--ground)" className="ground" />
      <g clipPath="url(#plan-clip)">
        <Contours plan={plan} scale={scale} box={box} />
        {plan.plates.map((plate) => (
          <path key={plate.plate} d={outlinePath(plate.outline, scale)} className="plate" />
        ))}
        {plan.soles.map((sole) => (
          <path
            key={sole.foot}
            data-sole={sole.foot}
            d={outlinePath(sole.outline, scale)}
            fill="var(--paper)"
            stroke={`var(--${sole.foot})`}
            strokeWidth={sole.foot === "lead" ? 2.4 : 2}
            strokeDasharray={sole.isTraced ? (sole.foot === "trail" ? "8 5" : undefined) : "3 4"}
          />
        ))}
        {plan.ball === undefined ? null : (
          <circle
            cx={scale.xTarget(plan.ball.targetM)}
            cy={scale.yAhead(plan.ball.aheadM)}
            r={5}
            fill="var(--paper-2)"
            stroke="var(--ink)"
          />
        )}
        {plan.trails.map((trail) => (
          <Trail key={trail.foot} trail={trail} ticks={plan.tickSamples} scale={scale} />
        ))}
      </g>
      <PlanWords plan={plan} box={box} scale={scale} />
    </g>
  );
});

function PlanWords({ plan, box, scale }: Omit<PlanProps, "model"> & { readonly plan: SheetPlan }): ReactElement {
  const right = box.x + box.width;
  const barPx = (100 / plan.arrowNPerM) * scale.pxPerM;
  const untraced = plan.soles.filter((sole) => !sole.isTraced);
  return (
    <g>
      <text x={box.x + 10} y={box.y + 20} className="plan-title">
        Ground at the ruler
      </text>
      <text x={box.x + 10} y={box.y + 37} className="plan-caption">
        {plan.caption}
      </text>
      <g data-flag={right - 20}>
        <path d={`M${right - 22} ${box.y + 8}v22`} stroke="var(--ink)" strokeWidth={2} />
        <path d={`M${right - 22} ${box.y + 8}l13 5l-13 5Z`} fill="var(--ink)" />
        <text x={right - 28} y={box.y + 20} className="plan-caption end">
          target
        </text>
      </g>
      <path d={`M${right - 12 - barPx} ${box.y + 56}v-3v6v-3h${barPx}v-3v6`} stroke="var(--ink-2)" fill="none" />
      <text x={right - 17 - barPx} y={box.y + 60} className="plan-caption end">
        {inNewtons(100).text}
      </text>
      {untraced.map(({ foot, outline }) => (
        <text key={foot} x={middleX(outline, scale)} y={box.y + box.height - 76} className="plan-caption middle">
          not traced
        </text>
      ))}
    </g>
  );
}

/** The middle of an outline along the target line, px. */
export function middleX(outline: readonly TurfPoint[], scale: SheetScale): number {
  const targets = outline.map((point) => point.targetM);
  return scale.xTarget((Math.min(...targets) + Math.max(...targets)) / 2);
}

interface ContoursProps {
  readonly plan: Pick<SheetPlan, "contours" | "isAheadDown">;
  readonly scale: PlanScale;
  readonly box: Box;
}

/** Lines of equal height, one a centimetre of rise, with ticks downhill. */
export function Contours({ plan, scale, box }: ContoursProps): ReactElement {
  const { lines, downhill } = plan.contours;
  return (
    <g className="contours">
      {lines.map((line) => {
        const [x1, y1] = [scale.xTarget(line.from.targetM), scale.yAhead(line.from.aheadM)];
        const [x2, y2] = [scale.xTarget(line.to.targetM), scale.yAhead(line.to.aheadM)];
        const length = Math.hypot(x2 - x1, y2 - y1) || 1;
        const [ux, uy] = [(x2 - x1) / length, (y2 - y1) / length];
        // Drawn on past the plates, to the edge of the picture, which clips it.
        const reach = box.width + box.height;
        const ticks = [];
        if (downhill !== undefined) {
          const dx = downhill.target * 7;
          const dy = downhill.ahead * 7 * (plan.isAheadDown ? 1 : -1);
          for (let at = -reach; at < reach; at += 42)
            ticks.push(`M${px(x1 + ux * at)} ${px(y1 + uy * at)}l${px(dx)} ${px(dy)}`);
        }
        return (
          <path
            key={line.riseM}
            d={`M${px(x1 - ux * reach)} ${px(y1 - uy * reach)}L${px(x2 + ux * reach)} ${px(y2 + uy * reach)}${ticks.join("")}`}
            stroke="var(--turf)"
            fill="none"
            strokeWidth={Math.abs(line.riseM) < 1e-9 ? 1.6 : 1}
          />
        );
      })}
      <ContourLabels plan={plan} scale={scale} box={box} />
    </g>
  );
}

/** At most two labels, on the outermost lines that can be seen. */
function ContourLabels({ plan, scale, box }: ContoursProps): ReactElement {
  const seen = plan.contours.lines.flatMap((line) => {
    const [x1, x2] = [scale.xTarget(line.from.targetM), scale.xTarget(line.to.targetM)];
    const [y1, y2] = [scale.yAhead(line.from.aheadM), scale.yAhead(line.to.aheadM)];
    const isSteep = Math.abs(x2 - x1) < Math.abs(y2 - y1);
    const y = isSteep ? box.y + LABEL_ROW_PX : y1 + ((y2 - y1) * (box.x + 12 - x1)) / (x2 - x1);
    const x = isSteep ? x1 + ((x2 - x1) * (y - y1)) / (y2 - y1) : box.x + 8;
    const isSeen = x > box.x && x < box.x + box.width - 44 && y > box.y + 70 && y < box.y + box.height - 90;
    return isSeen && Math.abs(line.riseM) > 1e-9 ? [{ riseM: line.riseM, x, y }] : [];
  });
  const ends = seen.length > 2 ? [seen[0]!, seen[seen.length - 1]!] : seen;
  return (
    <>
      {ends.map(({ riseM, x, y }) => (
        <text key={riseM} x={x + 4} y={y - 3} className="contour-label">
          {riseM > 0 ? "+" : ""}
          {inCentimetres(riseM, 0.01).text}
        </text>
      ))}
    </>
  );
}

/** Below the caption and the arrow's scale. */
const LABEL_ROW_PX = 80;

interface TrailProps {
  readonly trail: CopTrail;
  readonly ticks: readonly number[];
  readonly scale: SheetScale;
}

const TICKS_APART_PX = 9;

/** Where the pressure went: a heavy line, a tick each 100 ms, an open ring where the foot gets too light to place. */
function Trail({ trail, ticks, scale }: TrailProps): ReactElement {
  const at = (k: number): readonly [number, number] => [
    scale.xTarget(trail.targetM[k] ?? Number.NaN),
    scale.yAhead(trail.aheadM[k] ?? Number.NaN),
  ];
  let path = "";
  let isDown = false;
  const ends: number[] = [];
  const step = Math.max(1, Math.floor(trail.targetM.length / 500));
  for (let k = 0; k < trail.targetM.length; k += step) {
    const [x, y] = at(k);
    if (Number.isNaN(x)) {
      if (isDown) ends.push(k - step);
      isDown = false;
      continue;
    }
    path += `${isDown ? "L" : "M"}${px(x)} ${px(y)}`;
    isDown = true;
  }
  const isBoth = trail.foot === "both";
  const ink = `var(--${trail.foot})`;
  return (
    <g data-trail={trail.foot} fill="none">
      {isBoth ? <path d={path} stroke="var(--paper)" strokeWidth={7} /> : null}
      <path
        d={path}
        stroke={ink}
        strokeWidth={isBoth ? 3.25 : 2.25}
        strokeDasharray={trail.foot === "trail" ? "8 5" : undefined}
      />
      <path d={tickPath(ticks, at)} stroke={ink} strokeWidth={1.2} />
      {ends.map((k) => {
        const [x, y] = at(k);
        return <circle key={k} cx={x} cy={y} r={3.5} fill="var(--paper)" stroke={ink} strokeWidth={1.6} />;
      })}
    </g>
  );
}

function tickPath(ticks: readonly number[], at: (k: number) => readonly [number, number]): string {
  let path = "";
  let last: readonly [number, number] = [Number.NEGATIVE_INFINITY, 0];
  for (const k of ticks) {
    const [x, y] = at(k);
    const [xa, ya] = at(k - 4);
    const [xb, yb] = at(k + 4);
    const length = Math.hypot(xb - xa, yb - ya);
    const isApart = Math.hypot(x - last[0], y - last[1]) >= TICKS_APART_PX;
    if (!(length > 0.4) || !isApart) continue;
    last = [x, y];
    const [nx, ny] = [(-4 * (yb - ya)) / length, (4 * (xb - xa)) / length];
    path += `M${px(x - nx)} ${px(y - ny)}L${px(x + nx)} ${px(y + ny)}`;
  }
  return path;
}
