import type { ShotShape } from "@underfoot/protocol";
import {
  type ColumnKindId,
  DEFAULT_COLUMNS,
  type Pronoun,
  type ReadingOptions,
  readingFromShot,
  sheetModel,
  usualReading,
} from "@underfoot/report";
import { type ReactElement, type ReactNode, useEffect, useMemo, useState } from "react";
import { ColumnChoice } from "./column-choice.tsx";
import { FindingList, type ListedFinding } from "./finding-list.tsx";
import { MarkEntry } from "./mark-entry.tsx";
import { AllMeasures, FirstMeasures } from "./measure-list.tsx";
import { ReadingView, SentenceWords, useEscapeFromSentence } from "./reading-view.tsx";
import type { Ruler } from "./ruler.ts";
import type { EventLinesProps } from "./sheet/event-lines.tsx";
import { Sheet } from "./sheet/sheet.tsx";
import { SheetTableView } from "./sheet-table-view.tsx";
import { ColumnTabs, ShotDeeds, type ShotDeedsProps } from "./shot-deeds.tsx";
import { SoleFigure } from "./sole-figure.tsx";
import type { Mark } from "./source.ts";
import type { GoodOutcome } from "./use-outcome.ts";
import { useSheetModel } from "./use-sheet-model.ts";
import { useUsual } from "./usual/use-usual.ts";
import { type UsualBands, usualBands } from "./usual/usual-bands.ts";
import { usualSpot } from "./usual/usual-spot.ts";
import { UsualWords } from "./usual/usual-words.tsx";

export interface ShotPageProps extends Omit<ShotDeedsProps, "onColumns"> {
  /** Which recording is shown: a new one puts the ruler on its delivery. */
  readonly sourceId: string;
  readonly outcome: GoodOutcome;
  /** The same shot as it was before the marks; the outcome itself where there are none. */
  readonly before: GoodOutcome;
  readonly ruler: Ruler;
  /** The shot as the library has it; undefined for a file that is only looked at. */
  readonly storedShot: ShotShape | undefined;
  /** From the player's record; undefined: "the player". */
  readonly pronoun: Pronoun | undefined;
  readonly isMarking: boolean;
  readonly onMark: (mark: Mark) => void;
  /** Under the sheet: what became of the ball. */
  readonly result: ReactNode;
  /** At the end: what was done to the shot. */
  readonly done: ReactNode;
  /** What the library says of the shot besides what was computed here. */
  readonly findings: readonly ListedFinding[];
}

/** One shot: what happened when. */
export function ShotPage(props: ShotPageProps): ReactElement {
  const { outcome, before, axes, ruler, isMarking, sourceId, pronoun } = props;
  const { shot, measures } = outcome;
  const [columns, setColumns] = useState<readonly ColumnKindId[]>(DEFAULT_COLUMNS);
  const [isChoosing, setIsChoosing] = useState(false);
  const [tab, setTab] = useState<ColumnKindId>();
  const model = useSheetModel(outcome, axes, columns);
  const options = useMemo<ReadingOptions>(
    () => ({ axes, ...(pronoun === undefined ? {} : { pronoun }) }),
    [axes, pronoun],
  );
  const reading = useMemo(() => readingFromShot(shot, measures, options), [shot, measures, options]);
  const usual = useUsualOfShot(props, columns, model);
  const was = useMemo(() => eventsBefore(outcome, before), [outcome, before]);
  useEscapeFromSentence();
  useEffect(() => ruler.bound(rulerLimits(model)), [ruler, model]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: only another recording moves the ruler, a recomputation leaves it.
  useEffect(() => ruler.move(firstPlaceS(model)), [ruler, sourceId]);
  return (
    <>
      <div className="shot-body">
        <div className="proof">
          <Sheet
            model={model}
            ruler={ruler}
            was={was}
            usual={usual.bands}
            tab={tab}
            tabs={<ColumnTabs columns={model.columns} tab={tab} onTab={setTab} />}
            sentence={reading.headline?.text ?? model.caption}
            reading={
              <>
                <ReadingView shot={shot} reading={reading} options={options} ruler={ruler} />
                <UsualWords usual={usual.state} />
              </>
            }
          />
          <p className="caption">
            {[
              model.caption,
              ...model.fall.notes.map((note) => `${note[0]?.toUpperCase() ?? ""}${note.slice(1)}.`),
              ...usual.caption,
            ].join(" ")}
          </p>
          {reading.missing.length === 0 ? null : (
            <p className="caption">
              {reading.missing.map((sentence) => (
                <SentenceWords key={sentence.text} sentence={sentence} />
              ))}
            </p>
          )}
          {reading.cautions.length === 0 ? null : (
            <p className="safety">
              {reading.cautions.map((sentence) => (
                <SentenceWords key={sentence.text} sentence={sentence} />
              ))}
            </p>
          )}
        </div>
        <ShotDeeds {...props} onColumns={() => setIsChoosing(true)} />
        <aside className="side" aria-label="Lead foot and measures">
          <SoleFigure sole={model.sole} usual={usual.spot} />
          <FirstMeasures measures={measures} axes={axes} usual={usual.rows} />
        </aside>
      </div>
      {props.result}
      <FindingList findings={[...outcome.findings, ...props.findings]} />
      <details>
        <summary>Table of the sheet</summary>
        <SheetTableView table={model.table} />
      </details>
      <AllMeasures measures={measures} axes={axes} />
      {props.done}
      {isMarking ? (
        <MarkEntry model={model} ruler={ruler} onMark={props.onMark} onCancel={() => props.onMarking(false)} />
      ) : null}
      <p className="print-foot">
        {[
          outcome.facts.player,
          model.plan.lieText,
          `${axes} axes`,
          `${outcome.provenance.software} ${outcome.provenance.version}`,
        ]
          .filter((part) => part !== undefined)
          .join(", ")}
      </p>
      <ColumnChoice isOpen={isChoosing} columns={columns} onColumns={setColumns} onClose={() => setIsChoosing(false)} />
    </>
  );
}

const NOTHING_USUAL: UsualBands = {};

/** How the shot stands to the others of its condition: words, bands of the columns, the spot on the sole. */
function useUsualOfShot(
  { storedShot, axes, outcome: { shot } }: ShotPageProps,
  columns: readonly ColumnKindId[],
  model: ReturnType<typeof sheetModel>,
) {
  const state = useUsual(storedShot, axes, columns);
  const found = state?.kind === "found" ? state.found : undefined;
  const drawn = useMemo(() => {
    if (found === undefined) return { bands: NOTHING_USUAL, spot: undefined, rows: [], caption: [] };
    const bands = usualBands(found, model, shot);
    const spot = usualSpot(found, model.sole);
    const what = [
      ...(Object.keys(bands).length === 0 ? [] : ["Grey is where the curve"]),
      ...(spot === undefined ? [] : ["the dotted ellipse on the sole where the pressure at delivery"]),
    ].join(", ");
    const { length } = found.usual.shotIds;
    const caption =
      what === "" ? [] : [`${what} of one more such shot is expected, from ${length} others of this session.`];
    return { bands, spot, rows: usualReading(found).rows, caption };
  }, [found, model, shot]);
  return { state, ...drawn };
}

function rulerLimits(model: ReturnType<typeof sheetModel>) {
  const { zero, startMs, endMs } = model.time;
  return { firstS: zero.zeroS + startMs / 1000, lastS: zero.zeroS + endMs / 1000, frameS: 1 / model.rateHz };
}

/** Where the ruler stands when a shot is opened, seconds. */
function firstPlaceS({ events, time }: ReturnType<typeof sheetModel>): number {
  const event = ["delivery", "impact", "top"].flatMap(
    (name) => events.find((candidate) => candidate.event === name) ?? [],
  )[0];
  return time.zero.zeroS + (event?.timeMs ?? (time.startMs + time.endMs) / 2) / 1000;
}

/** "was −70 ms", "est. ±30" for each event whose time a mark replaced. */
function eventsBefore({ shot, measures }: GoodOutcome, before: GoodOutcome): EventLinesProps["was"] {
  if (before.shot === shot) return {};
  const old = sheetModel(before.shot, before.measures, { axes: "turf", columns: [] }).events;
  const now = sheetModel(shot, measures, { axes: "turf", columns: [] }).events;
  return Object.fromEntries(
    now.flatMap((event) => {
      const former = old.find((candidate) => candidate.event === event.event);
      const isReplaced = event.source === "marked" && former !== undefined && former.sourceText !== event.sourceText;
      return isReplaced ? [[event.event, [`was ${former.timeText}`, former.sourceText]]] : [];
    }),
  );
}
