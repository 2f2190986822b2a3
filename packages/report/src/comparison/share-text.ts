import { differenceText } from "../unit-text.ts";
import { type Ranged, resolutionOf, signedText } from "./estimate-text.ts";

/** A difference between lies in its three parts, as they are written. */
export interface ShareText {
  /** With the slope's share in it, without sign: "88 N". */
  readonly raw: string;
  /** With their signs: "+68 N", "+20 N". */
  readonly share: string;
  readonly left: string;
}

/**
 * Between lies raw, share and what is left add up as they are written.
 *
 * @param freed  less the slope's share; its interval decides the digits
 * @param least  no digit is finer than this. Unit of the measure, like all others
 */
export function addingUp(
  freed: Ranged,
  { raw, slopeShare, unit }: { readonly raw: number; readonly slopeShare: number; readonly unit: string },
  least = 0,
): ShareText {
  const resolution = resolutionOf(freed, least);
  const shown = (value: number): number => Number(differenceText(value, unit, resolution).number.replace("−", "-"));
  const rest = shown(raw) - shown(freed.value);
  const share = Math.abs(rest - slopeShare) < 2 * resolution ? rest : slopeShare;
  return {
    raw: differenceText(Math.abs(raw), unit, resolution).text,
    share: signedText(share, unit, resolution),
    left: signedText(freed.value, unit, resolution),
  };
}
