import type { ReactElement } from "react";
import { ChoiceField, NumberField } from "../fields.tsx";
import type { SessionPlanShape } from "./plan-grid.ts";
import { orderOf } from "./plan-order.ts";

export interface OrderPartProps {
  readonly plan: SessionPlanShape;
  readonly onPlan: (make: (plan: SessionPlanShape) => SessionPlanShape) => void;
  readonly countShots: number;
}

const ORDERS = [
  ["blocked", "in blocks: each condition once a block, each block shuffled"],
  ["balanced", "balanced: each condition follows each other one equally often"],
  ["split", "by lies: a lie’s shots come in visits, at least two of each"],
  ["as-given", "as given: row by row, nothing drawn"],
] as const;

/** How the order is drawn, what it cannot show, and the order itself. */
export function OrderPart({ plan, onPlan, countShots }: OrderPartProps): ReactElement {
  const order = orderOf(plan);
  const isNothing = plan.conditions.length === 0;
  const { smallestP, findings } =
    order.kind === "drawn" ? order.drawn : { smallestP: undefined, findings: [] as const };
  return (
    <>
      <ChoiceField
        label="Order"
        value={plan.order}
        choices={ORDERS}
        onValue={(said) => onPlan((before) => ({ ...before, order: said }))}
      />
      {plan.order === "as-given" ? null : (
        <div className="with-unit">
          <NumberField
            label="Seed of the order"
            value={plan.seed}
            min={0}
            max={Number.MAX_SAFE_INTEGER}
            step={1}
            onValue={(seed = plan.seed) => onPlan((before) => ({ ...before, seed }))}
          />
          <button
            type="button"
            className="btn"
            onClick={() => onPlan((before) => ({ ...before, seed: before.seed + 1 }))}
          >
            Draw again
          </button>
        </div>
      )}
      {countShots > 0 && countShots < plan.drawn.length ? (
        <p className="small">
          {countShots === 1 ? "1 shot is" : `${countShots} shots are`} stored already and counted from the top of the
          list: draw again only before the first.
        </p>
      ) : null}
      {isNothing ? <p className="quiet">The order is drawn once shots are in the grid.</p> : null}
      {!isNothing && order.kind === "none" ? <p role="alert">{order.sentence}</p> : null}
      {isNothing || findings.length === 0 ? null : (
        <ul className="findings">
          {findings.map(({ code, severity, sentence, remedy }) => (
            <li key={code} className={severity}>
              {sentence} <span className="quiet">{remedy}</span>
            </li>
          ))}
        </ul>
      )}
      {isNothing || smallestP === undefined ? null : (
        <p className="small">
          The smallest p that two conditions can reach in this order is{" "}
          {smallestP < 0.001 ? "below 0.001" : smallestP.toPrecision(2)}.
        </p>
      )}
      <DrawnList plan={plan} countShots={countShots} blocks={order.kind === "drawn" ? order.drawn.shots : []} />
    </>
  );
}

interface DrawnListProps {
  readonly plan: SessionPlanShape;
  readonly countShots: number;
  readonly blocks: readonly { readonly block: number }[];
}

/** The shots in the order they are hit; printed for the bay with a box to tick. */
function DrawnList({ plan, countShots, blocks }: DrawnListProps): ReactElement | null {
  const { drawn } = plan;
  if (drawn.length === 0) return null;
  const lies = new Set(drawn.map(({ lieName }) => lieName)).size;
  const clubs = new Set(drawn.map(({ club }) => club)).size;
  const startsBlock = (at: number): boolean =>
    plan.order !== "as-given" && at > 0 && blocks[at]?.block !== blocks[at - 1]?.block;
  return (
    <>
      <div className="drawn-head">
        <h3>The order, {drawn.length === 1 ? "1 shot" : `${drawn.length} shots`}</h3>
        <button type="button" className="btn" onClick={() => print()}>
          Print the list
        </button>
      </div>
      <ol className="drawn">
        {drawn.map(({ intent, lieName, club }, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a shot of the plan is its place in the order.
          <li key={at} data-hit={at < countShots} data-next={at === countShots} data-block={startsBlock(at)}>
            <b>{intent}</b>
            {lies > 1 ? `, ${lieName}` : ""}
            {clubs > 1 && club !== undefined ? `, ${club}` : ""}
            {at < countShots ? <span className="quiet"> hit</span> : at === countShots ? <span> next</span> : null}
          </li>
        ))}
      </ol>
    </>
  );
}
