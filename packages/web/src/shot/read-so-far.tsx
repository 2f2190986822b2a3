import type { ShotFacts } from "@underfoot/domain";
import type { RecordingInspection } from "@underfoot/pipeline";
import { inHertz, inNewtons, inSeconds } from "@underfoot/report";
import type { ReactElement } from "react";
import { FactsForm } from "./facts-form.tsx";

export interface ReadSoFarProps {
  readonly inspection: RecordingInspection;
  /** Facts entered by hand stand in for a sidecar that cannot be used; undefined where that would not help. */
  readonly onFacts: ((facts: ShotFacts) => void) | undefined;
}

/** What a recording holds although its shot could not be computed. */
export function ReadSoFar({ inspection, onFacts }: ReadSoFarProps): ReactElement {
  const placed = inspection.plates.filter((plate) => plate.loadN !== undefined);
  return (
    <div className="unsaid">
      <section aria-labelledby="read-title">
        <h2 id="read-title">What could be read</h2>
        <p className="small">
          {inSeconds(inspection.durationS).text} at {inHertz(inspection.rateHz).text}, {inspection.channels.length}{" "}
          channels.
        </p>
        <table>
          <caption>Load of each plate, as written in the file</caption>
          <thead>
            <tr>
              <th scope="col">Plate</th>
              {["Mean", "Least", "Largest"].map((head) => (
                <th key={head} scope="col" style={{ textAlign: "right" }}>
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {inspection.plates.map((plate) => (
              <tr key={plate.index}>
                <th scope="row">
                  {plate.index}
                  <small>{plate.fault?.sentence}</small>
                </th>
                {[plate.loadN?.mean, plate.loadN?.min, plate.loadN?.max].map((loadN, k) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: the three columns never move.
                  <td key={k}>{inNewtons(loadN ?? Number.NaN).text}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {placed.length > 0 && onFacts !== undefined ? <FactsForm plates={placed} onFacts={onFacts} /> : null}
    </div>
  );
}
