import type { PlayerAxes } from "@underfoot/domain";
import type { Measure } from "@underfoot/mechanics";
import { measureText } from "@underfoot/report";
import type { ReactElement } from "react";

export interface MeasureListProps {
  readonly measures: readonly Measure[];
  readonly axes: PlayerAxes;
}

/** What stands beside the sheet: the four that a coach asks for first. */
const FIRST_IDS = [
  "lead.share.at.delivery",
  "lead.heelToe.at.delivery",
  "both.speedTarget.at.delivery",
  "both.travelTarget.at.impact",
];

const isOnAxes = (measure: Measure, axes: PlayerAxes): boolean => (measure.axes ?? axes) === axes;

/** A few measures beside the picture, each with its uncertainty, or the reason why there is none. */
export function FirstMeasures({ measures, axes }: MeasureListProps): ReactElement {
  const first = FIRST_IDS.flatMap(
    (id) => measures.find((measure) => measure.id === id && isOnAxes(measure, axes)) ?? [],
  );
  return (
    <div className="measures">
      <MeasureTable caption={`Measures, ${axes} axes`} measures={first} />
    </div>
  );
}

/** Every measure of the catalogue on the axes shown. */
export function AllMeasures({ measures, axes }: MeasureListProps): ReactElement {
  const shown = measures.filter((measure) => isOnAxes(measure, axes));
  return (
    <details>
      <summary>All {shown.length} measures</summary>
      <MeasureTable caption={`All measures, ${axes} axes, each with one standard deviation`} measures={shown} />
    </details>
  );
}

function MeasureTable({
  caption,
  measures,
}: {
  readonly caption: string;
  readonly measures: readonly Measure[];
}): ReactElement {
  return (
    <table>
      <caption>{caption}</caption>
      <tbody>
        {measures.map((measure) => {
          const words = measureText(measure);
          return (
            <tr key={`${measure.id} ${measure.unit} ${measure.axes ?? ""}`}>
              <th scope="row">
                {words.title}
                {words.slopeShare === undefined ? null : <small>the slope’s share {words.slopeShare}</small>}
                {words.why === undefined ? null : <small>{words.why}</small>}
              </th>
              <td>
                {words.text}
                <small>{words.plusMinus}</small>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
