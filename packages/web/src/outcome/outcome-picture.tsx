import type { Outcome, OutcomeMeasure } from "@underfoot/compare";
import { inDegrees, inMetres, inMillimetres, type NumberText, type ScaleDomain, unitText } from "@underfoot/report";
import { type ReactElement, useId, useMemo } from "react";
import { boxX, scaleTicks } from "../compare/pairs/pair-layout.ts";
import { placeHref } from "../frame/place.ts";
import { useWidth } from "../frame/use-size.ts";
import { OUTCOMES } from "./outcome-address.ts";
import { type OutcomeDot, outcomeDomains, outcomeDots, type Shape, shapedConditions } from "./outcome-dots.ts";

export interface OutcomePictureProps {
  readonly outcome: Outcome;
  readonly row: OutcomeMeasure;
  /** What may be said, for those who do not see the picture. */
  readonly sentence: string;
}

const HEIGHT_PX = 420;
const LEFT_PX = 64;
const RIGHT_PX = 16;
const TOP_PX = 30;
const BOTTOM_PX = 46;
const TICK_APART_PX = { across: 76, up: 52 };
const DOT_PX = 12;
const ASIDE_PX = 10;

/** A result in the unit that is written on its axis. */
export function resultText(result: number, outcome: Outcome["outcome"], resolution?: number): NumberText {
  if (outcome === "carry") return inMetres(result, resolution);
  if (outcome === "startLine") return inDegrees(result, resolution);
  return inMillimetres(result / 1000, resolution === undefined ? undefined : resolution / 1000);
}

/** Every shot a dot, the measure across, the result up: kept filled, mishit hollow, conditions by shape. A dot opens its shot. */
export function OutcomePicture({ outcome, row, sentence }: OutcomePictureProps): ReactElement {
  const title = useId();
  const [frame, width] = useWidth();
  const conditions = shapedConditions(outcome.conditions);
  return (
    <figure className="outcome-picture" aria-labelledby={title}>
      <h2 id={title}>One dot a shot</h2>
      <p className="caption">
        Filled: kept. Hollow: mishit. Press a dot to open its shot.
        {outcome.conditions.length > 1 ? " The number compares within each condition and day only." : ""}
      </p>
      <div ref={frame}>{width === 0 ? null : <Picture {...{ outcome, row, sentence, width }} />}</div>
      <ul className="outcome-shapes" aria-label="Conditions by shape">
        {conditions.map(({ name, shape, countShots }) => (
          <li key={name}>
            <svg width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true">
              <DotShape shape={shape} isMishit={false} />
            </svg>
            {name} ({countShots})
          </li>
        ))}
      </ul>
    </figure>
  );
}

function Picture({ outcome, row, sentence, width }: OutcomePictureProps & { readonly width: number }): ReactElement {
  const isTwoLines = outcome.outcome === "mishit";
  const { across, up, x, dots } = useMemo(() => {
    const { across, up } = outcomeDomains(outcomeDots(row, outcome, 0));
    const inner = width - LEFT_PX - RIGHT_PX;
    const nearValue = (DOT_PX * (across.max - across.min)) / inner;
    return {
      ...{ across, up, x: boxX(across, { x: LEFT_PX, width: inner }) },
      dots: outcomeDots(row, outcome, nearValue),
    };
  }, [outcome, row, width]);
  const bottom = HEIGHT_PX - BOTTOM_PX;
  const lines = useMemo(() => twoLines(dots), [dots]);
  const y = (dot: OutcomeDot): number =>
    isTwoLines
      ? (dot.isMishit ? lines.mishitPx : lines.cleanPx) - dot.aside * lines.asidePx
      : bottom - ((dot.result - up.min) / (up.max - up.min)) * (bottom - TOP_PX);
  return (
    <svg width={width} height={HEIGHT_PX} className="picture" aria-hidden="false">
      <title>{`${dots.length} shots, ${OUTCOMES[outcome.outcome].word} by ${row.title}. ${sentence}`}</title>
      <Across {...{ across, x, width }} unit={row.unit} title={row.title} />
      {isTwoLines ? (
        <TwoLines {...lines} right={width - RIGHT_PX} />
      ) : (
        <Up {...{ up, width }} outcome={outcome.outcome} />
      )}
      {dots.map((dot) => (
        <a
          key={dot.shotId}
          href={placeHref("shot", dot.shotId)}
          className="outcome-dot"
          data-mishit={dot.isMishit}
          data-shape={dot.shape}
          aria-label={spoken(dot, outcome.outcome, row.unit)}
        >
          <g transform={`translate(${x(dot.value)} ${y(dot)})`}>
            <circle r={DOT_PX} className="outcome-target" />
            <DotShape shape={dot.shape} isMishit={dot.isMishit} />
          </g>
        </a>
      ))}
    </svg>
  );
}

function spoken(dot: OutcomeDot, outcome: Outcome["outcome"], unit: string): string {
  const label = dot.isMishit ? "mishit" : "kept";
  const result = outcome === "mishit" ? "" : ` ${OUTCOMES[outcome].word} ${resultText(dot.result, outcome).spoken},`;
  return `${dot.condition}, ${label}:${result} measure ${unitText(dot.value, unit).spoken}. Opens the shot.`;
}

function Across({
  across,
  x,
  width,
  unit,
  title,
}: {
  readonly across: ScaleDomain;
  readonly x: (value: number) => number;
  readonly width: number;
  readonly unit: string;
  readonly title: string;
}): ReactElement {
  const ticks = scaleTicks(across, width - LEFT_PX - RIGHT_PX, TICK_APART_PX.across);
  const step = Math.abs((ticks[1] ?? 0) - (ticks[0] ?? 0));
  const bottom = HEIGHT_PX - BOTTOM_PX;
  return (
    <g>
      {ticks.map((value) => (
        <g key={value}>
          <path d={`M${x(value)} ${TOP_PX}V${bottom + 4}`} stroke="var(--rule)" />
          <text x={x(value)} y={bottom + 18} className="zero">
            {unitText(value, unit, step / 2).number}
          </text>
        </g>
      ))}
      <text x={width - RIGHT_PX} y={HEIGHT_PX - 6} className="head-unit end">
        {title}, {unit === "1" ? "no unit" : unit}
      </text>
    </g>
  );
}

function Up({
  up,
  width,
  outcome,
}: {
  readonly up: ScaleDomain;
  readonly width: number;
  readonly outcome: Outcome["outcome"];
}): ReactElement {
  const bottom = HEIGHT_PX - BOTTOM_PX;
  const y = (value: number): number => bottom - ((value - up.min) / (up.max - up.min)) * (bottom - TOP_PX);
  const ticks = scaleTicks(up, bottom - TOP_PX, TICK_APART_PX.up);
  const step = Math.abs((ticks[1] ?? 0) - (ticks[0] ?? 0));
  return (
    <g>
      <text x={0} y={14} className="head-unit">
        {OUTCOMES[outcome].axis}
      </text>
      {ticks.map((value) => (
        <g key={value}>
          <path
            d={`M${LEFT_PX} ${y(value)}H${width - RIGHT_PX}`}
            stroke={value === 0 ? "var(--edge)" : "var(--rule)"}
          />
          <text x={LEFT_PX - 8} y={y(value) + 4} className="zero" style={{ textAnchor: "end" }}>
            {resultText(value, outcome, step / 2).number}
          </text>
        </g>
      ))}
    </g>
  );
}

interface Lines {
  readonly mishitPx: number;
  readonly cleanPx: number;
  /** From one dot to the next beside it. */
  readonly asidePx: number;
}

/** Two lines with room for the dots that stand beside each other on either. */
function twoLines(dots: readonly OutcomeDot[]): Lines {
  const roomOf = (isMishit: boolean): number =>
    1 + Math.max(0, ...dots.filter((dot) => dot.isMishit === isMishit).map(({ aside }) => Math.abs(aside)));
  const [mishits, clean] = [roomOf(true), roomOf(false)];
  const heightPx = HEIGHT_PX - BOTTOM_PX - TOP_PX;
  const stepPx = heightPx / (2 * (mishits + clean));
  return {
    mishitPx: TOP_PX + mishits * stepPx,
    cleanPx: HEIGHT_PX - BOTTOM_PX - clean * stepPx,
    asidePx: Math.min(ASIDE_PX, stepPx),
  };
}

function TwoLines({ mishitPx, cleanPx, right }: Lines & { readonly right: number }): ReactElement {
  return (
    <g>
      {(
        [
          ["mishit", mishitPx],
          ["clean", cleanPx],
        ] as const
      ).map(([word, y]) => (
        <g key={word}>
          <path d={`M${LEFT_PX} ${y}H${right}`} stroke="var(--rule)" />
          <text x={LEFT_PX - 8} y={y + 4} className="event-name end">
            {word}
          </text>
        </g>
      ))}
    </g>
  );
}

const PATHS: Readonly<Record<Exclude<Shape, "circle">, string>> = {
  square: "M-4.6-4.6H4.6V4.6H-4.6Z",
  triangle: "M0-6L5.4 4.4H-5.4Z",
  diamond: "M0-6.6L5.6 0L0 6.6L-5.6 0Z",
  downward: "M0 6L5.4-4.4H-5.4Z",
  cross: "M-1.9-6H1.9V-1.9H6V1.9H1.9V6H-1.9V1.9H-6V-1.9H-1.9Z",
};

/** About its own middle. */
function DotShape({ shape, isMishit }: { readonly shape: Shape; readonly isMishit: boolean }): ReactElement {
  const className = isMishit ? "outcome-mishit" : "outcome-kept";
  return shape === "circle" ? <circle r="5" className={className} /> : <path d={PATHS[shape]} className={className} />;
}
