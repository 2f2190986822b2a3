import type { ShotFacts } from "@underfoot/domain";
import type { ShotOutcome } from "@underfoot/pipeline";
import { inSeconds, measureText, thinned } from "@underfoot/report";
import type { ReactElement } from "react";
import { FactsForm } from "./facts-form.tsx";
import { FindingList } from "./finding-list.tsx";
import { curvePath } from "./sheet/curve-path.ts";

type UnsaidOutcome = Extract<ShotOutcome, { status: "needs-facts" }>;

export interface UnsaidShotProps {
  readonly outcome: UnsaidOutcome;
  readonly onFacts: (facts: ShotFacts) => void;
}

/** A recording of which nobody said hand, target and feet: loads and pressure per plate, and a form to say it. */
export function UnsaidShot({ outcome, onFacts }: UnsaidShotProps): ReactElement {
  const { inspection, loads, measures, findings } = outcome;
  const placed = inspection.plates.filter((plate) => loads.some((load) => load.plate === plate.index));
  return (
    <>
      <div className="unsaid">
        <section aria-labelledby="loads-title">
          <h2 id="loads-title">What can be said without target and hand</h2>
          <PlateLoads loads={loads} durationS={inspection.durationS} />
          <table>
            <caption>Loads and pressure of each plate, each with one standard deviation</caption>
            <tbody>
              {measures.map((measure) => {
                const words = measureText(measure);
                return (
                  <tr key={measure.id}>
                    <th scope="row">
                      {words.title}
                      <small>{words.why}</small>
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
        </section>
        {placed.length > 0 ? <FactsForm plates={placed} onFacts={onFacts} /> : null}
      </div>
      <FindingList findings={findings} />
    </>
  );
}

const WIDTH_PX = 120;
const HEIGHT_PX = 300;
const GAP_PX = 28;

/** The load on each plate, time falling. */
function PlateLoads({
  loads,
  durationS,
}: {
  readonly loads: UnsaidOutcome["loads"];
  readonly durationS: number;
}): ReactElement | null {
  if (loads.length === 0) return null;
  const most = Math.max(1, ...loads.flatMap(({ loadN }) => loadN.reduce((most, forceN) => Math.max(most, forceN), 0)));
  return (
    <figure>
      <svg
        viewBox={`0 0 ${loads.length * (WIDTH_PX + GAP_PX)} ${HEIGHT_PX + 44}`}
        width={loads.length * (WIDTH_PX + GAP_PX)}
        role="img"
        aria-label={`Load on each plate over ${inSeconds(durationS).spoken}, time falling; the table has the numbers.`}
        style={{ maxWidth: "100%", height: "auto" }}
      >
        {loads.map(({ plate, loadN }, k) => {
          const left = k * (WIDTH_PX + GAP_PX) + 1;
          const place = {
            x: (forceN: number) => left + (Math.max(0, forceN) / most) * WIDTH_PX,
            y: (sample: number) => 24 + (sample / Math.max(1, loadN.length - 1)) * HEIGHT_PX,
          };
          return (
            <g key={plate}>
              <text x={left} y={14} className="note strong">
                Plate {plate}, load
              </text>
              <path d={`M${left} 20V${24 + HEIGHT_PX}`} stroke="var(--edge)" />
              <path d={curvePath(loadN, thinned(loadN, HEIGHT_PX), place)} className="curve" stroke="var(--both)" />
            </g>
          );
        })}
        <text x={1} y={HEIGHT_PX + 40} className="note">
          {inSeconds(durationS).text}, time falls
        </text>
      </svg>
    </figure>
  );
}
