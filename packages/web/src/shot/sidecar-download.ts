import type { ShotFacts } from "@underfoot/domain";
import { sidecarNamesFor, sidecarText } from "@underfoot/formats";

/** Offers the facts, marks included, as a sidecar beside the recording. The recording itself is never written. */
export function downloadSidecar(facts: ShotFacts, file: string): void {
  const url = URL.createObjectURL(new Blob([sidecarText(facts)], { type: "application/json" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = sidecarNamesFor(file)[0];
  link.click();
  URL.revokeObjectURL(url);
}
