import type { EventName } from "@underfoot/domain";
import type { ShotEvent } from "@underfoot/mechanics";
import { inMilliseconds } from "./numbers.ts";

/** What an event is called, and its mark on the sheet. */
export const EVENT_LABELS: Readonly<Record<EventName, { readonly label: string; readonly glyph: EventGlyph }>> = {
  address: { label: "address", glyph: "none" },
  start: { label: "start", glyph: "corner-down" },
  top: { label: "top", glyph: "peak" },
  delivery: { label: "delivery", glyph: "bar" },
  impact: { label: "impact", glyph: "ball" },
  finish: { label: "finish", glyph: "corner-up" },
};

export type EventGlyph = "none" | "corner-down" | "peak" | "bar" | "ball" | "corner-up";

/**
 * Where an event's time comes from and how sure it is: "marked ±4", "signal ±1", "est. ±15" (ms, whole
 * where it is 1 or more: settings are round numbers and are shown as they were set).
 */
export function eventSourceText(event: Pick<ShotEvent, "source" | "sigmaMs" | "signal">): string {
  const word = event.source === "estimated" ? "est." : (event.signal ?? event.source);
  if (!(event.sigmaMs > 0)) return word;
  const whole = event.sigmaMs >= 1 ? event.sigmaMs.toFixed(0) : inMilliseconds(event.sigmaMs, event.sigmaMs).number;
  return `${word} ±${whole}`;
}
