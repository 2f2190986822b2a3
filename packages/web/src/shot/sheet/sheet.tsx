import type { SheetColumn, SheetModel } from "@underfoot/report";
import { type ReactElement, type ReactNode, useMemo } from "react";
import { useHeight, useWidth } from "../../frame/use-size.ts";
import type { Ruler } from "../ruler.ts";
import type { UsualBands } from "../usual/usual-bands.ts";
import { CopFall } from "./cop-fall.tsx";
import { EventLines, type EventLinesProps } from "./event-lines.tsx";
import { FallColumn } from "./fall-column.tsx";
import { Hatches } from "./hatches.tsx";
import { NoteLayer } from "./note-layer.tsx";
import { Plan } from "./plan.tsx";
import { RulerHandle, RulerSurface } from "./ruler-handle.tsx";
import { RulerOverlay } from "./ruler-overlay.tsx";
import { type ColumnRoom, columnRoom, type SheetLayout, sheetLayout } from "./sheet-layout.ts";
import { type SheetScale, sheetScale } from "./sheet-scale.ts";

export interface SheetProps {
  readonly model: SheetModel;
  readonly ruler: Ruler;
  readonly was: EventLinesProps["was"];
  /** Where one more shot of the condition is expected, by column. */
  readonly usual: UsualBands;
  /** The reading, which stands right of the plan where there is room and above it on a phone. */
  readonly reading: ReactNode;
  /** The sentence of the reading, for those who do not see the picture. */
  readonly sentence: string;
  /** On a phone: the column shown instead of the CoP's fall; undefined shows the CoP. */
  readonly tab: SheetColumn["id"] | undefined;
  /** On a phone: the choice of that column. */
  readonly tabs: ReactNode;
}

/** Plan on top, time falling beneath it, one set of event lines across everything, one ruler. */
export function Sheet({ model, ruler, was, usual, reading, sentence, tab, tabs }: SheetProps): ReactElement {
  const [frame, width] = useWidth();
  const [beside, besideHeight] = useHeight();
  const columns = useMemo(() => shownColumns(model.columns, width, tab), [model, width, tab]);
  const isPhone = columnRoom(width) === 1;
  const layout = useMemo(
    () => sheetLayout(width, columns.map(roomOf), isPhone ? 0 : besideHeight + ABOVE_HEADS_PX),
    [width, columns, besideHeight, isPhone],
  );
  const scale = useMemo(() => scaleOf(model, layout), [model, layout]);
  const besideLeft = layout.plan.x + layout.plan.width + 24;
  return (
    <div className={`sheet ${layout.shape}`} ref={frame}>
      <div
        className="beside"
        ref={beside}
        style={isPhone ? {} : { left: besideLeft, width: layout.width - besideLeft }}
      >
        {reading}
      </div>
      {isPhone ? tabs : null}
      {width === 0 ? null : (
        <RulerSurface model={model} layout={layout} scale={scale} ruler={ruler}>
          <SheetPicture {...{ model, columns, layout, scale, was, usual, sentence }} />
          <RulerOverlay model={model} columns={pairs(columns, layout)} layout={layout} scale={scale} ruler={ruler} />
          <NoteLayer
            model={model}
            was={was}
            columns={pairs(columns, layout)}
            isCopShown={!isPhone || columns.length === 0}
            layout={layout}
            scale={scale}
          />
          <RulerHandle model={model} layout={layout} scale={scale} ruler={ruler} />
        </RulerSurface>
      )}
    </div>
  );
}

interface SheetPictureProps {
  readonly model: SheetModel;
  readonly columns: readonly SheetColumn[];
  readonly layout: SheetLayout;
  readonly scale: SheetScale;
  readonly was: EventLinesProps["was"];
  readonly usual: UsualBands;
  readonly sentence: string;
}

/** What does not move with the ruler. */
function SheetPicture({ model, columns, layout, scale, was, usual, sentence }: SheetPictureProps): ReactElement {
  const shown = pairs(columns, layout);
  const isCopShown = layout.shape !== "phone" || columns.length === 0;
  return (
    <svg
      className="picture"
      width={layout.width}
      height={layout.height}
      role="img"
      aria-label={`Sheet of the shot. ${sentence}`}
    >
      <Hatches />
      {isCopShown ? <CopFall model={model} box={layout.copFall} scale={scale} /> : null}
      <Plan model={model} box={layout.plan} scale={scale} />
      {shown.map(({ column, box }) => (
        <FallColumn key={column.id} {...{ column, box, scale }} timesMs={model.timesMs} usual={usual[column.id]} />
      ))}
      <EventLines events={model.events} was={was} layout={layout} scale={scale} />
    </svg>
  );
}

/** Between the reading and the fall: the heads of the columns, less what the layout leaves below the plan. */
const ABOVE_HEADS_PX = 52;

/** Columns that give way first where there is no room for all. */
const GIVE_WAY: readonly SheetColumn["id"][] = ["travel", "ahead"];

function shownColumns(
  columns: readonly SheetColumn[],
  width: number,
  tab: SheetColumn["id"] | undefined,
): readonly SheetColumn[] {
  const room = columnRoom(width);
  if (room === 1) return columns.filter((column) => column.id === tab);
  if (columns.length <= room) return columns;
  const kept = [...columns]
    .sort((a, b) => Number(GIVE_WAY.includes(a.id)) - Number(GIVE_WAY.includes(b.id)))
    .slice(0, room);
  return columns.filter((column) => kept.includes(column));
}

/** Columns across which the peak stair runs. */
const STAIR: readonly SheetColumn["id"][] = ["push", "ahead", "up"];

/** The push carries areas on both sides of its base, and words; between two steps of the stair stand number and step. */
function roomOf(column: SheetColumn, k: number, columns: readonly SheetColumn[]): ColumnRoom {
  const before = columns[k - 1];
  const isStep = before !== undefined && STAIR.includes(before.id) && STAIR.includes(column.id);
  return { share: column.id === "push" ? 1.4 : 1, gapPx: isStep ? 50 : 26 };
}

function pairs(columns: readonly SheetColumn[], layout: SheetLayout) {
  return columns.flatMap((column, k) => {
    const box = layout.columns[k];
    return box === undefined ? [] : [{ column, box }];
  });
}

function scaleOf(model: SheetModel, layout: SheetLayout): SheetScale {
  const { plan, time } = model;
  const outlines = plan.soles.length > 0 ? plan.soles : plan.plates;
  return sheetScale(layout, {
    points: outlines.flatMap(({ outline }) => outline),
    startMs: time.startMs,
    endMs: time.endMs,
    isAheadDown: plan.isAheadDown,
  });
}
