import { CURVES } from "@underfoot/compare";
import type { ReactElement } from "react";
import { askedWith, type CompareAsk } from "./compare-address.ts";

export interface WaysOfLookingProps {
  readonly ask: CompareAsk;
  readonly countAll: number;
  readonly onAsk: (ask: CompareAsk) => void;
}

const PLACES = ["First", "Second", "Third"] as const;

/** Other ways of looking at the same two sides. Each one that was used is a look, and the levels allow for all of them. */
export function WaysOfLooking({ ask, countAll, onAsk }: WaysOfLookingProps): ReactElement {
  const { registration, view, measures, curves, looked } = ask;
  return (
    <details className="ways">
      <summary>Look in another way</summary>
      <p className="caption">
        Looked at in {looked.length === 1 ? "one way" : `${looked.length} ways`} so far. Whoever looks in many ways
        finds something in one of them, so every way counts as a look and raises what a difference must exceed. It is
        best chosen before looking.
      </p>
      <div className="choice">
        <label className="field">
          Curves laid over each other by
          <select
            value={registration}
            onChange={({ target }) =>
              onAsk(askedWith(ask, { registration: target.value === "events" ? "events" : "impact" }))
            }
          >
            <option value="impact">impact alone</option>
            <option value="events">all events: timing is taken out</option>
          </select>
        </label>
        <label className="field">
          What is looked for in them
          <select
            value={view}
            onChange={({ target }) =>
              onAsk(askedWith(ask, { view: target.value === "clusters" ? "clusters" : "stretches" }))
            }
          >
            <option value="stretches">stretches with their limits</option>
            <option value="clusters">also long, weak differences: without limits</option>
          </select>
        </label>
        <label className="field">
          Measures
          <select
            value={measures}
            onChange={({ target }) => onAsk(askedWith(ask, { measures: target.value === "all" ? "all" : "few" }))}
          >
            <option value="few">a short list</option>
            <option value="all">all {countAll}</option>
          </select>
        </label>
        {curves.map((curve, k) => (
          <label key={curve} className="field">
            {PLACES[k]} pair
            <select
              value={curve}
              onChange={({ target }) =>
                onAsk(askedWith(ask, { curves: curves.map((one) => (one === curve ? target.value : one)) }))
              }
            >
              {CURVES.filter(({ id }) => id === curve || !curves.includes(id)).map(({ id, title }) => (
                <option key={id} value={id}>
                  {title}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
    </details>
  );
}
