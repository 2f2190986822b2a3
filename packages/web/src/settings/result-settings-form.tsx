import type { Settings } from "@underfoot/mechanics";
import type { SettingsShape } from "@underfoot/protocol";
import { dayText } from "@underfoot/report";
import { type ReactElement, useState } from "react";
import { call } from "../api/call.ts";
import { useAnswer } from "../api/use-answer.ts";
import { useDeed } from "../api/use-deed.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { changedPart, enteredNumber, NUMBER_SETTINGS, SETTING_GROUPS, shownNumber } from "./result-settings.ts";

type Filter = Settings["filter"];

/** Numbers that results hang on. Nothing is recomputed before the sessions it concerns have been named. */
export function ResultSettings({ settings }: { readonly settings: SettingsShape }): ReactElement {
  const inForce = settings.mechanics as unknown as Settings;
  const defaults = settings.defaults as unknown as Settings;
  const [texts, setTexts] = useState<Readonly<Record<string, string>>>({});
  const [filter, setFilter] = useState<Filter>(inForce.filter);
  const deed = useDeed();
  const read = NUMBER_SETTINGS.filter(({ name }) => texts[name] !== undefined).map((setting) => ({
    setting,
    entered: enteredNumber(texts[setting.name] ?? "", setting),
  }));
  const faults = read.flatMap(({ entered }) => ("why" in entered ? [entered.why] : []));
  const entered = {
    filter,
    ...Object.fromEntries(
      read.flatMap(({ setting, entered: one }) => ("value" in one ? [[setting.name, one.value]] : [])),
    ),
  };
  const part = changedPart(entered, settings.mechanics, settings.defaults);
  const isChanged = Object.keys(part).length > 0;
  return (
    <section className="results" aria-labelledby="results-title">
      <h2 id="results-title">What results hang on</h2>
      <p className="small">Each of these changes numbers. Stored results keep the settings they were computed with.</p>
      <FilterField filter={filter} standard={defaults.filter} onFilter={setFilter} />
      {SETTING_GROUPS.map((group) => (
        <fieldset key={group} className="numbers">
          <legend>{group}</legend>
          {NUMBER_SETTINGS.filter((setting) => setting.group === group).map((setting) => {
            const standard = shownNumber(defaults[setting.name], setting.factor);
            const shown = texts[setting.name] ?? shownNumber(inForce[setting.name], setting.factor);
            return (
              <label key={setting.name} className="number">
                <span>{setting.word}</span>
                <input
                  inputMode="decimal"
                  value={shown}
                  onChange={({ target }) => setTexts({ ...texts, [setting.name]: target.value })}
                />
                <span className="unit">{setting.unit}</span>
                <span className="quiet">{shown === standard ? "default" : `default ${standard}`}</span>
              </label>
            );
          })}
        </fieldset>
      ))}
      {faults.length === 0 ? null : (
        <div className="fault" role="alert">
          {faults.map((why) => (
            <p key={why}>{why}</p>
          ))}
        </div>
      )}
      {isChanged ? <Reach /> : null}
      <FaultNote fault={deed.fault} />
      <p className="deeds">
        <button
          type="button"
          className="btn main"
          disabled={!isChanged || faults.length > 0 || deed.isBusy}
          onClick={() => deed.run(() => call("patch /api/settings", { json: { mechanics: part } }))}
        >
          Save these settings
        </button>
        <button
          type="button"
          className="btn"
          disabled={!isChanged && faults.length === 0}
          onClick={() => {
            setTexts({});
            setFilter(inForce.filter);
          }}
        >
          Leave as they were
        </button>
      </p>
    </section>
  );
}

function FilterField({
  filter,
  standard,
  onFilter,
}: {
  readonly filter: Filter;
  readonly standard: Filter;
  readonly onFilter: (filter: Filter) => void;
}): ReactElement {
  const cutoffHz = filter.kind === "butterworth" ? filter.cutoffHz : 25;
  return (
    <fieldset className="numbers">
      <legend>Filter of force and moment</legend>
      <label className="number">
        <span>Low-pass, forward and back</span>
        <select
          value={filter.kind}
          onChange={({ target }) =>
            onFilter(
              target.value === "butterworth"
                ? { kind: "butterworth", cutoffHz }
                : { kind: target.value as "residual" | "none" },
            )
          }
        >
          <option value="butterworth">Butterworth, 2nd order</option>
          <option value="residual">Butterworth, cut-off by residual analysis</option>
          <option value="none">none</option>
        </select>
        <span className="quiet">{filter.kind === standard.kind ? "default" : "default Butterworth"}</span>
      </label>
      {filter.kind === "butterworth" ? (
        <label className="number">
          <span>Cut-off</span>
          <input
            type="number"
            min={1}
            max={500}
            value={filter.cutoffHz}
            onChange={({ target }) =>
              onFilter({ kind: "butterworth", cutoffHz: Math.min(500, Math.max(1, Number(target.value))) })
            }
          />
          <span className="unit">Hz</span>
          <span className="quiet">{standard.kind === "butterworth" ? `default ${standard.cutoffHz}` : ""}</span>
        </label>
      ) : null}
    </fieldset>
  );
}

/** The sessions whose results a change would put out of date, named before it is made. */
function Reach(): ReactElement {
  const { answer, fault } = useAnswer("get /api/settings/reach", {}, ["result", "shot"]);
  if (answer === undefined) return <FaultNote fault={fault} />;
  if (answer.shots === 0) return <p>No shot is computed yet: nothing changes.</p>;
  return (
    <details open={answer.sessions.length <= 6}>
      <summary>
        {answer.shots} shots of {answer.sessions.length} sessions would be out of date until computed anew
      </summary>
      <ul className="small">
        {answer.sessions.map(({ id, day, playerCode, shots }) => (
          <li key={id}>{`${dayText(day)}, ${playerCode}: ${shots} shots`}</li>
        ))}
      </ul>
    </details>
  );
}
