import { CATALOGUE, type CatalogueEntry, catalogueEntry } from "@underfoot/mechanics";
import type { ReactElement } from "react";
import { MeasureChoice } from "../../player/measure-choice.tsx";
import { ChoiceField, NumberField } from "../fields.tsx";
import { rangeFault, type SessionPlanShape } from "./plan-grid.ts";

export interface AskedListProps {
  readonly plan: SessionPlanShape;
  readonly onPlan: (make: (plan: SessionPlanShape) => SessionPlanShape) => void;
}

type Asked = SessionPlanShape["asked"][number];

/** Offered first: how much of the load is on the lead foot at delivery. */
export const FIRST_MEASURE = "lead.share.at.delivery";

export function entryOf(id: string): CatalogueEntry {
  const entry = catalogueEntry(id) ?? CATALOGUE[0];
  if (entry === undefined) throw new RangeError("the catalogue of measures is empty");
  return entry;
}

const withAxes = (measure: string, axes: "turf" | "level" | undefined) =>
  axes === undefined ? { measure } : { measure, axes };

/** Measures that the player is asked to bring into a range. */
export function AskedList({ plan, onPlan }: AskedListProps): ReactElement {
  const change = (at: number, asked: Asked | undefined): void =>
    onPlan((before) => ({
      ...before,
      asked: asked === undefined ? before.asked.toSpliced(at, 1) : before.asked.with(at, asked),
    }));
  const intents = [...new Set(plan.conditions.map(({ intent }) => intent))];
  return (
    <div className="asked-list">
      {plan.asked.map((asked, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: what is asked is its place in the list; all of it can change there.
        <fieldset key={at} className="plan-group">
          <legend>Asked {at + 1}</legend>
          <AskedFields asked={asked} intents={intents} onAsked={(said) => change(at, said)} />
          <button type="button" className="btn" onClick={() => change(at, undefined)}>
            Take out<span className="hidden"> what is asked {at + 1}</span>
          </button>
        </fieldset>
      ))}
      <button
        type="button"
        className="btn"
        disabled={plan.asked.length >= 20}
        onClick={() => onPlan((before) => ({ ...before, asked: [...before.asked, { measure: FIRST_MEASURE }] }))}
      >
        Ask for a measure
      </button>
    </div>
  );
}

interface AskedFieldsProps {
  readonly asked: Asked;
  readonly intents: readonly string[];
  readonly onAsked: (asked: Asked) => void;
}

function AskedFields({ asked, intents, onAsked }: AskedFieldsProps): ReactElement {
  const entry = entryOf(asked.measure);
  const { least, most, intent } = asked;
  const unit = entry.unit === "1" ? "no unit" : entry.unit;
  const said = (part: {
    readonly least?: number | undefined;
    readonly most?: number | undefined;
    readonly intent?: string | undefined;
  }): void => {
    const next = { least, most, intent, ...part };
    onAsked({
      ...withAxes(asked.measure, asked.axes),
      ...(next.least === undefined ? {} : { least: next.least }),
      ...(next.most === undefined ? {} : { most: next.most }),
      ...(next.intent === undefined ? {} : { intent: next.intent }),
    });
  };
  const fault = rangeFault(least, most);
  return (
    <>
      <MeasureChoice
        entry={entry}
        axes={asked.axes}
        onChoice={({ id }, axes) => onAsked({ ...withAxes(id, axes), ...(intent === undefined ? {} : { intent }) })}
      />
      <div className="fields">
        <NumberField label={`At least, ${unit}`} value={least} onValue={(value) => said({ least: value })} />
        <NumberField label={`At most, ${unit}`} value={most} onValue={(value) => said({ most: value })} />
        <ChoiceField
          label="Of"
          value={intent}
          none="every intent"
          choices={[...new Set([...intents, ...(intent === undefined ? [] : [intent])])].map((word) => [word, word])}
          onValue={(word) => said({ intent: word === "" ? undefined : word })}
        />
      </div>
      {fault === undefined ? null : <p className="small">{fault}</p>}
    </>
  );
}
