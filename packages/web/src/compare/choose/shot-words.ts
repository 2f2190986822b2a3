import type { CountedShot } from "./shot-counts.ts";

/** "3: low, flat, mishit". */
export function shotWords({ ordinal, intent, lieName, label }: CountedShot): string {
  const facts = [intent, lieName, label === "kept" ? undefined : label].filter((word) => word !== undefined);
  return `${ordinal}: ${facts.join(", ")}`;
}
