import { dayNumber, unitText, type YearPoint, type YearRow } from "@underfoot/report";
import { type ReactElement, useMemo } from "react";
import { placeHref } from "../frame/place.ts";
import { useWidth } from "../frame/use-size.ts";
import { type YearScale, yearScale } from "./year-scale.ts";

const HEIGHT_PX = 200;
const BAND_PX = 16;
const BRACKET_PX = 20;

export interface YearChartProps {
  readonly row: YearRow;
  readonly unit: string;
}

/** A condition over the sessions: each day's shots, their mean with its interval, the usual band behind, what changed. */
export function YearChart({ row, unit }: YearChartProps): ReactElement {
  const [frame, width] = useWidth();
  const scale = useMemo(() => yearScale(row, width, HEIGHT_PX), [row, width]);
  return (
    <div ref={frame} className="year-chart">
      {width === 0 ? null : (
        <svg width={width} height={HEIGHT_PX} aria-hidden="false">
          <title>{`${row.intent} on ${row.lieName}: ${row.sentence.text}`}</title>
          <Axes scale={scale} unit={unit} />
          {row.limits === undefined ? null : (
            <rect
              className="band"
              x={scale.left}
              width={scale.right - scale.left}
              y={scale.y(row.limits.high)}
              height={scale.y(row.limits.low) - scale.y(row.limits.high)}
            />
          )}
          {row.limits !== undefined
            ? null
            : row.points.map((point) => <Band key={point.day} point={point} scale={scale} />)}
          <Changes row={row} scale={scale} />
          {runsOf(row).map((points) => (
            <polyline
              key={points[0]?.day}
              className="year-line"
              points={points.map(({ dayNumber: day, mean }) => `${scale.x(day)},${scale.y(mean)}`).join(" ")}
            />
          ))}
          {row.points.map((point) => (
            <Day key={point.day} point={point} scale={scale} unit={unit} />
          ))}
        </svg>
      )}
    </div>
  );
}

/** The stretches between known changes: no line runs across one. */
function runsOf(row: YearRow): readonly (readonly YearPoint[])[] {
  const breaks = [...new Set(row.changes.map(({ day }) => day))];
  const runs = [...breaks, "9999-12-31"].map((end, k) =>
    row.points.filter(({ day }) => day < end && day >= (breaks[k - 1] ?? "")),
  );
  return runs.filter((points) => points.length > 1);
}

function Axes({ scale, unit }: { readonly scale: YearScale; readonly unit: string }): ReactElement {
  return (
    <g>
      {scale.valueTicks.map((value, k) => (
        <g key={value}>
          <line className="year-grid" x1={scale.left} x2={scale.right} y1={scale.y(value)} y2={scale.y(value)} />
          <text className="year-tick end" x={scale.left - 6} y={scale.y(value) + 4}>
            {k === scale.valueTicks.length - 1 ? unitText(value, unit).text : unitText(value, unit).number}
          </text>
        </g>
      ))}
      {scale.dayTicks.map(({ x, text, anchor }) => (
        <text key={text} className="year-tick" x={x} y={scale.height - 6} textAnchor={anchor}>
          {text}
        </text>
      ))}
    </g>
  );
}

function Band({ point, scale }: { readonly point: YearPoint; readonly scale: YearScale }): ReactElement | null {
  if (point.band === undefined) return null;
  const [top, bottom] = [scale.y(point.band.high), scale.y(point.band.low)];
  return (
    <rect className="band" x={scale.x(point.dayNumber) - BAND_PX / 2} width={BAND_PX} y={top} height={bottom - top} />
  );
}

/** Room of "club, plates changed". */
const CHANGE_PX = 130;

function Changes({ row, scale }: { readonly row: YearRow; readonly scale: YearScale }): ReactElement {
  let free = Number.NEGATIVE_INFINITY;
  const marks = [...new Set(row.changes.map(({ day }) => day))].map((day) => {
    const before = row.points.findLast((point) => point.day < day)?.dayNumber;
    const now = scale.x(dayNumber(day));
    const x = before === undefined ? now : (scale.x(before) + now) / 2;
    const isLate = x > scale.right - CHANGE_PX;
    const isNamed = (isLate ? x - CHANGE_PX : x) > free;
    if (isNamed) free = isLate ? x : x + CHANGE_PX;
    const kinds = row.changes.filter((change) => change.day === day).map(({ kind }) => kind);
    return { day, x, isLate, words: isNamed ? `${kinds.join(", ")} changed` : undefined };
  });
  return (
    <g>
      {marks.map(({ day, x, isLate, words }) => (
        <g key={day}>
          <line className="year-change" x1={x} x2={x} y1={scale.top - 8} y2={scale.bottom} />
          {words === undefined ? null : (
            <text
              className="year-tick"
              x={x + (isLate ? -5 : 5)}
              y={scale.top - 8}
              textAnchor={isLate ? "end" : "start"}
            >
              {words}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}

function Day({
  point,
  scale,
  unit,
}: {
  readonly point: YearPoint;
  readonly scale: YearScale;
  readonly unit: string;
}): ReactElement {
  const x = scale.x(point.dayNumber);
  const y = scale.y(point.mean);
  const hasInterval = Number.isFinite(point.low);
  return (
    <a href={placeHref("shots", undefined, shotsQuery(point))} aria-label={spoken(point, unit)} className="year-day">
      {point.shots.map(({ shotId, value }) => (
        <circle key={shotId} className="year-shot" cx={x} cy={scale.y(value)} r={2} />
      ))}
      {hasInterval ? (
        <line className="year-whisker" x1={x} x2={x} y1={scale.y(point.high)} y2={scale.y(point.low)} />
      ) : null}
      <circle className="year-mean" cx={x} cy={y} r={4.5} />
      {point.isOutside ? <circle className="year-ring" cx={x} cy={y} r={9} /> : null}
      <Asked point={point} x={x} scale={scale} />
      <rect className="year-target" x={x - 12} width={24} y={scale.top} height={scale.bottom - scale.top} />
    </a>
  );
}

/** A dotted bracket, open on the allowed side. */
function Asked({
  point: { asked },
  x,
  scale,
}: {
  readonly point: YearPoint;
  readonly x: number;
  readonly scale: YearScale;
}): ReactElement | null {
  if (asked === undefined) return null;
  const [left, right] = [x - BRACKET_PX / 2, x + BRACKET_PX / 2];
  const hook = (value: number, toward: 1 | -1): string =>
    `M${left} ${scale.y(value) + 6 * toward}V${scale.y(value)}H${right}V${scale.y(value) + 6 * toward}`;
  return (
    <g className="year-asked">
      {asked.least === undefined ? null : <path d={hook(asked.least, -1)} />}
      {asked.most === undefined ? null : <path d={hook(asked.most, 1)} />}
    </g>
  );
}

const shotsQuery = ({ sessionId, day }: YearPoint): Record<string, string> =>
  sessionId === undefined ? { fromDay: day, toDay: day } : { sessionId };

function spoken({ day, mean, countShots, low, high }: YearPoint, unit: string): string {
  const resolution = Number.isFinite(low) ? (high - low) / 2 : undefined;
  return `${day}: ${unitText(mean, unit, resolution).spoken}, ${countShots} shots. Opens them.`;
}
