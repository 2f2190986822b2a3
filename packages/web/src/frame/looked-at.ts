/** The measure in view, and every one looked at so far with the same shots: they are one family and raise what a difference must exceed. */
export interface LookedAt {
  readonly measure: string;
  readonly measures: readonly string[];
}

/** What an address says. The measure in view is always one of those looked at. */
export function lookedAtFrom(query: Readonly<Record<string, string>>, first: string): LookedAt {
  const measure = query["measure"] ?? first;
  const before = (query["measures"] ?? "").split(",").filter((one) => one !== "");
  return { measure, measures: [...new Set([...before, measure])] };
}

/** As an address says it. */
export function lookedAtQuery({ measure, measures }: LookedAt): Record<"measure" | "measures", string | undefined> {
  const all = [...new Set([...measures, measure])];
  return { measure, measures: all.length > 1 ? all.join(",") : undefined };
}
