import { type Finding, type Recording, UnderfootError } from "@underfoot/domain";
import { type Measure, type PlateWrench, plateCop, plateWrench, type Settings } from "@underfoot/mechanics";
import { mean, standardDeviation } from "@underfoot/signal";

/** What a plate tells without target and hand. */
export interface PlateLoad {
  readonly plate: number;
  readonly loadN: Float64Array<ArrayBuffer>;
  /** CoP in the laboratory, m; NaN under too little load. */
  readonly copM: {
    readonly x: Float64Array<ArrayBuffer>;
    readonly y: Float64Array<ArrayBuffer>;
    readonly z: Float64Array<ArrayBuffer>;
  };
}

/** The stillest stretch of this length gives the weight where no shot is known. */
export const STILL_WINDOW_S = 0.5;

function plainMeasure(id: string, value: number, sigma: number, unit: string, why: string): Measure {
  const isValid = Number.isFinite(value);
  return { id, value, unit, sigma, sigmaShared: sigma, axes: undefined, isValid, ...(isValid ? {} : { why }) };
}

/** Mean and scatter over the window of `length` samples with the least scatter, among those with a load. */
export function stillest(
  total: Float64Array,
  length: number,
  leastN: number,
): { readonly first: number; readonly meanN: number; readonly sdN: number } | undefined {
  let best: { first: number; meanN: number; sdN: number } | undefined;
  for (let first = 0; first + length <= total.length; first += Math.max(1, Math.floor(length / 10))) {
    const window = total.subarray(first, first + length);
    const meanN = mean(window);
    const sdN = standardDeviation(window);
    if (meanN > leastN && (best === undefined || sdN < best.sdN)) best = { first, meanN, sdN };
  }
  return best;
}

function plateMeasures(wrench: PlateWrench, load: PlateLoad, settings: Settings): Measure[] {
  const id = `plate${wrench.plate}`;
  const loaded = load.loadN.filter((value) => value > settings.loadOffN);
  const sigmaN = Math.hypot(settings.zeroSigmaN, settings.gainSigma * (loaded.length > 0 ? mean(loaded) : 0));
  const noLoad = `nobody stood on plate ${wrench.plate}`;
  const measures = [
    plainMeasure(`${id}.load.mean`, loaded.length > 0 ? mean(loaded) : Number.NaN, sigmaN, "N", noLoad),
    plainMeasure(
      `${id}.load.peak`,
      loaded.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY),
      sigmaN,
      "N",
      noLoad,
    ),
  ];
  for (const axis of ["x", "y", "z"] as const) {
    const places = load.copM[axis].filter((value) => Number.isFinite(value));
    const sigmaMm =
      1000 * Math.hypot(settings.placeSigmaM, settings.zeroSigmaNm / Math.max(1, loaded.length > 0 ? mean(loaded) : 0));
    const why = wrench.hasMoments ? noLoad : `plate ${wrench.plate} gives forces only`;
    measures.push(
      plainMeasure(`${id}.cop.${axis}`, places.length > 0 ? 1000 * mean(places) : Number.NaN, sigmaMm, "mm", why),
    );
  }
  return measures;
}

/**
 * What can be said of a recording without target and hand: load and CoP of each plate, weight from the stillest half second.
 * Filter none; plates that cannot be computed are named in the findings.
 */
export function loads(
  recording: Recording,
  settings: Settings,
): {
  readonly plates: readonly PlateLoad[];
  readonly measures: readonly Measure[];
  readonly findings: readonly Finding[];
} {
  const findings: Finding[] = [];
  const plates: PlateLoad[] = [];
  const measures: Measure[] = [];
  const total = new Float64Array(recording.sampleCount);
  for (const plate of recording.plates) {
    try {
      const wrench = plateWrench(recording, plate, { settings });
      const { loadN, xM: x, yM: y, zM: z } = plateCop(wrench, { leastLoadN: settings.loadOffN });
      for (let i = 0; i < total.length; i++) total[i]! += loadN[i]!;
      plates.push({ plate: plate.index, loadN, copM: { x, y, z } });
      measures.push(...plateMeasures(wrench, plates.at(-1)!, settings));
      findings.push(...wrench.findings);
    } catch (fault) {
      if (!(fault instanceof UnderfootError)) throw fault;
      findings.push({
        code: fault.code,
        severity: "stop",
        sentence: fault.message,
        remedy: fault.remedy,
        where: fault.where,
      });
    }
  }
  const still = stillest(total, Math.round(STILL_WINDOW_S * recording.rateHz), settings.loadOnN);
  const sigmaN = Math.hypot(
    settings.zeroSigmaN * Math.sqrt(Math.max(1, plates.length)),
    settings.gainSigma * (still?.meanN ?? 0),
    still?.sdN ?? 0,
  );
  measures.push(
    plainMeasure("both.weight.mean", still?.meanN ?? Number.NaN, sigmaN, "N", "nobody stood still for half a second"),
  );
  return { plates, measures, findings };
}
