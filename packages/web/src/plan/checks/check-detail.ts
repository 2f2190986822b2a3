import type { FootOutlineFact } from "@underfoot/domain";

/** One number of a check against its limit. */
interface CheckPart {
  readonly name: string;
  readonly allowed: number;
  readonly found: number;
  readonly unit: string;
  readonly isPassed: boolean;
}

/** What a check found beside its worst number. */
export interface CheckDetail {
  readonly parts: readonly CheckPart[];
  readonly sentence: string | undefined;
  readonly remedy: string | undefined;
  readonly cautions: readonly string[];
  /** Of the check of outlines: each walked foot. */
  readonly outlines: readonly FootOutlineFact[];
}

type Fields = Readonly<Record<string, unknown>>;
const fieldsOf = (value: unknown): Fields => (typeof value === "object" && value !== null ? (value as Fields) : {});
const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
const textOf = (value: unknown): string | undefined => (typeof value === "string" && value !== "" ? value : undefined);

/** Reads what is kept beside a check; what an older or newer version kept otherwise is left out. */
export function checkDetail(detail: unknown): CheckDetail {
  const all = fieldsOf(detail);
  const inner = fieldsOf(all["detail"]);
  return {
    parts: listOf(all["parts"]).flatMap(partOf),
    sentence: textOf(all["sentence"]),
    remedy: textOf(all["remedy"]),
    cautions: listOf(all["cautions"]).flatMap((caution) => textOf(caution) ?? []),
    outlines: listOf(inner["outlines"] ?? all["outlines"]).flatMap(outlineOf),
  };
}

function partOf(value: unknown): readonly CheckPart[] {
  const { name, allowed, found, unit, isPassed } = fieldsOf(value);
  if (typeof name !== "string" || typeof allowed !== "number" || typeof isPassed !== "boolean") return [];
  return [
    {
      name,
      allowed,
      found: typeof found === "number" ? found : Number.NaN,
      unit: typeof unit === "string" ? unit : "",
      isPassed,
    },
  ];
}

function outlineOf(value: unknown): readonly FootOutlineFact[] {
  const { foot, frame, outline } = fieldsOf(value);
  const isFoot = foot === "lead" || foot === "trail";
  const isFrame = frame === "lab" || frame === "plate";
  return isFoot && isFrame && listOf(outline).length >= 3 ? [value as FootOutlineFact] : [];
}
