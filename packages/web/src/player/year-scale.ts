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
/** Room of a date in words. */
const DATE_PX = 62;

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
  const ends = [points[0], points.at(-1)].filter((point, k, all) => point !== undefined && all.indexOf(point) === k);
  const taken = ends.map((point) => x(point?.dayNumber ?? 0));
  const between = points.slice(1, -1).filter((point) => {
    const at = x(point.dayNumber);
    const isFree = taken.every((other) => Math.abs(other - at) > DATE_PX * 1.25);
    if (isFree) taken.push(at);
    return isFree;
  });
  return [...ends, ...between].flatMap((point, k) =>
    point === undefined
      ? []
      : [
          {
            x: x(point.dayNumber),
            text: dayText(point.day, k < ends.length ? "with year" : "without year"),
            anchor: ends.length === 1 || k > 1 ? ("middle" as const) : k === 0 ? ("start" as const) : ("end" as const),
          },
        ],
  );
}
