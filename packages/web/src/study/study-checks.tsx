import type { Study, StudyMeasure } from "@underfoot/compare";
import { differenceText } from "@underfoot/report";
import type { ReactElement, ReactNode } from "react";
import { CopyButton } from "../frame/copy-button.tsx";
import { Residuals } from "./residuals.tsx";
import { playersCsv, shotsCsv } from "./study-csv.ts";
import { agreementText, pText } from "./study-words.ts";

export interface StudyChecksProps {
  readonly study: Study;
  readonly row: StudyMeasure;
}

/** Whether the numbers may be trusted: shots in every cell, both analyses, what is left; then the exact table. */
export function StudyChecks({ study, row }: StudyChecksProps): ReactElement {
  return (
    <section aria-label="Checks">
      <h2>Checks</h2>
      <div className="study-checks">
        <Cells study={study} />
        <Analyses row={row} />
        <Residuals study={study} row={row} />
      </div>
      <Exact study={study} row={row} />
    </section>
  );
}

/** So few shots say little of a player. */
const FEW_IN_CELL = 3;

function Cells({ study }: { readonly study: Study }): ReactElement {
  const { cells, a, b } = study;
  const missing = cells.flatMap(({ countA, countB }) => [countA, countB]).filter((count) => count === 0).length;
  return (
    <div>
      <h3>Shots in each cell</h3>
      <p className="caption">
        {missing === 0 ? "No cell is empty." : `${missing} ${missing === 1 ? "cell is" : "cells are"} empty.`} Kept
        shots only.
      </p>
      <Wide label="Shots in each cell">
        <thead>
          <tr>
            <th scope="col">Player</th>
            {[a, b].map((name, k) => (
              <th key={k === 0 ? "A" : "B"} scope="col" className="number">
                {k === 0 ? "A" : "B"}: {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {cells.map(({ player, countA, countB }) => (
            <tr key={player}>
              <th scope="row">{player}</th>
              {[countA, countB].map((count, k) => (
                <td key={k === 0 ? "A" : "B"}>
                  {count === 0 ? "none" : count}
                  {count > 0 && count < FEW_IN_CELL ? <small>few</small> : null}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </Wide>
    </div>
  );
}

function Analyses({ row }: { readonly row: StudyMeasure }): ReactElement {
  const { model, twoStage, unit, comparison } = row;
  const between = comparison.kind === "between-players" ? comparison.contrasts[0]?.difference : undefined;
  if (model === undefined && twoStage === undefined && between === undefined)
    return (
      <div>
        <h3>Analyses over players</h3>
        <p className="caption">{agreementText(row)}</p>
      </div>
    );
  return (
    <div>
      <h3>{between === undefined ? "Both analyses" : "Analyses over players"}</h3>
      <p className="caption">{agreementText(row)}</p>
      <Wide label="Both analyses">
        <thead>
          <tr>
            <th scope="col">By</th>
            <th scope="col" className="number">
              Difference
            </th>
            <th scope="col" className="number">
              p
            </th>
          </tr>
        </thead>
        <tbody>
          {model === undefined ? null : (
            <Analysis name="the model" detail={`${model.nu.toFixed(1)} degrees of freedom`} {...{ unit, ...model }} />
          )}
          {twoStage === undefined ? null : (
            <Analysis
              name="player by player"
              detail={`t over ${twoStage.n} players; ${twoStage.countSameDirection} in that direction`}
              {...{ unit, ...twoStage }}
            >
              <small>signs turned: {pText(twoStage.pFlips)}</small>
            </Analysis>
          )}
          {between === undefined || between.kind === "withheld" ? null : (
            <Analysis name="means of players" detail="players as units" {...{ unit, ...between }} />
          )}
        </tbody>
      </Wide>
      {Number.isNaN(row.adjustedP) ? null : (
        <p className="caption">
          Quoted: {pText(row.quotedP)}; after allowing for all measures looked at: {pText(row.adjustedP)}.
        </p>
      )}
    </div>
  );
}

interface AnalysisProps {
  readonly name: string;
  readonly detail: string;
  readonly unit: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly p: number;
  readonly children?: ReactNode;
}

function Analysis({ name, detail, unit, value, low, high, p, children }: AnalysisProps): ReactElement {
  const half = (high - low) / 2;
  return (
    <tr>
      <th scope="row">
        {name}
        <small>{detail}</small>
      </th>
      <td>
        {differenceText(value, unit, half).text}
        <small>
          {differenceText(low, unit, half).number} to {differenceText(high, unit, half).text}
        </small>
      </td>
      <td>
        {pText(p)}
        {children}
      </td>
    </tr>
  );
}

function Exact({ study, row }: StudyChecksProps): ReactElement {
  const { unit, decimals, players, model } = row;
  const digits = decimals + 2;
  const number = (value: number | undefined): string =>
    value === undefined || Number.isNaN(value) ? "none" : value.toFixed(digits).replace("-", "−");
  const unitWord = differenceText(2, unit).unit;
  return (
    <details className="study-exact">
      <summary>The exact table behind it</summary>
      <div className="deeds">
        <CopyButton word="Copy players as CSV" text={() => playersCsv(study, row)} />
        <CopyButton word="Copy shots as CSV" text={() => shotsCsv(study, row)} />
      </div>
      <Wide label={`${row.title}, B minus A, in ${unitWord}`}>
        <caption>
          {row.title}, {study.b} minus {study.a}, in {unitWord}
          {row.axes === undefined ? "" : `, ${row.axes} axes`}
        </caption>
        <thead>
          <tr>
            <th scope="col">Player</th>
            {["shots A", "shots B", "own", "own from", "own to", "pulled", "pulled from", "pulled to"].map((head) => (
              <th key={head} scope="col" className="number">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {players.map(({ player, n, own, ownLow, ownHigh, pulled }) => (
            <tr key={player}>
              <th scope="row">{player}</th>
              <td>{n[0]}</td>
              <td>{n[1]}</td>
              <td>{number(own)}</td>
              <td>{number(ownLow)}</td>
              <td>{number(ownHigh)}</td>
              <td>{number(pulled?.value)}</td>
              <td>{number(pulled?.low)}</td>
              <td>{number(pulled?.high)}</td>
            </tr>
          ))}
          {model === undefined ? null : (
            <tr>
              <th scope="row">group, by the model</th>
              <td colSpan={5} />
              <td>{number(model.value)}</td>
              <td>{number(model.low)}</td>
              <td>{number(model.high)}</td>
            </tr>
          )}
        </tbody>
      </Wide>
      <p className="caption">Seed {study.seed}: the same question gives the same answer.</p>
    </details>
  );
}

function Wide({ label, children }: { readonly label: string; readonly children: ReactNode }): ReactElement {
  return (
    // A wide table scrolls inside itself, so it must take the focus.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: scrollable regions need keyboard access.
    <section className="wide-table" tabIndex={0} aria-label={label}>
      <table>{children}</table>
    </section>
  );
}
