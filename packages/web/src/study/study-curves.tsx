import type { Study, StudyCurve } from "@underfoot/compare";
import { domainOutward, signedMs, thinned, unitText } from "@underfoot/report";
import { type ReactElement, useId, useMemo } from "react";
import { boxX, scaleTicks } from "../compare/pairs/pair-layout.ts";
import { betweenPath } from "../compare/pairs/pair-paths.ts";
import { useWidth } from "../frame/use-size.ts";
import { curvePath } from "../shot/sheet/curve-path.ts";

export interface StudyCurvesProps {
  readonly curve: StudyCurve;
  readonly grid: Study["grid"];
  /** "high minus low" */
  readonly difference: string;
  /** The player whose curve is to stand out. */
  readonly pointed: string | undefined;
  /** What is said of the curve. */
  readonly sentence: string;
}

const TOP_PX = 46;
const FALL_PX = 430;
const BOTTOM_PX = 16;
const LEFT_PX = 62;
const RIGHT_PX = 14;
const TICK_APART_PX = 64;
const TIME_STEP_MS = 100;
/** A scale is never narrower, in the unit of the curve: a scale of no width cannot be drawn. */
const LEAST_SPAN = 1e-3;

/** One falling curve a player, thin; the group's mean heavy, its simultaneous interval grey; where it leaves zero a bar beside the time. */
export function StudyCurves({ curve, grid, difference, pointed, sentence }: StudyCurvesProps): ReactElement {
  const title = useId();
  const [frame, width] = useWidth();
  const isJudged = curve.status === "judged";
  return (
    <figure className="study-curves" aria-labelledby={title}>
      <h2 id={title}>
        {curve.title}, {difference}
      </h2>
      <p className="caption">
        Time falls, from impact. Thin: one curve a player, own means.
        {isJudged
          ? " Heavy: the group. Grey: its 0.95 interval over the whole window. A bar at the left: where that leaves zero."
          : " Too few players for a curve of the group."}
      </p>
      <div ref={frame}>
        {width === 0 ? null : <Picture {...{ curve, grid, difference, pointed, sentence, width }} />}
      </div>
    </figure>
  );
}

function Picture({
  curve,
  grid,
  pointed,
  sentence,
  width,
}: StudyCurvesProps & { readonly width: number }): ReactElement {
  const countPoints = curve.difference.length;
  const place = useMemo(() => {
    const drawn = [curve.low, curve.high, ...curve.players.map(({ difference }) => difference)].flat();
    const domain = domainOutward(Float64Array.from(drawn), [0], LEAST_SPAN);
    const box = { x: LEFT_PX, width: width - LEFT_PX - RIGHT_PX };
    const perPoint = FALL_PX / Math.max(1, countPoints - 1);
    return { domain, box, x: boxX(domain, box), y: (point: number): number => TOP_PX + point * perPoint };
  }, [curve, countPoints, width]);
  const yMs = (ms: number): number => place.y((ms - grid.firstMs) / grid.stepMs);
  const pathOf = (values: readonly number[]): string => {
    const column = Float64Array.from(values);
    return curvePath(column, thinned(column, FALL_PX), place);
  };
  const own = curve.players.find(({ player }) => player === pointed);
  return (
    <svg
      className="picture"
      width={width}
      height={TOP_PX + FALL_PX + BOTTOM_PX}
      role="img"
      aria-label={`${curve.title}, one curve a player over time. ${sentence}`}
    >
      {curve.status === "judged" ? <path d={betweenPath(curve.low, curve.high, place)} className="study-band" /> : null}
      <Scale {...place} unit={curve.unit} />
      <Times grid={grid} countPoints={countPoints} right={width - RIGHT_PX} y={yMs} />
      {curve.players.map(({ player, difference }) => (
        <path key={player} d={pathOf(difference)} className="study-own-curve" data-player={player} />
      ))}
      {curve.status === "judged" ? <path d={pathOf(curve.difference)} className="study-heavy" /> : null}
      {own === undefined ? null : (
        <>
          <path d={pathOf(own.difference)} className="study-pointed" />
          <text x={place.box.x + place.box.width} y={TOP_PX + FALL_PX - 8} className="end note strong">
            {own.player}
          </text>
        </>
      )}
      {curve.stretches.map(({ fromMs, toMs }) => (
        <path key={fromMs} d={`M${LEFT_PX - 4} ${yMs(fromMs)}V${yMs(toMs)}`} className="study-stretch" />
      ))}
    </svg>
  );
}

function Scale({
  domain,
  box,
  x,
  unit,
}: {
  readonly domain: { readonly min: number; readonly max: number };
  readonly box: { readonly x: number; readonly width: number };
  readonly x: (value: number) => number;
  readonly unit: string;
}): ReactElement {
  const ticks = scaleTicks(domain, box.width, TICK_APART_PX);
  const step = Math.abs((ticks[1] ?? 0) - (ticks[0] ?? 0));
  return (
    <g>
      <text x={box.x} y={14} className="head-unit">
        {unit === "%" ? "points" : unit}
      </text>
      {ticks.map((value) => (
        <g key={value}>
          <path
            d={`M${x(value)} ${TOP_PX - 6}V${TOP_PX + FALL_PX}`}
            stroke={value === 0 ? "var(--edge)" : "var(--rule)"}
          />
          <text x={x(value)} y={TOP_PX - 11} className="zero" style={{ textAnchor: "middle" }}>
            {unitText(value, unit, step / 2).number}
          </text>
        </g>
      ))}
    </g>
  );
}

function Times({
  grid,
  countPoints,
  right,
  y,
}: {
  readonly grid: Study["grid"];
  readonly countPoints: number;
  readonly right: number;
  readonly y: (ms: number) => number;
}): ReactElement {
  const lastMs = grid.firstMs + grid.stepMs * (countPoints - 1);
  const first = Math.ceil(grid.firstMs / TIME_STEP_MS);
  const times = Array.from(
    { length: Math.max(0, Math.floor(lastMs / TIME_STEP_MS) - first + 1) },
    (_, k) => (first + k) * TIME_STEP_MS,
  );
  return (
    <g>
      {times.map((ms) => (
        <g key={ms}>
          {ms === 0 ? <path d={`M${LEFT_PX} ${y(0)}H${right}`} stroke="var(--ink)" strokeWidth={1.6} /> : null}
          <text x={LEFT_PX - 10} y={y(ms) + 4} className="event-name end">
            {ms === 0 ? "impact" : `${signedMs(ms)} ms`}
          </text>
        </g>
      ))}
    </g>
  );
}
