import type { SheetColumn, SheetModel } from "@underfoot/report";
import { memo, type ReactElement } from "react";
import { shareWishes } from "./cop-fall.tsx";
import { type EventLinesProps, nameAreas } from "./event-lines.tsx";
import { columnX, inkOf } from "./fall-column.tsx";
import { PeakSteps, peakSteps, type ShownColumn } from "./peak-steps.tsx";
import { brokenInTwo, type NoteWish, placedNotes } from "./placed-notes.ts";
import type { Box, SheetLayout } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface NoteLayerProps {
  readonly model: SheetModel;
  readonly was: EventLinesProps["was"];
  readonly columns: readonly ShownColumn[];
  readonly isCopShown: boolean;
  readonly layout: SheetLayout;
  readonly scale: SheetScale;
}

interface Note extends NoteWish {
  readonly ink: string;
  readonly isPeak: boolean;
}

/** All words that stand in the columns, placed in one pass so that none covers another; words give way first.
 * They lie over the ruler's line, so that it never strikes a number through; the table says the same. */
export const NoteLayer = memo(function NoteLayer({
  model,
  was,
  columns,
  isCopShown,
  layout,
  scale,
}: NoteLayerProps): ReactElement {
  const steps = model.stair === undefined || columns.length < 2 ? [] : peakSteps(model.stair, columns, scale);
  const wishes = [
    ...columns.flatMap((shown) => columnWishes(shown, scale)),
    ...(isCopShown ? shareNotes(model, scale) : []),
  ];
  const within = {
    left: layout.eventNames === 0 && !isCopShown ? 100 : 0,
    right: layout.lineRight + 26,
    top: layout.fallTop - 4,
    bottom: layout.fallBottom + 4,
  };
  const taken = [...steps.map((step) => step.area), ...nameAreas({ events: model.events, was, layout, scale })];
  const byKey = new Map(wishes.map((wish) => [wish.key, wish]));
  return (
    <svg className="notes" width={layout.width} height={layout.height} aria-hidden="true">
      <PeakSteps steps={steps} />
      {placedNotes(wishes, taken, within).map((note) => (
        <g key={note.key}>
          {byKey.get(note.key)?.isPeak ? (
            <PeakPointer x={note.x} y={note.baseline - 4} anchor={note.anchor} ink={byKey.get(note.key)?.ink ?? ""} />
          ) : null}
          {note.lines.map((line, k) => (
            <text
              key={line}
              x={note.x}
              y={note.baseline + 15 * k}
              className={`note${note.anchor === "end" ? " end" : ""}${k === 0 ? " strong" : ""}`}
              style={{ fill: byKey.get(note.key)?.ink }}
            >
              {line}
            </text>
          ))}
        </g>
      ))}
      {columns.map(({ column, box }) => (
        <SlopeLabel key={column.id} column={column} box={box} />
      ))}
    </svg>
  );
});

const LONGEST_LINE = 14;
const KIND_ORDER = ["peak", "gain", "loss", "slope", "word"] as const;

function columnWishes({ column, box }: ShownColumn, scale: SheetScale): readonly Note[] {
  const x = columnX(column, box);
  const baseX = x(column.base?.value ?? column.zero);
  return [...column.notes]
    .filter((note) => note.kind !== "slope" && Number.isFinite(note.value))
    .sort((a, b) => KIND_ORDER.indexOf(a.kind) - KIND_ORDER.indexOf(b.kind))
    .map((note) => ({
      key: `${column.id} ${note.kind} ${note.timeMs}`,
      lines: brokenInTwo(note.text, LONGEST_LINE),
      x: note.kind === "peak" ? x(note.value) : Math.max(x(note.value), baseX),
      y: scale.yTime(note.timeMs),
      sides: note.kind === "peak" ? (["right", "left"] as const) : (["right"] as const),
      gapPx: note.kind === "peak" ? 17 : 8,
      reachPx: note.kind === "peak" ? 15 : 75,
      ink: inkOf(column.token),
      isPeak: note.kind === "peak",
    }));
}

const shareNotes = (model: SheetModel, scale: SheetScale): readonly Note[] =>
  shareWishes(model, scale).map((wish) => ({ ...wish, ink: "var(--ink)", isPeak: false }));

interface PeakPointerProps {
  readonly x: number;
  readonly y: number;
  readonly anchor: "start" | "end";
  readonly ink: string;
}

function PeakPointer({ x, y, anchor, ink }: PeakPointerProps): ReactElement {
  const path = anchor === "start" ? `M${x - 12} ${y}l9 -5v10Z` : `M${x + 12} ${y}l-9 -5v10Z`;
  return <path d={path} style={{ fill: ink }} />;
}

/** What the hachure is, at its foot. */
function SlopeLabel({ column, box }: { readonly column: SheetColumn; readonly box: Box }): ReactElement | null {
  if (column.base === undefined) return null;
  const x = columnX(column, box);
  return (
    <text
      x={(x(column.zero) + x(column.base.value)) / 2}
      y={box.y + box.height - 8}
      className="note strong middle slope"
    >
      {column.base.text}
    </text>
  );
}
