import type { FootPoint, SoleView } from "@underfoot/report";
import { type ReactElement, useId } from "react";
import type { UsualSpot } from "./usual/usual-spot.ts";

/** Width of the drawing, CSS px. */
const WIDTH_PX = 208;
const SIDE_PX = 10;
const TOP_PX = 34;

export interface SoleFigureProps {
  readonly sole: SoleView;
  /** Where the pressure at delivery is expected; a dotted ellipse. */
  readonly usual: UsualSpot | undefined;
}

/** The lead foot laid heel to toe, its path of pressure, and a drop line from delivery to the scale. */
export function SoleFigure({ sole, usual }: SoleFigureProps): ReactElement {
  const titleId = useId();
  if (sole.kind === "missing") {
    return (
      <p className="small">
        <b>{sole.title}.</b> {sole.why} {sole.remedy}
      </p>
    );
  }
  const pxPerM = (WIDTH_PX - 2 * SIDE_PX) / sole.lengthM;
  const across = sole.outline.map((point) => point.acrossM);
  const outerM = Math.max(...across);
  const innerM = Math.min(...across);
  const scaleY = TOP_PX + (outerM - innerM) * pxPerM + 10;
  const at = ({ alongM, acrossM }: FootPoint): readonly [number, number] => [
    SIDE_PX + alongM * pxPerM,
    TOP_PX + (outerM - acrossM) * pxPerM,
  ];
  const delivery = sole.points.find((point) => point.event === "delivery");
  const reading = `Pressure in the lead foot at delivery: ${sole.delivery.heelToe.spoken} from heel to toe. ${sole.delivery.why ?? ""}`;
  return (
    <figure className="sole" aria-labelledby={titleId}>
      <figcaption id={titleId} className="hidden">
        {sole.title}
      </figcaption>
      <svg width={WIDTH_PX} height={scaleY + 24} role="img" aria-label={reading.trim()}>
        <text x={0} y={13} className="note strong" style={{ fill: "var(--lead)", fontSize: 14 }}>
          {sole.title}
        </text>
        <text x={WIDTH_PX} y={29} className="sole-caption end">
          outer edge up
        </text>
        <path d={pathOf(sole.outline.map(at), true)} fill="var(--paper-2)" stroke="var(--lead)" strokeWidth={2} />
        {usual === undefined ? null : (
          <ellipse
            className="usual-spot"
            cx={at(usual)[0]}
            cy={at(usual)[1]}
            rx={usual.halfAlongM * pxPerM}
            ry={usual.halfAcrossM * pxPerM}
          />
        )}
        <path d={trailOf(sole, at)} fill="none" stroke="var(--lead)" strokeWidth={2} />
        {sole.points
          .filter((point) => point.event === "top" || point.event === "finish")
          .map((point) => {
            const [x, y] = at(point);
            return (
              <g key={point.event}>
                <circle cx={x} cy={y} r={3.5} fill="var(--paper)" stroke="var(--lead)" strokeWidth={2} />
                <text x={x + 7} y={y + (point.event === "top" ? 15 : -5)} className="note">
                  {point.label}
                </text>
              </g>
            );
          })}
        <HeelToeScale y={scaleY} />
        {delivery === undefined ? null : (
          <DropLine point={at(delivery)} y={scaleY} text={sole.delivery.heelToe.number} />
        )}
      </svg>
    </figure>
  );
}

function HeelToeScale({ y }: { readonly y: number }): ReactElement {
  const right = WIDTH_PX - SIDE_PX;
  const ticks = [0, 0.25, 0.5, 0.75, 1].map((share) => `M${SIDE_PX + share * (right - SIDE_PX)} ${y}v5`).join("");
  return (
    <g>
      <path d={`M${SIDE_PX} ${y}H${right}${ticks}`} stroke="var(--edge)" fill="none" />
      <text x={0} y={y + 19} className="note">
        heel
      </text>
      <text x={WIDTH_PX} y={y + 19} className="note end">
        toe
      </text>
    </g>
  );
}

interface DropLineProps {
  readonly point: readonly [number, number];
  readonly y: number;
  readonly text: string;
}

function DropLine({ point: [x, top], y, text }: DropLineProps): ReactElement {
  return (
    <g>
      <path d={`M${x} ${top}V${y}`} stroke="var(--lead)" strokeWidth={1.4} />
      <circle cx={x} cy={top} r={6} fill="var(--lead)" stroke="var(--paper)" strokeWidth={2} />
      <text x={x} y={y + 19} className="note strong middle" style={{ fill: "var(--lead)", fontSize: 14 }}>
        {text}
      </text>
    </g>
  );
}

type PlaceOf = (point: FootPoint) => readonly [number, number];

function trailOf(sole: Extract<SoleView, { kind: "traced" }>, at: PlaceOf): string {
  const step = Math.max(1, Math.floor(sole.alongM.length / 240));
  let path = "";
  let isDown = false;
  for (let k = 0; k < sole.alongM.length; k += step) {
    const alongM = sole.alongM[k] ?? Number.NaN;
    if (Number.isNaN(alongM)) isDown = false;
    else {
      const [x, y] = at({ alongM, acrossM: sole.acrossM[k] ?? Number.NaN });
      path += `${isDown ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`;
      isDown = true;
    }
  }
  return path;
}

function pathOf(points: readonly (readonly [number, number])[], isClosed: boolean): string {
  const path = points.map(([x, y], k) => `${k === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
  return isClosed ? `${path}Z` : path;
}
