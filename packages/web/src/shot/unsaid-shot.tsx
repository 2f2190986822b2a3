import type { ShotFacts } from "@underfoot/domain";
import type { Measure } from "@underfoot/mechanics";
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
          <PlateTable measures={measures} />
        </section>
        {placed.length > 0 ? <FactsForm plates={placed} onFacts={onFacts} /> : null}
      </div>
      <FindingList findings={findings} />
    </>
  );
}

/** What pipeline gives of each plate, in the order of the table. */
const PLATE_COLUMNS = [
  { part: "load.mean", head: "Load, mean" },
  { part: "load.peak", head: "Load, largest" },
  { part: "cop.x", head: "Pressure, x" },
  { part: "cop.y", head: "y" },
  { part: "cop.z", head: "z" },
] as const;

/** One row a plate, and the weight. Places are in the laboratory. */
function PlateTable({ measures }: { readonly measures: readonly Measure[] }): ReactElement {
  const plates = [...new Set(measures.flatMap(({ id }) => /^plate(\d+)\./.exec(id)?.[1] ?? []))];
  const weight = measures.find((measure) => measure.id === "both.weight.mean");
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: scrollable regions need keyboard access.
    <section className="wide-table" tabIndex={0} aria-label="Loads and pressure of each plate">
      <table>
        <caption>Load, and mean place of the pressure in the laboratory, each with one standard deviation</caption>
        <thead>
          <tr>
            <th scope="col">Plate</th>
            {PLATE_COLUMNS.map(({ part, head }) => (
              <th key={part} scope="col" style={{ textAlign: "right" }}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {plates.map((plate) => (
            <tr key={plate}>
              <th scope="row">{plate}</th>
              {PLATE_COLUMNS.map(({ part }) => (
                <ValueCell key={part} measure={measures.find((measure) => measure.id === `plate${plate}.${part}`)} />
              ))}
            </tr>
          ))}
          {weight === undefined ? null : (
            <tr>
              <th scope="row">Weight</th>
              <ValueCell measure={weight} />
              <td colSpan={PLATE_COLUMNS.length - 1} />
            </tr>
          )}
        </tbody>
      </table>
    </section>
  );
}

function ValueCell({ measure }: { readonly measure: Measure | undefined }): ReactElement {
  const words = measure === undefined ? undefined : measureText(measure);
  return (
    <td>
      {words?.text}
      <small>{words?.why ?? words?.plusMinus}</small>
    </td>
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
