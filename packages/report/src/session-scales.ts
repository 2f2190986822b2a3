import type { ColumnKindId } from "./column-kinds.ts";
import type { ScaleDomain } from "./domain-outward.ts";
import type { SheetModel, SheetOptions } from "./sheet-model.ts";

/**
 * Scales that hold every shot of a session, so that shots can be compared by eye: hand them to `sheetModel`.
 * Each column's scale spans those of all models; the arrows' is the coarsest. No models: nothing is fixed.
 */
export function sessionScales(models: readonly SheetModel[]): Pick<SheetOptions, "domains" | "arrowNPerM"> {
  if (models.length === 0) return {};
  const domains: Partial<Record<ColumnKindId, ScaleDomain>> = {};
  for (const { id, domain } of models.flatMap((model) => model.columns)) {
    const { min, max } = domains[id] ?? domain;
    domains[id] = { min: Math.min(min, domain.min), max: Math.max(max, domain.max) };
  }
  return { domains, arrowNPerM: Math.max(...models.map((model) => model.plan.arrowNPerM)) };
}
