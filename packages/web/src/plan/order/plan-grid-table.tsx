import { INTENTS } from "@underfoot/domain";
import type { ClubShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { ChoiceField, NumberField } from "../fields.tsx";
import { planGrid, type SessionPlanShape, withClub, withCount, withoutIntent } from "./plan-grid.ts";

export interface PlanGridTableProps {
  readonly plan: SessionPlanShape;
  readonly onPlan: (make: (plan: SessionPlanShape) => SessionPlanShape) => void;
  readonly clubs: readonly ClubShape[];
}

const EACH = "each its own";

/** Intents down, lies across, how many shots in each cell. */
export function PlanGridTable({ plan, onPlan, clubs }: PlanGridTableProps): ReactElement {
  const [offered, setOffered] = useState<readonly string[]>([]);
  const [isClubEach, setIsClubEach] = useState(false);
  const grid = planGrid(plan, offered);
  const [clubOfNew, setClubOfNew] = useState<string>();
  const club = grid.club ?? clubOfNew;
  const clubChoices = [
    ...new Set([...clubs.map(({ name }) => name), ...plan.conditions.flatMap((one) => one.club ?? [])]),
  ];
  const showsEach = isClubEach || !grid.hasOneClub;
  if (plan.lies.length === 0) return <p className="quiet">The grid opens with the first lie, under Plates and lie.</p>;
  return (
    <>
      <ChoiceField
        label="Club"
        value={showsEach ? EACH : club}
        none="not said"
        choices={[...clubChoices.map((name) => [name, name] as const), [EACH, "each condition its own"]]}
        onValue={(name) => {
          setIsClubEach(name === EACH);
          if (name === EACH) return;
          setClubOfNew(name === "" ? undefined : name);
          if (plan.conditions.length > 0) onPlan((before) => withClub(before, name));
        }}
      />
      {grid.intents.length === 0 ? null : (
        <div className="wide-table">
          <GridTable
            {...{ grid, clubChoices, showsEach }}
            onCount={(at) => onPlan((before) => withCount(before, { ...at, club: showsEach ? undefined : club }))}
            onClub={(name, at) => onPlan((before) => withClub(before, name, at))}
            onGone={(intent) => {
              setOffered(offered.filter((word) => word !== intent));
              onPlan((before) => withoutIntent(before, intent));
            }}
          />
        </div>
      )}
      <AddIntent there={grid.intents} onIntent={(intent) => setOffered([...grid.intents, intent])} />
    </>
  );
}

interface GridTableProps {
  readonly grid: ReturnType<typeof planGrid>;
  readonly clubChoices: readonly string[];
  readonly showsEach: boolean;
  readonly onCount: (at: { intent: string; lieName: string; count: number }) => void;
  readonly onClub: (name: string, at: { intent: string; lieName: string }) => void;
  readonly onGone: (intent: string) => void;
}

function GridTable({ grid, clubChoices, showsEach, onCount, onClub, onGone }: GridTableProps): ReactElement {
  return (
    <table className="plan-grid" data-clubs={showsEach}>
      <caption className="hidden">Shots of each intent on each lie</caption>
      <thead>
        <tr>
          <th scope="col">Intent</th>
          {grid.lies.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
          <th scope="col">Shots</th>
        </tr>
      </thead>
      <tbody>
        {grid.cells.map(({ intent, cells, total }) => (
          <tr key={intent}>
            <th scope="row">
              <span className="intent-word">{intent}</span>
              <button type="button" className="take-out" onClick={() => onGone(intent)}>
                Take out<span className="hidden"> {intent}</span>
              </button>
            </th>
            {cells.map(({ lieName, count, club }) => (
              <td key={lieName}>
                <NumberField
                  label={`${intent} on ${lieName}, shots`}
                  isLabelHidden
                  value={count}
                  min={0}
                  max={500}
                  step={1}
                  onValue={(said = 0) => onCount({ intent, lieName, count: said })}
                />
                {showsEach && count > 0 ? (
                  <ChoiceField
                    label={`Club for ${intent} on ${lieName}`}
                    isLabelHidden
                    value={club}
                    none="no club"
                    choices={clubChoices.map((name) => [name, name])}
                    onValue={(name) => onClub(name, { intent, lieName })}
                  />
                ) : null}
              </td>
            ))}
            <td className="total">{total}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">Shots</th>
          {grid.lies.map((name, column) => (
            <td key={name} className="total">
              {grid.lieTotals[column]}
            </td>
          ))}
          <td className="total whole">{grid.total}</td>
        </tr>
      </tfoot>
    </table>
  );
}

/** The offered words as buttons, and any other. */
function AddIntent({
  there,
  onIntent,
}: {
  readonly there: readonly string[];
  readonly onIntent: (intent: string) => void;
}): ReactElement {
  return (
    <form
      className="add-intent"
      aria-label="Add an intent"
      onSubmit={(event) => {
        event.preventDefault();
        const word = String(new FormData(event.currentTarget).get("intent") ?? "").trim();
        if (word !== "" && !there.includes(word)) onIntent(word);
        event.currentTarget.reset();
      }}
    >
      {INTENTS.filter((word) => !there.includes(word)).map((word) => (
        <button key={word} type="button" className="btn" onClick={() => onIntent(word)}>
          Add {word}
        </button>
      ))}
      <label className="field">
        <span>Another intent</span>
        <input name="intent" type="text" maxLength={100} autoComplete="off" />
      </label>
      <button type="submit" className="btn">
        Add
      </button>
    </form>
  );
}
