import type { Study, StudyMeasure, StudyShot } from "@underfoot/compare";
import { differenceText, domainOutward, type ScaleDomain, unitText } from "@underfoot/report";
import { type ReactElement, useId } from "react";
import { boxX, scaleTicks } from "../compare/pairs/pair-layout.ts";
import { useWidth } from "../frame/use-size.ts";

export interface ResidualsProps {
  readonly study: Study;
  readonly row: StudyMeasure;
}

const HEIGHT_PX = 220;
const LEFT_PX = 56;
const RIGHT_PX = 12;
const TOP_PX = 22;
const BOTTOM_PX = 40;
const TICK_APART_PX = { across: 70, up: 36 };
const LEAST_SPAN = 1e-3;
/** Of typical errors: about 19 of 20 shots are nearer to what is fitted. */
const BAND_SIGMAS = 2;

/** What is left of every shot against what is fitted to it: a bend, a fan or a lone far dot shows where the model does not hold. */
export function Residuals({ study, row }: ResidualsProps): ReactElement {
  const title = useId();
  const [frame, width] = useWidth();
  const sigma = row.comparison.kind === "players" ? row.comparison.scatter.sigma : Number.NaN;
  const band = Number.isNaN(sigma)
    ? ""
    : ` Grey: two typical errors of one shot, ${differenceText(BAND_SIGMAS * sigma, row.unit, sigma).text}.`;
  return (
    <figure className="study-residuals" aria-labelledby={title}>
      <h3 id={title}>What is left of each shot</h3>
      <p className="caption">
        Across what is fitted, up what is left. Filled {study.a}, hollow {study.b}.{band}
      </p>
      <div ref={frame}>
        {width === 0 ? null : <Dots shots={row.shots} unit={row.unit} sigma={sigma} width={width} />}
      </div>
    </figure>
  );
}

interface DotsProps {
  readonly shots: readonly StudyShot[];
  readonly unit: string;
  readonly sigma: number;
  readonly width: number;
}

function Dots({ shots, unit, sigma, width }: DotsProps): ReactElement {
  const left = shots.map(({ value, fitted }) => value - fitted);
  const across = domainOutward(
    Float64Array.from(shots, ({ fitted }) => fitted),
    [],
    LEAST_SPAN,
  );
  const limits = Number.isNaN(sigma) ? [0] : [-BAND_SIGMAS * sigma, BAND_SIGMAS * sigma];
  const up = domainOutward(Float64Array.from(left), limits, LEAST_SPAN);
  const x = boxX(across, { x: LEFT_PX, width: width - LEFT_PX - RIGHT_PX });
  const y = upward(up);
  return (
    <svg
      className="picture"
      width={width}
      height={HEIGHT_PX}
      role="img"
      aria-label={`${shots.length} shots, what is left of each against what is fitted. All numbers are in the shots’ CSV.`}
    >
      {Number.isNaN(sigma) ? null : (
        <rect
          className="study-band"
          x={LEFT_PX}
          width={width - LEFT_PX - RIGHT_PX}
          y={y(BAND_SIGMAS * sigma)}
          height={y(-BAND_SIGMAS * sigma) - y(BAND_SIGMAS * sigma)}
        />
      )}
      <Axes {...{ across, up, unit, width, x, y }} />
      {shots.map(({ shotId, side, fitted }, k) => (
        <circle
          key={shotId}
          cx={x(fitted)}
          cy={y(left[k] ?? 0)}
          r="3.2"
          className={side === "a" ? "study-filled" : "study-hollow"}
        />
      ))}
    </svg>
  );
}

function upward({ min, max }: ScaleDomain): (value: number) => number {
  const bottom = HEIGHT_PX - BOTTOM_PX;
  return (value) => bottom - ((value - min) / (max - min)) * (bottom - TOP_PX);
}

function Axes({
  across,
  up,
  unit,
  width,
  x,
  y,
}: {
  readonly across: ScaleDomain;
  readonly up: ScaleDomain;
  readonly unit: string;
  readonly width: number;
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}): ReactElement {
  const columns = scaleTicks(across, width - LEFT_PX - RIGHT_PX, TICK_APART_PX.across);
  const rows = scaleTicks(up, HEIGHT_PX - BOTTOM_PX - TOP_PX, TICK_APART_PX.up);
  const stepOf = (ticks: readonly number[]): number => Math.abs((ticks[1] ?? 0) - (ticks[0] ?? 0)) / 2;
  return (
    <g>
      <text x={0} y={12} className="head-unit">
        left, {differenceText(2, unit).unit}
      </text>
      {rows.map((value) => (
        <g key={value}>
          <path
            d={`M${LEFT_PX} ${y(value)}H${width - RIGHT_PX}`}
            stroke={value === 0 ? "var(--edge)" : "var(--rule)"}
          />
          <text x={LEFT_PX - 6} y={y(value) + 4} className="zero" style={{ textAnchor: "end" }}>
            {differenceText(value, unit, stepOf(rows)).number}
          </text>
        </g>
      ))}
      {columns.map((value) => (
        <text key={value} x={x(value)} y={HEIGHT_PX - BOTTOM_PX + 16} className="zero">
          {unitText(value, unit, stepOf(columns)).number}
        </text>
      ))}
      <text x={width - RIGHT_PX} y={HEIGHT_PX - 6} className="head-unit end">
        fitted, {unit}
      </text>
    </g>
  );
}
