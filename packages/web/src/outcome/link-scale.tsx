import type { Outcome, OutcomeMeasure } from "@underfoot/compare";
import type { ReactElement } from "react";
import { type LinkNumber, linkNumber } from "./link-number.ts";

export interface LinkScaleProps {
  readonly outcome: Outcome;
  readonly row: OutcomeMeasure;
}

const percent = (share: number): string => `${(100 * share).toFixed(2)}%`;

/** How closely the two go together, with its interval, on a scale whose middle is "not at all". */
export function LinkScale({ outcome, row }: LinkScaleProps): ReactElement | null {
  const link = linkNumber(outcome, row);
  if (link === undefined) return null;
  return (
    <div className="link-scale">
      <p>
        <b>{link.name}</b> {link.text}
      </p>
      <svg height="56" role="img" aria-label={`${link.name} ${link.text}`}>
        <Ends link={link} />
        {Number.isNaN(link.low) ? null : (
          <line x1={percent(link.low)} x2={percent(link.high)} y1={20} y2={20} className="link-interval" />
        )}
        <circle cx={percent(link.at)} cy={20} r="6.5" className="outcome-kept" />
      </svg>
      <p className="caption">{link.pText}</p>
    </div>
  );
}

function Ends({ link }: { readonly link: LinkNumber }): ReactElement {
  return (
    <>
      <line x1="0%" x2="100%" y1={20} y2={20} stroke="var(--edge)" />
      <line x1="50%" x2="50%" y1={8} y2={32} stroke="var(--ink-2)" />
      {link.ticks.map((text, k) => (
        <text
          key={text}
          x={percent(k / 2)}
          y={50}
          className="zero"
          style={{ textAnchor: (["start", "middle", "end"] as const)[k] ?? "middle" }}
        >
          {text}
        </text>
      ))}
    </>
  );
}
