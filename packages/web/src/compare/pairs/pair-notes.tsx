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
  const wishes = shown.flatMap(({ curve, boxes }) => nameWishes(curve, boxes.both, yPoint));
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
      {shown.map(({ curve, boxes: { difference } }) => (
        <g key={curve.column}>
          <SlopeWord curve={curve} box={difference} bottom={layout.fallBottom} />
          {footLines(curve).map((line, k) => (
            <text
              key={line}
              x={difference.x + difference.width}
              y={layout.fallBottom + 18 + 16 * k}
              className={k === 0 ? "note end strong" : "note end"}
            >
              {line}
            </text>
          ))}
        </g>
      ))}
    </g>
  );
}

const span = (fromMs: number, toMs: number): string =>
  `${inMilliseconds(fromMs).number} to ${inMilliseconds(toMs).text}`;

/** When the difference is beyond, under its column; of long, weak differences only that there is one and about where. */
function footLines({ stretches, clusters = [] }: PairCurve): readonly string[] {
  const [one] = stretches;
  if (one !== undefined)
    return stretches.length === 1
      ? ["beyond", span(one.fromMs, one.toMs)]
      : [`beyond ${stretches.length} times`, `first ${span(one.fromMs, one.toMs)}`];
  const weak = clusters.find(({ p }) => p <= LEVEL);
  return weak === undefined ? [] : ["somewhere about", span(weak.fromMs, weak.toMs)];
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
