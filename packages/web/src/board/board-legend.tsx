import type { Board } from "@underfoot/compare";
import type { PlayerShape } from "@underfoot/protocol";
import type { ReactElement } from "react";
import { MarkShape } from "../compare/measures/measure-mark.tsx";
import { POSSESSIVES } from "../player/pronoun-words.ts";
import { lineOf } from "./cell-scale.ts";

export interface BoardLegendProps {
  readonly board: Board;
  readonly pronoun: PlayerShape["pronoun"];
}

/** What the marks mean, and how the cells are to be read. */
export function BoardLegend({ board, pronoun }: BoardLegendProps): ReactElement {
  const possessive = POSSESSIVES[pronoun];
  const curve = board.cells.flatMap((cell) => cell.curve ?? [])[0];
  const stroke = `var(--${lineOf(board.measure).token})`;
  const marks = [
    ["beyond", `beyond ${possessive} scatter, against flat`],
    ["beyond-alone", "beyond alone, not after allowing for looks"],
    ["within", "within"],
    ["too-few", "too few to tell"],
  ] as const;
  return (
    <>
      <p className="caption">
        {curve === undefined
          ? "Every kept shot is a dot, in the order they were hit; the line is their mean."
          : `${curve.title}: time falls from 700 ms before impact to 300 ms after it, one scale for all cells. The line is the mean. Lines across: top dotted, delivery thin, impact in full ink.`}{" "}
        Grey is where one more shot of that cell is expected; below 5 kept shots there is none.
      </p>
      <ul className="board-legend">
        <li>
          <svg width="36" height="16" aria-hidden="true">
            <rect width="36" height="16" className="allowed" />
            <path d="M0 8H36" className="curve" stroke={stroke} />
          </svg>
          mean and usual band
        </li>
        <li>
          <svg width="36" height="16" aria-hidden="true">
            <path d="M0 8H36" className="flat-ghost" />
          </svg>
          same intent, flat
        </li>
        {marks.map(([mark, words]) => (
          <li key={mark}>
            <svg width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true">
              <MarkShape mark={mark} />
            </svg>
            {words}
          </li>
        ))}
        <li>
          <svg width="36" height="18" aria-hidden="true">
            <path d="M36 1H2V17H36" className="asked-bracket" />
          </svg>
          asked, open toward what is allowed
        </li>
        <li>
          <svg width="24" height="14" className="tally" aria-hidden="true">
            <path d="M2 0V14M7 0V14M12 0V14" className="stroke" />
            <path d="M17 0V14M22 0V14" className="stroke open" />
          </svg>
          kept, still planned
        </li>
        <li>
          <svg width="24" height="14" viewBox="-12 -7 24 14" aria-hidden="true">
            <circle cx="-6" r="4" className="struck" />
            <circle cx="6" r="4" className="struck hollow" />
          </svg>
          strike of a kept shot, of a mishit; the face as seen from the target
        </li>
      </ul>
    </>
  );
}
