import { dayText, unitText, type YearPoint, type YearRow } from "@underfoot/report";
import type { ReactElement } from "react";

/** The numbers of a row's picture. */
export function YearTable({
  row,
  unit,
  title,
}: {
  readonly row: YearRow;
  readonly unit: string;
  readonly title: string;
}): ReactElement {
  return (
    <div className="wide-table">
      <table>
        <caption>{`${title}: ${row.intent}, ${row.lieName}`}</caption>
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col" className="number">
              Shots
            </th>
            <th scope="col" className="number">
              Mean
            </th>
            <th scope="col" className="number">
              95 % interval of the mean
            </th>
            <th scope="col" className="number">
              Usual band of one shot
            </th>
            <th scope="col" className="number">
              Asked
            </th>
            <th scope="col">Left out</th>
          </tr>
        </thead>
        <tbody>
          {row.points.map((point) => (
            <tr key={point.day}>
              <th scope="row">{dayText(point.day)}</th>
              <td>{point.countShots}</td>
              <td>{unitText(point.mean, unit, halfOf(point)).text}</td>
              <td>{Number.isFinite(point.low) ? range(point.low, point.high, unit) : "one shot"}</td>
              <td>
                {point.band === undefined
                  ? `${point.countShots} shots; needs 5`
                  : `${range(point.band.low, point.band.high, unit)}${point.band.isRough ? ", rough" : ""}`}
              </td>
              <td>{askedText(point, unit)}</td>
              <td className="words">{leftOut(point)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const halfOf = ({ low, high }: YearPoint): number | undefined => (Number.isFinite(low) ? (high - low) / 2 : undefined);

function range(low: number, high: number, unit: string): string {
  const half = (high - low) / 2;
  return `${unitText(low, unit, half).number} to ${unitText(high, unit, half).text}`;
}

function askedText({ asked }: YearPoint, unit: string): string {
  if (asked === undefined) return "nothing";
  const { least, most } = asked;
  if (least !== undefined && most !== undefined)
    return `${unitText(least, unit).number} to ${unitText(most, unit).text}`;
  if (least !== undefined) return `at least ${unitText(least, unit).text}`;
  return most === undefined ? "nothing" : `at most ${unitText(most, unit).text}`;
}

function leftOut({ countMishits, countLeftOut }: YearPoint): string {
  const parts = [
    ...(countMishits > 0 ? [`${countMishits} mishit`] : []),
    ...(countLeftOut > 0 ? [`${countLeftOut} set aside or without a value`] : []),
  ];
  return parts.length === 0 ? "none" : parts.join(", ");
}
