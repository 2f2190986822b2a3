import { inMilliseconds } from "@underfoot/report";
import type { ReactElement } from "react";
import { type NoteWish, placedNotes } from "../../shot/sheet/placed-notes.ts";
import { type PairCurve, type PairGrid, pointAt } from "./pair-curves.ts";
import { bothDomain, boxX, differenceDomain, type PairBox, type PairLayout } from "./pair-layout.ts";

export interface PairNotesProps {
  readonly curves: readonly PairCurve[];
  readonly grid: PairGrid;
  readonly layout: PairLayout;
  readonly yPoint: (point: number) => number;
}

const ms = (value: number): string => inMilliseconds(value).text;

/** Where each stretch beyond begins and ends, in short lines. */
function stretchWishes(curve: PairCurve, box: PairBox, yPoint: PairNotesProps["yPoint"]): readonly NoteWish[] {
  const x = boxX(differenceDomain(curve), box);
  return curve.stretches.map(({ fromMs, toMs, firstPoint, lastPoint, side }): NoteWish => {
    const middle = Math.round((firstPoint + lastPoint) / 2);
    const [low, high] = [curve.allowedLow[middle] ?? 0, curve.allowedHigh[middle] ?? 0];
    const isAbove = side === "above";
    return {
      key: `${curve.column} ${fromMs}`,
      lines: ["beyond", `${inMilliseconds(fromMs).number} to`, ms(toMs)],
      x: isAbove ? x(low) : x(high),
      y: yPoint(middle),
      sides: isAbove ? ["left", "right"] : ["right", "left"],
      gapPx: 6,
      reachPx: 150,
    };
  });
}

/** Finds only that there is something about here, so it is a bracket beside the column and never an edge. */
function clusterWishes(
  { clusters = [], column }: PairCurve,
  { x, width }: PairBox,
  at: (ms: number) => number,
): readonly NoteWish[] {
  return clusters
    .filter(({ p }) => p <= LEVEL)
    .map(({ fromMs, toMs }) => ({
      key: `${column} cluster ${fromMs}`,
      lines: ["somewhere", "about here"],
      x: x + width,
      y: at((fromMs + toMs) / 2),
      sides: ["left" as const],
      gapPx: 10,
      reachPx: 150,
    }));
}

const LEVEL = 0.05;

/** Which line is A and which is B: at the place where they are farthest apart. */
function nameWishes(curve: PairCurve, box: PairBox, yPoint: PairNotesProps["yPoint"]): readonly NoteWish[] {
  const { meanA, meanB, column } = curve;
  const x = boxX(bothDomain(curve), box);
  const apart = meanA.map((value, q) => (q % NAME_STEP === 0 ? Math.abs(x(value) - x(meanB[q] ?? Number.NaN)) : -1));
  const farthest = apart.reduce((best, value, q) => (value > (apart[best] ?? -1) ? q : best), 0);
  const [a, b] = [x(meanA[farthest] ?? Number.NaN), x(meanB[farthest] ?? Number.NaN)];
  if (!Number.isFinite(a + b)) return [];
  const y = yPoint(farthest);
  const wish = (word: string, at: number, side: "left" | "right"): NoteWish => ({
    ...{ key: `${column} ${word}`, lines: [word], x: at, y },
    ...{ sides: [side], gapPx: 6, reachPx: 60 },
  });
  if (Math.abs(a - b) < NAMES_APART_PX) return [wish("A, B", Math.max(a, b), "right")];
  return a < b ? [wish("A", a, "left"), wish("B", b, "right")] : [wish("B", b, "left"), wish("A", a, "right")];
}

const NAME_STEP = 10;
const NAMES_APART_PX = 5;

/** All words that stand in the pairs, placed in one pass so that none covers another. */
export function PairNotes({ curves, grid, layout, yPoint }: PairNotesProps): ReactElement {
  const at = (time: number): number => yPoint(pointAt(grid, time));
  const shown = curves.flatMap((curve, k) => {
    const boxes = layout.pairs[k];
    return boxes === undefined ? [] : [{ curve, boxes }];
  });
  const wishes = [
    ...shown.flatMap(({ curve, boxes }) => stretchWishes(curve, boxes.difference, yPoint)),
    ...shown.flatMap(({ curve, boxes }) => clusterWishes(curve, boxes.difference, at)),
    ...shown.flatMap(({ curve, boxes }) => nameWishes(curve, boxes.both, yPoint)),
  ];
  const within = { left: layout.lineLeft, right: layout.width, top: layout.fallTop, bottom: layout.fallBottom };
  return (
    <g>
      {shown.map(({ curve, boxes }) =>
        (curve.clusters ?? [])
          .filter(({ p }) => p <= LEVEL)
          .map(({ fromMs, toMs }) => (
            <path
              key={`${curve.column} ${fromMs}`}
              className="cluster"
              d={`M${boxes.difference.x + boxes.difference.width - 6} ${at(fromMs)}h6V${at(toMs)}h-6`}
            />
          )),
      )}
      {placedNotes(wishes, [], within).map((note) =>
        note.lines.map((line, k) => (
          <text
            key={`${note.key} ${line}`}
            x={note.x}
            y={note.baseline + 15 * k}
            className={`note${note.anchor === "end" ? " end" : ""}${k === 0 ? " strong" : ""}`}
          >
            {line}
          </text>
        )),
      )}
      {shown.map(({ curve, boxes }) => (
        <SlopeWord key={curve.column} curve={curve} box={boxes.difference} bottom={layout.fallBottom} />
      ))}
    </g>
  );
}

/** What the hachure is, at its foot. */
function SlopeWord({
  curve,
  box,
  bottom,
}: {
  readonly curve: PairCurve;
  readonly box: PairBox;
  readonly bottom: number;
}): ReactElement | null {
  const x = boxX(differenceDomain(curve), box);
  const share = curve.slopeShare.at(-1) ?? 0;
  const [from, to] = [x(0), x(share)];
  if (!(Math.abs(to - from) >= 8)) return null;
  return (
    <text x={(from + to) / 2} y={bottom - 8} className="note strong middle slope">
      slope
    </text>
  );
}
