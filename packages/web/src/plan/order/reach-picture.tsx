import { type ReactElement, useMemo } from "react";
import { reachCurve } from "./reach-curve.ts";

export interface ReachPictureProps {
  readonly sd: number;
  readonly shots: number | undefined;
  readonly difference: number;
  readonly unit: string;
  readonly widthPx: number;
}

const HEIGHT_PX = 190;
const LEFT_PX = 44;
const BOTTOM_PX = 40;
const TOP_PX = 24;
/** Rows that the table has at most. */
const TABLE_ROWS = 9;

const written = (value: number): string => String(Number(value.toPrecision(2)));

/** A plain falling curve: more shots show smaller differences. */
export function ReachPicture({ sd, shots, difference, unit, widthPx }: ReachPictureProps): ReactElement | null {
  const curve = useMemo(() => reachCurve(sd, shots), [sd, shots]);
  if (widthPx < 120) return null;
  const [first, last] = [curve[0], curve.at(-1)];
  if (first === undefined || last === undefined) return null;
  const largest = Math.min(first.difference, 4 * Math.max(difference, last.difference));
  const x = (count: number): number =>
    LEFT_PX + ((count - first.shots) * (widthPx - LEFT_PX - 12)) / (last.shots - first.shots);
  const y = (value: number): number =>
    HEIGHT_PX - BOTTOM_PX - (Math.min(value, largest) / largest) * (HEIGHT_PX - BOTTOM_PX - TOP_PX);
  const shown = curve.filter((point) => point.difference <= largest);
  const path = shown
    .map((point, k) => `${k === 0 ? "M" : "L"}${x(point.shots).toFixed(1)} ${y(point.difference).toFixed(1)}`)
    .join("");
  const withUnit = (value: number): string => `${written(value)}${unit === "" ? "" : ` ${unit}`}`;
  return (
    <>
      <svg width={widthPx} height={HEIGHT_PX} role="img" aria-label={spoken({ shots, difference, withUnit, last })}>
        <path d={`M${LEFT_PX} ${TOP_PX}V${HEIGHT_PX - BOTTOM_PX}H${widthPx - 8}`} fill="none" stroke="var(--edge)" />
        {[0, largest / 2, largest].map((value) => (
          <text key={value} x={LEFT_PX - 6} y={y(value) + 4} className="plan-caption end">
            {written(value)}
          </text>
        ))}
        {[first.shots, Math.round((first.shots + last.shots) / 2), last.shots].map((count) => (
          <text key={count} x={x(count)} y={HEIGHT_PX - BOTTOM_PX + 17} className="plan-caption middle">
            {count}
          </text>
        ))}
        <text x={LEFT_PX} y={14} className="plan-caption">
          {unit === "" ? "difference" : `difference, ${unit}`}
        </text>
        <text x={widthPx - 8} y={HEIGHT_PX - 5} className="plan-caption end">
          shots of each condition
        </text>
        <path d={path} className="curve" stroke="var(--ink)" />
        {shots === undefined ? null : (
          <g>
            <path
              d={`M${LEFT_PX} ${y(difference)}H${x(shots)}V${HEIGHT_PX - BOTTOM_PX}`}
              fill="none"
              stroke="var(--ink-2)"
              strokeDasharray="2 4"
            />
            <circle cx={x(shots)} cy={y(difference)} r={5} fill="var(--ink)" stroke="var(--paper)" strokeWidth={2} />
            <text x={x(shots) + 9} y={y(difference) - 8} className="note strong">
              {shots} shots, {withUnit(difference)}
            </text>
          </g>
        )}
      </svg>
      <details className="plain">
        <summary>Table</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">Shots of each</th>
              <th scope="col">Smallest difference seen, about</th>
            </tr>
          </thead>
          <tbody>
            {curve
              .filter((point, k) => k % Math.ceil(curve.length / TABLE_ROWS) === 0 || point.shots === shots)
              .map((point) => (
                <tr key={point.shots}>
                  <th scope="row">{point.shots}</th>
                  <td>{withUnit(point.difference)}</td>
                </tr>
              ))}
          </tbody>
        </table>
      </details>
    </>
  );
}

interface Spoken {
  readonly shots: number | undefined;
  readonly difference: number;
  readonly withUnit: (value: number) => string;
  readonly last: { readonly shots: number; readonly difference: number };
}

function spoken({ shots, difference, withUnit, last }: Spoken): string {
  const chosen = shots === undefined ? "" : ` ${shots} shots of each show ${withUnit(difference)}.`;
  return `The smallest difference that can be seen falls with the number of shots, to ${withUnit(last.difference)} at ${last.shots}.${chosen}`;
}
