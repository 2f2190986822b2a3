import type { SessionLineShape, SessionShape } from "@underfoot/protocol";
import { unitText } from "@underfoot/report";

type Plan = Pick<NonNullable<SessionShape["plan"]>, "drawn">;
type Condition = Pick<Plan["drawn"][number], "intent" | "lieName">;
export type Asked = NonNullable<SessionLineShape["asked"]>[number];

/** What a plan has for one cell. */
export interface PlannedCell {
  readonly count: number;
  /** "block 4, 9 shots" where the plan goes through its conditions one by one, else "9 shots, the first as shot 12". */
  readonly place: string;
}

const isSame = (one: Condition, other: Condition): boolean =>
  one.intent === other.intent && one.lieName === other.lieName;

const shotsText = (count: number): string => (count === 1 ? "1 shot" : `${count} shots`);

/** @returns undefined where the plan has no shot of this intent on this lie */
export function plannedCell({ drawn }: Plan, cell: Condition): PlannedCell | undefined {
  const first = drawn.findIndex((shot) => isSame(shot, cell));
  if (first < 0) return undefined;
  const count = drawn.filter((shot) => isSame(shot, cell)).length;
  // A block begins wherever the condition is another than that of the shot before.
  const starts = drawn.filter((shot, k) => k === 0 || !isSame(shot, drawn[k - 1] ?? { intent: "", lieName: "" }));
  const isByBlock =
    new Set(starts.map(({ intent, lieName }) => JSON.stringify([intent, lieName]))).size === starts.length;
  if (!isByBlock) return { count, place: `${shotsText(count)}, the first as shot ${first + 1}` };
  return { count, place: `block ${starts.findIndex((shot) => isSame(shot, cell)) + 1}, ${shotsText(count)}` };
}

/** What was asked of this measure with this intent; the more closely said goes before what holds for all intents. */
export function askedOfCell(
  asked: readonly Asked[],
  { measure, axes, intent }: { readonly measure: string; readonly axes: Asked["axes"]; readonly intent: string },
): Asked | undefined {
  const fitting = asked.filter(
    (one) =>
      one.measure === measure &&
      (one.axes === undefined || axes === undefined || one.axes === axes) &&
      (one.least !== undefined || one.most !== undefined),
  );
  return fitting.find((one) => one.intent === intent) ?? fitting.find((one) => one.intent === undefined);
}

/** "asked: 80 % or more", "asked: 70 % to 80 %", "nothing asked". */
export function askedText(asked: Asked | undefined, unit: string): string {
  const { least, most } = asked ?? {};
  const written = (value: number): string => unitText(value, unit).text;
  if (least !== undefined && most !== undefined) return `asked: ${written(least)} to ${written(most)}`;
  if (least !== undefined) return `asked: ${written(least)} or more`;
  return most === undefined ? "nothing asked" : `asked: ${written(most)} or less`;
}
