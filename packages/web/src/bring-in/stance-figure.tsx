import type { ShotFacts } from "@underfoot/domain";
import type { QuietStance } from "@underfoot/pipeline";
import { inDegrees, inKilograms, inNewtons, inSeconds, lieText } from "@underfoot/report";
import type { ReactElement } from "react";
import { LieGlyph } from "../frame/lie-glyph.tsx";
import { type PlanPlate, type PlanPoint, type StancePlan, stancePlan } from "./stance-plan.ts";

export interface StanceFigureProps {
  readonly stance: QuietStance;
  readonly facts: ShotFacts | undefined;
}

const WIDTH = 340;
const MARGIN = 14;
/** Under the plan: scale and direction. */
const FOOT = 30;
const SCALE_BAR_M = 0.2;

/** The quiet stance as the columns are understood: if it looks wrong, they are. */
export function StanceFigure({ stance, facts }: StanceFigureProps): ReactElement {
  const plan = stancePlan(stance, facts);
  return (
    <figure className="stance">
      <figcaption>
        <h4>The quiet stance, as understood</h4>
        <p>{readingText(stance)}</p>
      </figcaption>
      <StanceDrawing plan={plan} stance={stance} />
      <p className="caption">{captionText(plan, facts)}</p>
      <LeanLine stance={stance} plan={plan} facts={facts} />
      <table>
        <caption className="hidden">The stance in numbers</caption>
        <thead>
          <tr>
            <th scope="col">Plate</th>
            <th scope="col" className="right">
              Load
            </th>
            <th scope="col" className="right">
              Share
            </th>
          </tr>
        </thead>
        <tbody>
          {stance.plates.map(({ plate, loadN }) => (
            <tr key={plate}>
              <th scope="row">{plate}</th>
              <td>{inNewtons(loadN).text}</td>
              <td>{Math.round((100 * loadN) / stance.weightN)} %</td>
            </tr>
          ))}
          <tr>
            <th scope="row">Weight</th>
            <td>{inNewtons(stance.weightN).text}</td>
            <td>{inKilograms(stance.massKg).text}</td>
          </tr>
        </tbody>
      </table>
    </figure>
  );
}

/** A number never parts from its unit. */
const whole = ({ text }: { readonly text: string }): string => text.replaceAll(" ", "\u00a0");

function readingText({ weightN, massKg, plates, fromS, toS }: QuietStance): string {
  const loads = plates.map(({ plate, loadN }) => `plate\u00a0${plate} ${whole(inNewtons(loadN))}`).join(", ");
  return `From ${whole(inSeconds(fromS))} to ${whole(inSeconds(toS))} the plates carry ${whole(inNewtons(weightN))}, ${whole(inKilograms(massKg))} with the club: ${loads}.`;
}

function captionText({ right, isPlaced }: StancePlan, facts: ShotFacts | undefined): string {
  const seen =
    right !== "target"
      ? `Seen from above; ${right} is on the right.`
      : facts?.handed === "left"
        ? "Seen from above, from behind the heels; the target is on the right."
        : "Seen from above, from the ball side; the target is on the right.";
  return isPlaced ? seen : `${seen} Nothing says where the plates lie, so they are drawn side by side.`;
}

function LeanLine({ stance, plan: { lie }, facts }: StanceFigureProps & { readonly plan: StancePlan }): ReactElement {
  if (lie === undefined) {
    return (
      <p className="small">
        The total force leans {inDegrees(stance.leanDeg).text} from the plates’ normal. On the flat that is about 0°, on
        a lie as much as the lie.
      </p>
    );
  }
  const found = lieText({ ...lie, source: "stance", sdDeg: 0.3 });
  return (
    <p className="small stance-lie">
      <LieGlyph pitchDeg={lie.pitchDeg} />
      <span>
        Lie by the lean of the stance: {found}.{facts?.lie === undefined ? "" : ` Said: ${lieText(facts.lie)}.`}
      </span>
    </p>
  );
}

function StanceDrawing({ plan, stance }: { readonly plan: StancePlan; readonly stance: QuietStance }): ReactElement {
  const points = plan.plates.flatMap(({ outline, cop }) => (cop ? [...outline, cop] : [...outline]));
  const rights = points.map(({ rightM }) => rightM);
  const ups = points.map(({ upM }) => upM);
  const [left, top] = [Math.min(...rights), Math.max(...ups)];
  const pxPerM = Math.min(
    (WIDTH - 2 * MARGIN) / Math.max(0.1, Math.max(...rights) - left),
    300 / Math.max(0.1, top - Math.min(...ups)),
  );
  const height = (top - Math.min(...ups)) * pxPerM + 2 * MARGIN;
  const at = ({ rightM, upM }: PlanPoint): readonly [number, number] => [
    MARGIN + (rightM - left) * pxPerM,
    MARGIN + (top - upM) * pxPerM,
  ];
  const cop = plan.cop && at(plan.cop);
  const barPx = SCALE_BAR_M * pxPerM;
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${height + FOOT}`}
      width={WIDTH}
      role="img"
      aria-label="Plates from above with the place of the pressure on each"
    >
      {plan.plates.map((plate) => (
        <PlateMark
          key={plate.plate}
          plate={plate}
          at={at}
          loadN={stance.plates.find((one) => one.plate === plate.plate)?.loadN ?? Number.NaN}
        />
      ))}
      {cop === undefined ? null : (
        <g>
          <path d={`M${cop[0] - 7} ${cop[1]}h14M${cop[0]} ${cop[1] - 7}v14`} stroke="var(--both)" strokeWidth="2.5" />
          <text x={cop[0]} y={cop[1] + 22} className="note middle">
            both
          </text>
        </g>
      )}
      <g transform={`translate(${MARGIN} ${height + 12})`}>
        <path d={`M0 -4V4M0 0H${barPx}M${barPx} -4V4`} stroke="var(--ink-2)" />
        <text x={barPx + 6} y={4} className="note">
          20 cm
        </text>
      </g>
      {plan.right === "target" ? (
        <g transform={`translate(${WIDTH - MARGIN} ${height + 12})`}>
          <path d="M-30 0H0M-7 -5L0 0L-7 5" stroke="var(--ink-2)" fill="none" />
          <text x={-36} y={4} className="note end">
            target
          </text>
        </g>
      ) : null}
    </svg>
  );
}

interface PlateMarkProps {
  readonly plate: PlanPlate;
  readonly at: (point: PlanPoint) => readonly [number, number];
  readonly loadN: number;
}

function PlateMark({ plate, at, loadN }: PlateMarkProps): ReactElement {
  const outline = plate.outline.map((point) =>
    at(point)
      .map((value) => value.toFixed(1))
      .join(" "),
  );
  const [x] = at(plate.centre);
  const top = Math.min(...plate.outline.map((point) => at(point)[1]));
  const cop = plate.cop && at(plate.cop);
  const foot = plate.foot === "lead" || plate.foot === "trail" ? plate.foot : undefined;
  const colour = foot === undefined ? "var(--both)" : `var(--${foot})`;
  return (
    <g>
      <path d={`M${outline.join("L")}Z`} className="plate" />
      <text x={x} y={top + 18} className="note middle">
        Plate {plate.plate}
        {plate.foot === undefined || plate.foot === "none" ? "" : `, ${plate.foot}`}
      </text>
      <text x={x} y={top + 38} className="note strong middle stance-load">
        {inNewtons(loadN).text}
      </text>
      {cop === undefined ? null : (
        <circle
          cx={cop[0]}
          cy={cop[1]}
          r={6}
          fill={foot === "trail" ? "var(--paper)" : colour}
          stroke={colour}
          strokeWidth="2.5"
        />
      )}
    </g>
  );
}
