import type { PlayerAxes } from "@underfoot/domain";
import type { Measure } from "@underfoot/mechanics";
import { measureText, type UsualRowReading } from "@underfoot/report";
import type { ReactElement } from "react";
import { MarkShape } from "../compare/measures/measure-mark.tsx";
import { FIRST_MEASURES } from "./first-measures.ts";

export interface MeasureListProps {
  readonly measures: readonly Measure[];
  readonly axes: PlayerAxes;
}

const isOnAxes = (measure: Measure, axes: PlayerAxes): boolean => (measure.axes ?? axes) === axes;

export interface FirstMeasuresProps extends MeasureListProps {
  /** What is usual for this player, by measure; empty where that is not known. */
  readonly usual: readonly UsualRowReading[];
}

/** A few measures beside the picture, each with its uncertainty, or the reason why there is none. */
export function FirstMeasures({ measures, axes, usual }: FirstMeasuresProps): ReactElement {
  const first = FIRST_MEASURES.flatMap(
    (id) => measures.find((measure) => measure.id === id && isOnAxes(measure, axes)) ?? [],
  );
  return (
    <div className="measures">
      <MeasureTable caption={`Measures, ${axes} axes`} measures={first} usual={usual} />
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
  usual = [],
}: {
  readonly caption: string;
  readonly measures: readonly Measure[];
  readonly usual?: readonly UsualRowReading[];
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
                <UsualMark row={usual.find((row) => row.measure === measure.id && row.usual !== "")} />
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

/** Hollow: usual; half filled: outside the usual band, as 1 shot in 20 is by chance. */
function UsualMark({ row }: { readonly row: UsualRowReading | undefined }): ReactElement | null {
  if (row === undefined) return null;
  return (
    <small className="usual-mark">
      <svg width="14" height="14" viewBox="-9 -9 18 18" aria-hidden="true">
        <MarkShape mark={row.isOutside ? "beyond-alone" : "within"} />
      </svg>
      {row.isOutside ? "outside" : "usual"} {row.usual}
    </small>
  );
}
