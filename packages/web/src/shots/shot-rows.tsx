import type { ShotLineShape } from "@underfoot/protocol";
import { dayText, lieNameText, resultText } from "@underfoot/report";
import type { ReactElement } from "react";
import { LieGlyph } from "../frame/lie-glyph.tsx";
import { placeHref } from "../frame/place.ts";
import { LABEL_WORDS, SEVERITY_WORDS } from "./fact-words.ts";

export interface ShotRowsProps {
  readonly rows: readonly ShotLineShape[];
  /** The facts they were found by, for the way from shot to shot. */
  readonly from: string;
  readonly chosen: ReadonlySet<string>;
  readonly onChoose: (ids: readonly string[], isChosen: boolean) => void;
}

/** Which row's link; arrows go from one to the next. */
export const ROW_LINK = "row-link";

interface RowProps extends Pick<ShotRowsProps, "from" | "onChoose"> {
  readonly row: ShotLineShape;
  readonly isChosen: boolean;
}

/** "Shot 8, 17 Mar 2026, Player B, stock". */
export const rowName = ({ ordinal, day, playerCode, fileName, intent }: ShotLineShape): string =>
  [ordinal > 0 ? `Shot ${ordinal}` : fileName, dayText(day), playerCode, intent]
    .filter((part) => part !== undefined)
    .join(", ");

function RowBox({ row, isChosen, onChoose }: RowProps): ReactElement {
  return (
    <label className="row-box">
      <span className="hidden">Choose {rowName(row)}</span>
      <input type="checkbox" checked={isChosen} onChange={({ target }) => onChoose([row.id], target.checked)} />
    </label>
  );
}

/** The row's link covers the whole row; Space chooses the row. */
function rowLink({ row, from, isChosen, onChoose }: RowProps, label?: string) {
  return {
    className: ROW_LINK,
    "aria-label": label,
    href: placeHref("shot", row.id, { from }),
    onKeyDown: (press: { readonly key: string; readonly preventDefault: () => void }) => {
      if (press.key !== " ") return;
      press.preventDefault();
      onChoose([row.id], !isChosen);
    },
  };
}

function LabelWord({ label }: Pick<ShotLineShape, "label">): ReactElement {
  return (
    <span className="label-word">
      <i aria-hidden="true" className={`label-mark ${label}`} />
      {LABEL_WORDS[label]}
    </span>
  );
}

function Severity({ severity }: { readonly severity: ShotLineShape["worstSeverity"] }): ReactElement | null {
  return severity === undefined ? null : (
    <span className="severity">
      <i aria-hidden="true" className={`severity-mark ${severity}`} />
      {SEVERITY_WORDS[severity]}
    </span>
  );
}

function LieWords({ row }: { readonly row: ShotLineShape }): ReactElement | null {
  const words = lieNameText(row);
  if (words === undefined) return null;
  return (
    <span className="lie-words">
      <LieGlyph pitchDeg={row.pitchDeg ?? 0} />
      {words}
    </span>
  );
}

/** One line a shot, the whole row its link. */
export function ShotTable({ rows, from, chosen, onChoose }: ShotRowsProps): ReactElement {
  const areAllChosen = rows.every(({ id }) => chosen.has(id));
  return (
    <table className="shot-table">
      <thead>
        <tr>
          <th scope="col">
            <label className="row-box">
              <span className="hidden">Choose all shots shown</span>
              <input
                type="checkbox"
                checked={areAllChosen}
                onChange={({ target }) =>
                  onChoose(
                    rows.map(({ id }) => id),
                    target.checked,
                  )
                }
              />
            </label>
          </th>
          {["Day", "Shot", "Player", "Intent", "Lie", "Club", "Strike, start line, carry", "Counts", "Finding"].map(
            (head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => {
          const props = { row, from, onChoose, isChosen: chosen.has(row.id) };
          return (
            <tr key={row.id} className={props.isChosen ? "chosen" : undefined}>
              <td>
                <RowBox {...props} />
              </td>
              <td>
                <a {...rowLink(props, rowName(row))}>{dayText(row.day)}</a>
              </td>
              <td className="ordinal">{row.ordinal > 0 ? row.ordinal : ""}</td>
              <td>{row.playerCode}</td>
              <td>{row.intent ?? <span className="quiet">{row.fileName}</span>}</td>
              <td>
                <LieWords row={row} />
              </td>
              <td>{row.club}</td>
              <td>{resultText(row)}</td>
              <td>
                <LabelWord label={row.label} />
              </td>
              <td>
                <Severity severity={row.worstSeverity} />
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** Two lines a shot, where there is no room for a table. */
export function ShotList({ rows, from, chosen, onChoose }: ShotRowsProps): ReactElement {
  return (
    <ol className="shot-list">
      {rows.map((row) => {
        const props = { row, from, onChoose, isChosen: chosen.has(row.id) };
        const rest = [dayText(row.day), row.playerCode, resultText(row)].filter((part) => part !== undefined);
        return (
          <li key={row.id} className={props.isChosen ? "chosen" : undefined}>
            <RowBox {...props} />
            <a {...rowLink(props)}>
              <span className="line">
                <b>{row.ordinal > 0 ? `Shot ${row.ordinal}` : row.fileName}</b>
                {row.intent === undefined ? null : <span>{row.intent}</span>}
                <LieWords row={row} />
                {row.club === undefined ? null : <span>{row.club}</span>}
                {row.label === "kept" ? null : <LabelWord label={row.label} />}
                {row.worstSeverity === "note" ? null : <Severity severity={row.worstSeverity} />}
              </span>
              <span className="line quiet">
                {rest.map((part, k) => (
                  <span key={part}>{k < rest.length - 1 ? `${part},` : part}</span>
                ))}
              </span>
            </a>
          </li>
        );
      })}
    </ol>
  );
}
