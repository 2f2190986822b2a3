import type { ComparedMeasure, MeasureRow } from "@underfoot/compare";
import { differenceText, inMilliseconds, unitText } from "@underfoot/report";
import type { ReactElement, ReactNode } from "react";
import type { DrawnComparison } from "./drawn-comparison.ts";
import type { RowWords } from "./measures/row-words.ts";
import { type PairCurve, pointAt } from "./pairs/pair-curves.ts";

export interface AllNumbersProps {
  readonly drawn: DrawnComparison;
  /** By column. */
  readonly words: ReadonlyMap<string, RowWords>;
  readonly axesText: string;
}

/** Every number of the pictures, with units and uncertainty: no information is in a picture alone. */
export function AllNumbers({ drawn, words, axesText }: AllNumbersProps): ReactElement {
  return (
    <details className="all-numbers">
      <summary>Table of all numbers</summary>
      <WideTable caption={`Measures, ${axesText}`}>
        <MeasureTable rows={drawn.rows} words={words} />
      </WideTable>
      {drawn.curves.length === 0 || drawn.events.length === 0 ? null : (
        <WideTable caption={`Curves at the events, ${axesText}`}>
          <CurveTable drawn={drawn} />
        </WideTable>
      )}
    </details>
  );
}

function WideTable({ caption, children }: { readonly caption: string; readonly children: ReactNode }): ReactElement {
  return (
    // A wide table scrolls inside itself, so it must take the focus.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: scrollable regions need keyboard access.
    <section className="wide-table" tabIndex={0} aria-label={caption}>
      <table>
        <caption>{caption}</caption>
        {children}
      </table>
    </section>
  );
}

const HEADS = [
  "A",
  "B",
  "B minus A",
  "slope share",
  "less slope",
  "0.95 interval",
  "leaves scatter at",
  "p alone",
  "p with looks",
  "verdict",
] as const;

function MeasureTable({
  rows,
  words,
}: Pick<AllNumbersProps, "words"> & { readonly rows: readonly MeasureRow[] }): ReactElement {
  const isConditions = rows[0]?.kind === "conditions";
  const heads = isConditions ? HEADS : (["Values", "Apart", "Scatter", "Slope share", "Reading"] as const);
  return (
    <>
      <thead>
        <tr>
          <th scope="col">Measure</th>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.column}>
            <th scope="row">
              {row.title}
              {row.axes === undefined ? null : <small>{row.axes} axes</small>}
            </th>
            {row.kind === "conditions" ? (
              <ConditionCells row={row} verdict={words.get(row.column)?.verdict ?? ""} />
            ) : (
              <SingleCells words={words.get(row.column)} />
            )}
          </tr>
        ))}
      </tbody>
    </>
  );
}

const pText = (p: number): string => (Number.isNaN(p) ? "none" : p < 0.001 ? "below 0.001" : p.toFixed(3));

function ConditionCells({ row, verdict }: { readonly row: ComparedMeasure; readonly verdict: string }): ReactElement {
  const { unit, a, b, raw, freed, slopeShare, mdc } = row;
  const half = freed.kind === "withheld" ? row.a.sd : (freed.high - freed.low) / 2;
  const difference = (value: number): string =>
    Number.isNaN(value) ? "not known" : differenceText(value, unit, half).text;
  return (
    <>
      {[a, b].map((side, k) => (
        <td key={k === 0 ? "A" : "B"}>
          {Number.isNaN(side.mean) ? "not known" : unitText(side.mean, unit, (side.high - side.low) / 2 || half).text}
          <small>
            {side.n} shots{Number.isNaN(side.sd) ? "" : `, sd ${differenceText(side.sd, unit, side.sd).text}`}
          </small>
        </td>
      ))}
      <td>{difference(raw.kind === "withheld" ? b.mean - a.mean : raw.value)}</td>
      <td>{difference(slopeShare)}</td>
      <td>{freed.kind === "withheld" ? "withheld" : difference(freed.value)}</td>
      <td>
        {freed.kind === "withheld"
          ? "none"
          : `${differenceText(freed.low, unit, half).number} to ${differenceText(freed.high, unit, half).text}`}
      </td>
      <td>{difference(mdc)}</td>
      <td>{pText(row.p)}</td>
      <td>{pText(row.adjustedP)}</td>
      <td className="words">{verdict}</td>
    </>
  );
}

function SingleCells({ words }: { readonly words: RowWords | undefined }): ReactElement {
  const { values = "", difference = "", interval = "", slope = "", verdict = "" } = words ?? {};
  return (
    <>
      {[values, difference, interval, slope, verdict].map((text, k) => (
        <td key={["values", "apart", "scatter", "slope", "reading"][k]} className="words">
          {text === "" ? "none" : text}
        </td>
      ))}
    </>
  );
}

function CurveTable({ drawn }: { readonly drawn: DrawnComparison }): ReactElement {
  const { events, curves, grid } = drawn;
  return (
    <>
      <thead>
        <tr>
          <th scope="col">Curve</th>
          {events.map(({ event, label, ms }) => (
            <th key={event} scope="col">
              {label}
              <small>{inMilliseconds(ms).text}</small>
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {curves.map((curve) => (
          <tr key={curve.column}>
            <th scope="row">
              {curve.title}
              <small>A; B; B minus A; allowed</small>
            </th>
            {events.map(({ event, ms }) => (
              <CurveCell key={event} curve={curve} point={pointAt(grid, ms)} />
            ))}
          </tr>
        ))}
      </tbody>
    </>
  );
}

function CurveCell({ curve, point }: { readonly curve: PairCurve; readonly point: number }): ReactElement {
  const at = (values: readonly number[]): number => values[point] ?? Number.NaN;
  const [low, high] = [at(curve.allowedLow), at(curve.allowedHigh)];
  const half = Number.isFinite(high - low) ? (high - low) / 2 : undefined;
  const { unit } = curve;
  const value = (one: number): string => (Number.isNaN(one) ? "not known" : unitText(one, unit, half).text);
  const apart = at(curve.difference);
  return (
    <td>
      {value(at(curve.meanA))}; {value(at(curve.meanB))}
      <small>
        {Number.isNaN(apart) ? "" : differenceText(apart, unit, half).text}
        {half === undefined
          ? ""
          : `; ${differenceText(low, unit, half).number} to ${differenceText(high, unit, half).text}`}
      </small>
    </td>
  );
}
