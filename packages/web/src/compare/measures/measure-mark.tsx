import type { ReactElement } from "react";
import type { Mark, MeasureMark, StepScale } from "./measure-marks.ts";

const percent = (share: number): string => `${(100 * share).toFixed(3)}%`;

/** Height of the grey block, px. */
const BLOCK_PX = 24;

/** Grey is her scatter about the slope's share; the line runs from there to where the difference is. */
export function MeasureMarkView({
  mark,
  scale,
}: {
  readonly mark: MeasureMark;
  readonly scale: StepScale;
}): ReactElement {
  const x = (step: number): string => percent(scale.share(step));
  const { at, slope, hasBlock } = mark;
  const width = (from: number, to: number): string => percent(Math.abs(scale.share(to) - scale.share(from)));
  const isBeyond = mark.mark === "beyond";
  return (
    <div className="measure-mark">
      <svg aria-hidden="true">
        {hasBlock ? (
          <rect
            className="allowed"
            x={x(slope - 1)}
            width={width(slope - 1, slope + 1)}
            y="50%"
            height={BLOCK_PX}
            transform={`translate(0 ${-BLOCK_PX / 2})`}
          />
        ) : null}
        {scale.ticks.map((tick) => (
          <line
            key={tick}
            x1={x(tick)}
            x2={x(tick)}
            y1={0}
            y2="100%"
            stroke={tick === 0 ? "var(--edge)" : "var(--rule)"}
          />
        ))}
        {slope === 0 ? null : (
          <rect
            className="slope-bar"
            x={x(Math.min(0, slope))}
            width={width(0, slope)}
            y="50%"
            height={12}
            transform="translate(0 -6)"
          />
        )}
        {Number.isNaN(at) ? null : (
          <>
            <line x1={x(slope)} x2={x(at)} y1="50%" y2="50%" stroke="var(--ink)" strokeWidth={isBeyond ? 3.5 : 1.6} />
            <svg x={x(at)} y="50%" aria-hidden="true">
              {scale.isOutside(at) ? <OpenEnd at={at} mark={mark.mark} /> : <MarkShape mark={mark.mark} />}
            </svg>
          </>
        )}
        {Number.isFinite(at) ? null : (
          <svg x={x(0)} y="50%" aria-hidden="true">
            <MarkShape mark={mark.mark} />
          </svg>
        )}
      </svg>
    </div>
  );
}

/** Farther than the scale: the mark, an open end beyond it, and the number. */
function OpenEnd({ at, mark }: { readonly at: number; readonly mark: Mark }): ReactElement {
  const toRight = at > 0 ? 1 : -1;
  return (
    <>
      <path
        d={`M${-4 * toRight}-6L${2 * toRight} 0L${-4 * toRight} 6`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth="2"
      />
      <g transform={`translate(${-15 * toRight} 0)`}>
        <MarkShape mark={mark} />
      </g>
      <text x={-26 * toRight} y={-5} className={toRight > 0 ? "note strong end" : "note strong"}>
        {Math.abs(at).toFixed(0)} steps
      </text>
    </>
  );
}

const LOZENGE = "M0-7.5L7.5 0L0 7.5L-7.5 0Z";

/** Filled, half filled, hollow, a dot; a bar where no verdict can be given at all. About its own middle. */
export function MarkShape({ mark }: { readonly mark: Mark }): ReactElement {
  switch (mark) {
    case "beyond":
      return <path d={LOZENGE} fill="var(--ink)" stroke="var(--ink)" strokeWidth="1.8" data-mark={mark} />;
    case "beyond-alone":
      return (
        <g data-mark={mark}>
          <path d={LOZENGE} fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.8" />
          <path d="M0-7.5L0 7.5L-7.5 0Z" fill="var(--ink)" />
        </g>
      );
    case "within":
      return <path d={LOZENGE} fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.8" data-mark={mark} />;
    case "too-few":
      return <circle r="3" fill="var(--ink)" data-mark={mark} />;
    case "none":
      return <circle r="3.5" fill="var(--paper)" stroke="var(--ink-3)" strokeWidth="1.5" data-mark={mark} />;
    case "bar":
      return <path d="M0-8V8" stroke="var(--ink)" strokeWidth="3" data-mark={mark} />;
  }
}
