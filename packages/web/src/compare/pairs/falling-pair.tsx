import { type ScaleDomain, thinned, unitText } from "@underfoot/report";
import { memo, type ReactElement } from "react";
import { curvePath } from "../../shot/sheet/curve-path.ts";
import type { PairCurve } from "./pair-curves.ts";
import { bothDomain, boxX, differenceDomain, type PairBox, type PairLayout, scaleTicks } from "./pair-layout.ts";
import { betweenPath, excessPath } from "./pair-paths.ts";

export interface FallingPairProps {
  readonly curve: PairCurve;
  readonly boxes: PairLayout["pairs"][number];
  readonly layout: PairLayout;
  /** Height of a point of the grid, px. */
  readonly yPoint: (point: number) => number;
}

/** Numbers of a scale stand at least this far apart, px. */
const TICK_APART_PX = 38;

/** A with B, then B minus A over what gravity and scatter allow. Words and event lines lie over it. */
export const FallingPair = memo(function FallingPair(props: FallingPairProps): ReactElement {
  return (
    <g data-curve={props.curve.column}>
      <Both {...props} />
      <Difference {...props} />
    </g>
  );
});

function Both({ curve, boxes, layout, yPoint }: FallingPairProps): ReactElement {
  const domain = bothDomain(curve);
  const x = boxX(domain, boxes.both);
  const pathOf = (values: readonly number[]): string => {
    const column = Float64Array.from(values);
    return curvePath(column, thinned(column, layout.fallBottom - layout.fallTop), { x, y: yPoint });
  };
  const { singles } = curve;
  return (
    <g>
      <Scale domain={domain} box={boxes.both} layout={layout} unit={curve.unit} />
      {singles === undefined ? (
        <>
          <Tube path={pathOf(curve.meanB)} />
          <path d={pathOf(curve.meanA)} className="side-a" />
        </>
      ) : (
        <>
          <Tube path={singles.b.map(pathOf).join("")} isThin />
          <path d={singles.a.map(pathOf).join("")} className="side-a thin" />
        </>
      )}
    </g>
  );
}

/** B is a tube: an ink line with a core of paper. */
function Tube({ path, isThin = false }: { readonly path: string; readonly isThin?: boolean }): ReactElement {
  const thin = isThin ? " thin" : "";
  return (
    <>
      <path d={path} className={`side-b${thin}`} />
      <path d={path} className={`side-b-core${thin}`} />
    </>
  );
}

function Difference({ curve, boxes, layout, yPoint }: FallingPairProps): ReactElement | null {
  if (curve.difference.length === 0) return null;
  const domain = differenceDomain(curve);
  const x = boxX(domain, boxes.difference);
  const place = { x, y: yPoint };
  const { difference, slopeShare, allowedLow, allowedHigh, stretches, singles } = curve;
  const column = Float64Array.from(difference);
  const hasSlope = slopeShare.some((share) => Math.abs(x(share) - x(0)) >= 1);
  const zeros = slopeShare.map(() => 0);
  return (
    <g>
      <Scale domain={domain} box={boxes.difference} layout={layout} unit={curve.unit} />
      {allowedLow.length === 0 ? null : <path d={betweenPath(allowedLow, allowedHigh, place)} className="allowed" />}
      {hasSlope ? (
        <>
          <path d={betweenPath(zeros, slopeShare, place)} fill="url(#hachure)" />
          <path
            d={curvePath(Float64Array.from(slopeShare), thinned(Float64Array.from(slopeShare), 200), place)}
            className="slope-edge"
          />
        </>
      ) : null}
      {stretches.map((stretch) => (
        <path key={stretch.firstPoint} d={excessPath(curve, stretch, place)} className="excess" />
      ))}
      <path
        d={curvePath(column, thinned(column, layout.fallBottom - layout.fallTop), place)}
        className={singles === undefined ? "side-a" : "side-a thin"}
      />
    </g>
  );
}

/** Numbers at an edge stand inside the column, so that they do not run into those of the next. */
function anchorAt(x: number, box: PairBox): "start" | "middle" | "end" {
  if (x < box.x + EDGE_PX) return "start";
  return x > box.x + box.width - EDGE_PX ? "end" : "middle";
}

const EDGE_PX = 9;

interface ScaleProps {
  readonly domain: ScaleDomain;
  readonly box: PairBox;
  readonly layout: PairLayout;
  readonly unit: string;
}

/** Thin lines at round numbers, the zero a little stronger, the numbers above. */
function Scale({ domain, box, layout, unit }: ScaleProps): ReactElement {
  const x = boxX(domain, box);
  const ticks = scaleTicks(domain, box.width, TICK_APART_PX);
  const step = Math.abs((ticks[1] ?? 0) - (ticks[0] ?? 0));
  return (
    <g>
      <path d={`M${box.x} ${layout.fallTop - 26}H${box.x + box.width}`} stroke="var(--edge)" />
      {ticks.map((value) => (
        <g key={value}>
          <path
            d={`M${x(value)} ${layout.fallTop - 6}V${layout.fallBottom}`}
            stroke={value === 0 ? "var(--edge)" : "var(--rule)"}
          />
          <text x={x(value)} y={layout.fallTop - 11} className="zero" style={{ textAnchor: anchorAt(x(value), box) }}>
            {unitText(value, unit, step / 2).number}
          </text>
        </g>
      ))}
    </g>
  );
}
