import type { MeasureRow } from "@underfoot/compare";
import { type ReactElement, useId, useState } from "react";
import { SentenceWords } from "../../shot/reading-view.tsx";
import { MarkShape, MeasureMarkView } from "./measure-mark.tsx";
import { bySize, type Mark, type MeasureMark, measureMark, type StepScale, stepScale } from "./measure-marks.ts";
import type { RowWords } from "./row-words.ts";

export interface MeasureRowsProps {
  readonly rows: readonly MeasureRow[];
  /** By column. */
  readonly words: ReadonlyMap<string, RowWords>;
  readonly title: string;
  /** What one step is. */
  readonly caption: string;
  readonly countLooks: number;
  /** "her", "his", "their". */
  readonly possessive: string;
}

/** So many stand in the list until all are asked for. */
const SHOWN_FIRST = 12;

/** Measures in steps of what leaves her scatter, the largest first. */
export function MeasureRows(props: MeasureRowsProps): ReactElement {
  const { rows, words, title, caption } = props;
  const id = useId();
  const [areAllShown, setAreAllShown] = useState(false);
  const sorted = bySize(rows);
  const shown = areAllShown ? sorted : sorted.slice(0, SHOWN_FIRST);
  const marks = shown.map(measureMark);
  const scale = stepScale(marks);
  return (
    <figure className="by-measure" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      <p className="caption">{caption}</p>
      <StepHead scale={scale} />
      <ol>
        {shown.map((row, k) => (
          <Row
            key={row.column}
            row={row}
            mark={marks[k] ?? measureMark(row)}
            scale={scale}
            words={words.get(row.column)}
          />
        ))}
      </ol>
      {rows.length > SHOWN_FIRST ? (
        <button type="button" className="btn" aria-pressed={areAllShown} onClick={() => setAreAllShown(!areAllShown)}>
          {areAllShown ? `The ${SHOWN_FIRST} largest` : `All ${rows.length} measures`}
        </button>
      ) : null}
      <Legend {...props} marks={marks} />
    </figure>
  );
}

function StepHead({ scale }: { readonly scale: StepScale }): ReactElement {
  const at = (step: number): { readonly left: string } => ({ left: `${100 * scale.share(step)}%` });
  return (
    <div className="step-head" aria-hidden="true">
      <div>
        <span className="less">B less</span>
        <span className="more">B more</span>
        {scale.ticks.map((tick) => (
          <span key={tick} className="tick" style={at(tick)}>
            {tick < 0 ? `−${-tick}` : tick}
          </span>
        ))}
      </div>
    </div>
  );
}

interface RowProps {
  readonly row: MeasureRow;
  readonly mark: MeasureMark;
  readonly scale: StepScale;
  readonly words: RowWords | undefined;
}

function Row({ row, mark, scale, words }: RowProps): ReactElement {
  return (
    <li className={mark.mark === "beyond" ? "beyond" : undefined} data-column={row.column}>
      <div className="measure-name">
        <span className="measure-title">{row.title}</span>
        <small>{words?.values}</small>
      </div>
      {words === undefined ? <div /> : <NumbersAtMark words={words} />}
      <MeasureMarkView mark={mark} scale={scale} />
    </li>
  );
}

/** Value and interval; their sentence with its rule on focus. */
function NumbersAtMark({ words }: { readonly words: RowWords }): ReactElement {
  const { difference, interval, slope, verdict, sentence, hints } = words;
  const beside = [interval, slope].filter((part) => part !== "").join("; ");
  const condition = [sentence.text, ...hints.map(({ text }) => text), sentence.condition].join(" ");
  return (
    <div className="measure-words">
      <b>{difference}</b>
      <small>
        <SentenceWords sentence={{ ...sentence, text: beside === "" ? verdict || "why" : beside, condition }} />
      </small>
      {beside === "" ? null : <span className="hidden">{verdict}</span>}
    </div>
  );
}

const MARK_ORDER: readonly Mark[] = ["beyond", "beyond-alone", "within", "too-few", "none", "bar"];

function markText(mark: Mark, kind: MeasureRow["kind"], countLooks: number): string {
  const words: Readonly<Record<Mark, string>> = {
    beyond: "beyond scatter",
    "beyond-alone": kind === "shot-usual" ? "outside the usual band" : `beyond, but not after ${countLooks} looks`,
    within: kind === "shot-usual" ? "usual" : "within scatter",
    "too-few": "too few to tell",
    none: "no verdict",
    bar: "one shot each: no verdict",
  };
  return words[mark];
}

/** What the marks that occur mean. */
function Legend({
  marks,
  rows,
  countLooks,
  possessive,
}: MeasureRowsProps & { readonly marks: readonly MeasureMark[] }): ReactElement {
  const [kind = "conditions"] = rows.map((row) => row.kind);
  const used = MARK_ORDER.filter((mark) => marks.some((one) => one.mark === mark));
  return (
    <ul className="mark-legend" aria-label="What the marks mean">
      {used.map((mark) => (
        <li key={mark}>
          <svg width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true">
            <MarkShape mark={mark} />
          </svg>
          {markText(mark, kind, countLooks)}
        </li>
      ))}
      {marks.some(({ hasBlock }) => hasBlock) ? (
        <li>
          <svg width="30" height="16" aria-hidden="true">
            <rect className="allowed" width="30" height="16" />
          </svg>
          {possessive} scatter
        </li>
      ) : null}
      {marks.some(({ slope }) => slope !== 0) ? (
        <li>
          <svg width="30" height="14" aria-hidden="true">
            <rect className="slope-bar" x="1" y="1" width="28" height="12" />
          </svg>
          slope share
        </li>
      ) : null}
    </ul>
  );
}
