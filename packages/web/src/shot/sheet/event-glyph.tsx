import type { EventName } from "@underfoot/domain";
import type { ReactElement } from "react";

/** Start corner, top peak, delivery bar, impact ball, finish corner; address has none. */
export function EventGlyph({ event, x, y, isFirm }: EventGlyphProps): ReactElement | null {
  const ink = isFirm ? "var(--ink)" : "var(--ink-3)";
  const line = { fill: "none", stroke: ink, strokeWidth: 2 };
  switch (event) {
    case "start":
      return <path d={`M${x - 5} ${y + 6}v-11h11`} {...line} />;
    case "top":
      return <path d={`M${x - 6} ${y + 5}l6 -10l6 10`} {...line} />;
    case "delivery":
      return <path d={`M${x - 7} ${y}h14`} {...line} strokeWidth={4} />;
    case "impact":
      return <circle cx={x} cy={y} r={5.5} fill={ink} />;
    case "finish":
      return <path d={`M${x - 5} ${y + 5}h11v-11`} {...line} />;
    case "address":
      return null;
  }
}

export interface EventGlyphProps {
  readonly event: EventName;
  readonly x: number;
  readonly y: number;
  /** Marked or from a signal: full ink. Estimated: grey. */
  readonly isFirm: boolean;
}
