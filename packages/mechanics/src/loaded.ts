import type { Samples } from "@underfoot/domain";
import type { Settings } from "./settings.ts";

/**
 * Where a plate counts as loaded: from above max(30 N, 4 % of weight) until below max(20 N, 3 % of weight) (settings).
 * A missing load is not loaded.
 *
 * @param loadN  filtered load along the normal, n samples
 * @returns      n flags
 */
export function loaded(loadN: Samples, weightN: number, settings: Settings): Uint8Array {
  const onN = Math.max(settings.loadOnN, settings.loadOnShare * weightN);
  const offN = Math.max(settings.loadOffN, settings.loadOffShare * weightN);
  const flags = new Uint8Array(loadN.length);
  let isOn = 0;
  for (let i = 0; i < loadN.length; i++) {
    const load = loadN[i]!;
    if (load > onN) isOn = 1;
    else if (!(load >= offN)) isOn = 0;
    flags[i] = isOn;
  }
  return flags;
}
