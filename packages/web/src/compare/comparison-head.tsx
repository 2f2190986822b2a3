import type { PlayerAxes } from "@underfoot/domain";
import { type ReactElement, type ReactNode, useId, useState } from "react";
import type { SideHead } from "./choose/side-heads.ts";

export interface ComparisonHeadProps {
  readonly a: SideHead;
  readonly b: SideHead;
  /** What both have in common; empty where nothing. */
  readonly both: string;
  readonly axes: PlayerAxes;
  /** A shot and what is usual stay where they are. */
  readonly canSwap: boolean;
  readonly isPlanShown: boolean;
  readonly onSwap: () => void;
  readonly onAxes: () => void;
  readonly onPlan: () => void;
  /** Where the sides are chosen; opens by its button. */
  readonly choice: ReactNode;
}

/** Who is A, who is B, with the line each is drawn by; swap, axes and plan. */
export function ComparisonHead(props: ComparisonHeadProps): ReactElement {
  const { a, b, both, axes, canSwap, isPlanShown, onSwap, onAxes, onPlan, choice } = props;
  const [isChoosing, setIsChoosing] = useState(false);
  const id = useId();
  return (
    <div className="sides">
      <Side letter="A" {...a} />
      <Side letter="B" {...b} />
      {both === "" ? null : <p className="both-sides">Both: {both}</p>}
      <div className="deeds">
        <button
          type="button"
          className="btn"
          aria-expanded={isChoosing}
          aria-controls={id}
          onClick={() => setIsChoosing(!isChoosing)}
        >
          Choose
        </button>
        {canSwap ? (
          <button type="button" className="btn" onClick={onSwap}>
            Swap <kbd className="key">S</kbd>
          </button>
        ) : null}
        <button type="button" className="btn" aria-pressed={isPlanShown} onClick={onPlan}>
          From above <kbd className="key">G</kbd>
        </button>
        <fieldset className="switch">
          <legend className="hidden">Axes</legend>
          {(["turf", "level"] as const).map((version) => (
            <button
              key={version}
              type="button"
              aria-pressed={axes === version}
              onClick={() => (axes === version ? undefined : onAxes())}
            >
              {version}
            </button>
          ))}
          <kbd className="key">L</kbd>
        </fieldset>
      </div>
      <div id={id} className="side-choice" hidden={!isChoosing}>
        {choice}
      </div>
    </div>
  );
}

function Side({ letter, name, detail }: SideHead & { readonly letter: "A" | "B" }): ReactElement {
  return (
    <div className="side-head">
      <svg width="44" height="12" aria-hidden="true">
        {letter === "A" ? (
          <path d="M0 6H44" className="side-a" />
        ) : (
          <>
            <path d="M0 6H44" className="side-b" />
            <path d="M-2 6H46" className="side-b-core" />
          </>
        )}
      </svg>
      <p>
        <b>
          {letter}: {name}
        </b>
        <span>{detail}</span>
      </p>
    </div>
  );
}
