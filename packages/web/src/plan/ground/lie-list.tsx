import { inDegrees } from "@underfoot/report";
import type { ReactElement } from "react";
import { LieGlyph } from "../../frame/lie-glyph.tsx";
import { ChoiceField, NumberField, TextField } from "../fields.tsx";
import { type PlanLie, type SessionPlanShape, withLie, withoutLie } from "../order/plan-grid.ts";

export interface LieListProps {
  readonly plan: SessionPlanShape;
  readonly onPlan: (make: (plan: SessionPlanShape) => SessionPlanShape) => void;
  readonly shown: string | undefined;
  readonly onShown: (name: string) => void;
}

/** One sigma of an inclinometer read by hand, degrees (common practice, no source). */
const READ_SD_DEG = 0.2;

/** A lie to begin with, under a name that is free. */
function nextLie(lies: readonly PlanLie[]): PlanLie {
  const names = lies.map(({ name }) => name);
  const free = ["flat", ...Array.from({ length: lies.length + 1 }, (_, k) => `lie ${k + 2}`)];
  const name = free.find((word) => !names.includes(word)) ?? "lie";
  return { name, pitchDeg: 0, rollDeg: 0, source: "inclinometer", sdDeg: READ_SD_DEG };
}

/** The lies of the day with their two angles; the chosen one is drawn. */
export function LieList({ plan, onPlan, shown, onShown }: LieListProps): ReactElement {
  return (
    <div className="lies">
      {plan.lies.length === 0 ? (
        <p className="quiet">No lie yet. Add the ones that are hit from, the flat one too.</p>
      ) : null}
      {plan.lies.map((lie, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a lie is its place in the list; its name is being changed in it.
        <div key={at} className="lie-row">
          <button
            type="button"
            className="lie-name"
            aria-expanded={lie.name === shown}
            onClick={() => onShown(lie.name === shown ? "" : lie.name)}
          >
            <LieGlyph pitchDeg={lie.pitchDeg} />
            <b>{lie.name}</b> <span className="quiet">{anglesText(lie)}</span>
          </button>
          {lie.name === shown ? (
            <>
              <LieFields
                lie={lie}
                taken={plan.lies.filter((_, k) => k !== at).map(({ name }) => name)}
                onLie={(changed) => {
                  onPlan((before) => withLie(before, at, changed));
                  onShown(changed.name);
                }}
              />
              <button type="button" className="btn" onClick={() => onPlan((before) => withoutLie(before, at))}>
                Take {lie.name} out
              </button>
            </>
          ) : null}
        </div>
      ))}
      <button
        type="button"
        className="btn"
        onClick={() => {
          const lie = nextLie(plan.lies);
          onPlan((before) => withLie(before, before.lies.length, lie));
          onShown(lie.name);
        }}
      >
        Add a lie
      </button>
    </div>
  );
}

/** "pitch 5.0°, roll 0.0°". */
const anglesText = ({ pitchDeg, rollDeg }: PlanLie): string =>
  `pitch ${inDegrees(pitchDeg).text}, roll ${inDegrees(rollDeg).text}`;

interface LieFieldsProps {
  readonly lie: PlanLie;
  readonly taken: readonly string[];
  readonly onLie: (lie: PlanLie) => void;
}

function LieFields({ lie, taken, onLie }: LieFieldsProps): ReactElement {
  return (
    <div className="fields">
      <TextField
        label="Name of the lie"
        value={lie.name}
        isRequired
        most={100}
        onValue={(name) => name !== undefined && !taken.includes(name) && onLie({ ...lie, name })}
      />
      <NumberField
        label="Pitch, °, + rises to the target"
        value={lie.pitchDeg}
        min={-30}
        max={30}
        onValue={(pitchDeg = 0) => onLie({ ...lie, pitchDeg })}
      />
      <NumberField
        label="Roll, °, + rises to the ball"
        value={lie.rollDeg}
        min={-30}
        max={30}
        onValue={(rollDeg = 0) => onLie({ ...lie, rollDeg })}
      />
      <ChoiceField
        label="Known from"
        value={lie.source}
        choices={[
          ["inclinometer", "an inclinometer"],
          ["stance", "the quiet stance"],
          ["assumed", "assumed"],
        ]}
        onValue={(source) => onLie({ ...lie, source })}
      />
      <NumberField
        label="Sure to, ± °"
        value={lie.sdDeg}
        min={0}
        max={10}
        onValue={(sdDeg = READ_SD_DEG) => onLie({ ...lie, sdDeg })}
      />
    </div>
  );
}
