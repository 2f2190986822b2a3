import { inMilliseconds } from "./numbers.ts";

/** A time with its sign, without unit: "+90", "−40", "0". */
export function signedMs(timeMs: number): string {
  const { number } = inMilliseconds(timeMs);
  return timeMs >= 0.5 ? `+${number}` : number;
}
