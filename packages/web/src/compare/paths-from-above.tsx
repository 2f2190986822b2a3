import type { PlayerShape } from "@underfoot/protocol";
import type { ReactElement } from "react";
import type { CompareAsk } from "./compare-address.ts";

export function PathsFromAbove(_: { readonly ask: CompareAsk; readonly player: PlayerShape }): ReactElement | null {
  return null;
}
