import type { ColumnKindId, ScaleDomain, SheetColumn } from "@underfoot/report";

/** Scales of the columns by player, so that shots can be compared by eye. */
export type Domains = Readonly<Partial<Record<ColumnKindId, ScaleDomain>>>;

/** The scales that hold what they held and these columns too. The same object where nothing had to grow. */
export function widenedDomains(known: Domains, columns: readonly SheetColumn[]): Domains {
  let next = known;
  for (const { id, domain } of columns) {
    const held = known[id];
    if (held !== undefined && held.min <= domain.min && held.max >= domain.max) continue;
    const wider =
      held === undefined ? domain : { min: Math.min(held.min, domain.min), max: Math.max(held.max, domain.max) };
    next = { ...next, [id]: wider };
  }
  return next;
}
