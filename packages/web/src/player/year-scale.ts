import { dayText, type YearRow } from "@underfoot/report";

export interface YearScale {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly x: (dayNumber: number) => number;
  readonly y: (value: number) => number;
  readonly valueTicks: readonly number[];
  readonly dayTicks: readonly {
    readonly x: number;
    readonly text: string;
    readonly anchor: "start" | "middle" | "end";
  }[];
}

const LEFT_PX = 56;
const RIGHT_PX = 20;
const TOP_PX = 22;
const BOTTOM_PX = 26;
/** Room of "15 Apr 2025" and of "24 Jun", with a gap. */
const DATE_PX = 92;
const SHORT_DATE_PX = 56;

/** 1, 2 or 5 times a power of ten, at most `most` steps over the span. */
export function niceStep(span: number, most: number): number {
  const rough = span / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5, 10].find((factor) => factor * power >= rough * (1 - 1e-9)) ?? 10) * power;
}

function ticksIn(low: number, high: number, most: number): readonly number[] {
  const step = niceStep(high - low, most);
  const first = Math.ceil(low / step);
  const last = Math.floor(high / step);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, k) => (first + k) * step);
}

/** Days run right, the value up; one scale for everything drawn in a row. */
export function yearScale(row: YearRow, width: number, height: number): YearScale {
  const days = row.points.map(({ dayNumber }) => dayNumber);
  const [first = 0, last = 0] = [days[0], days.at(-1)];
  const inner = { left: LEFT_PX + 14, right: width - RIGHT_PX - 14 };
  const x = (day: number): number =>
    last === first
      ? (inner.left + inner.right) / 2
      : inner.left + ((day - first) / (last - first)) * (inner.right - inner.left);
  const { low, high } = row.domain;
  const bottom = height - BOTTOM_PX;
  const y = (value: number): number => bottom - ((value - low) / (high - low)) * (bottom - TOP_PX);
  return {
    width,
    height,
    left: LEFT_PX,
    right: width - RIGHT_PX,
    top: TOP_PX,
    bottom,
    x,
    y,
    valueTicks: ticksIn(low, high, 4),
    dayTicks: dayTicks(row, x),
  };
}

/** First and last day always, others where there is room. */
function dayTicks(row: YearRow, x: (day: number) => number): YearScale["dayTicks"] {
  const { points } = row;
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return [];
  if (first === last) return [{ x: x(first.dayNumber), text: dayText(first.day), anchor: "middle" }];
  const ends = [
    { x: x(first.dayNumber), text: dayText(first.day), anchor: "start" as const },
    { x: x(last.dayNumber), text: dayText(last.day), anchor: "end" as const },
  ];
  // What is taken: each label from its left to its right end.
  const taken = [
    [x(first.dayNumber), x(first.dayNumber) + DATE_PX],
    [x(last.dayNumber) - DATE_PX, x(last.dayNumber)],
  ];
  const between = points.slice(1, -1).flatMap((point) => {
    const at = x(point.dayNumber);
    const [from, to] = [at - SHORT_DATE_PX / 2, at + SHORT_DATE_PX / 2];
    if (taken.some(([left = 0, right = 0]) => from < right && to > left)) return [];
    taken.push([from, to]);
    return [{ x: at, text: dayText(point.day, "without year"), anchor: "middle" as const }];
  });
  return [...ends, ...between];
}
