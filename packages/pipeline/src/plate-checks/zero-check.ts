import { dot, type PlateFrame, type Recording, type Vector } from "@underfoot/domain";
import { type PlateWrench, plateCop, plateWrench, type Settings, validMean, validSd } from "@underfoot/mechanics";
import type { Stretch } from "../recording-stretch.ts";
import { checkFaults } from "./check-faults.ts";
import { type PlateCheckFacts, type PlateCheckPart, type PlateCheckResult, part } from "./check-outcome.ts";
import { isInUse, lightestN, unloadedStretch } from "./check-plates.ts";

/** The zero of one plate, as stored in the file (no sign turned), so that it can be taken off. */
export interface MeasuredZero {
  readonly plate: number;
  readonly fromS: number;
  readonly toS: number;
  /** Means and standard deviations along plate axes, N and N m about the centre of the surface. */
  readonly forceN: Vector;
  readonly forceSdN: Vector;
  readonly momentNm?: Vector;
  readonly momentSdNm?: Vector;
  /** In the unit of each channel. */
  readonly channels: readonly {
    readonly label: string;
    readonly unit: string;
    readonly mean: number;
    readonly sd: number;
  }[];
}

/**
 * Zero: what the plates read while nothing is on them, against what the results assume a zero to be good to (settings:
 * 2 N and 0.5 N m; the limits are ours). The longest unloaded stretch of each plate is taken, half a second at least.
 *
 * @throws UnderfootError `recording-too-short`, `plate-loaded`, `no-plates`
 */
export function zeroCheck(recording: Recording, facts: PlateCheckFacts, settings: Settings): PlateCheckResult {
  const lengthS = recording.sampleCount / recording.rateHz;
  if (!(lengthS >= 0.5)) throw checkFaults.tooShort(lengthS, 0.5);
  const zeros = recording.plates.flatMap((plate): MeasuredZero[] => {
    if (!isInUse(plate, facts)) return [];
    const said = facts.plates?.find((one) => one.plate === plate.index);
    const sense = said?.sense ?? (plate.sense === "unknown" ? "on-player" : plate.sense);
    const fact = { plate: plate.index, foot: "none" as const, ...said, sense, zero: "none" as const };
    const wrench = plateWrench(recording, plate, { settings, up: facts.up, fact });
    const { loadN } = plateCop(wrench, { leastLoadN: settings.loadOffN });
    const stretch = unloadedStretch(loadN, recording.rateHz, settings.loadOnN);
    if (stretch === undefined) throw checkFaults.loaded(plate.index, lightestN(loadN, recording.rateHz));
    return [measuredZero(recording, wrench, stretch)];
  });
  if (zeros.length === 0) throw checkFaults.noPlates();
  return {
    parts: zeros.flatMap((zero) => zeroParts(zero, settings)),
    detail: { zeros },
    remedy: "Zero the plates in the device, unloaded and lying as they are used, and record again.",
  };
}

function measuredZero(recording: Recording, wrench: PlateWrench, { first, end }: Stretch): MeasuredZero {
  const { frame, forceN, momentNm, hasMoments } = wrench;
  const along = (series: PlateWrench["forceN"], of: typeof validMean): Vector =>
    plateVector(series, frame, { first, end, of });
  const channels = recording.plates
    .find(({ index }) => index === wrench.plate)!
    .channels.flatMap((at) => recording.channels[at] ?? [])
    .map(({ label, unit, values }) => ({
      label,
      unit,
      mean: validMean(values, first, end),
      sd: validSd(values, first, end),
    }));
  return {
    plate: wrench.plate,
    fromS: first / recording.rateHz,
    toS: end / recording.rateHz,
    forceN: along(forceN, validMean),
    forceSdN: along(forceN, validSd),
    ...(hasMoments ? { momentNm: along(momentNm, validMean), momentSdNm: along(momentNm, validSd) } : {}),
    channels,
  };
}

/** A statistic of each component along plate axes. */
function plateVector(
  { x, y, z }: PlateWrench["forceN"],
  frame: PlateFrame,
  { first, end, of }: Stretch & { readonly of: typeof validMean },
): Vector {
  const component = (axis: Vector): number => {
    const column = Float64Array.from({ length: end - first }, (_, k) =>
      dot(axis, { x: x[first + k]!, y: y[first + k]!, z: z[first + k]! }),
    );
    return of(column, 0, column.length);
  };
  return { x: component(frame.x), y: component(frame.y), z: component(frame.z) };
}

function zeroParts({ plate, forceN, momentNm }: MeasuredZero, settings: Settings): PlateCheckPart[] {
  const [axis, foundN] = largest(forceN);
  const force = part({
    name: `Force, plate ${plate}`,
    plate,
    allowed: settings.zeroSigmaN,
    found: foundN,
    unit: "N",
    sentence: `Unloaded, plate ${plate} reads ${foundN.toFixed(2)} N along its ${axis} axis; ${settings.zeroSigmaN} N allowed (our limit).`,
  });
  if (momentNm === undefined) return [force];
  const [momentAxis, foundNm] = largest(momentNm);
  const moment = part({
    name: `Moment, plate ${plate}`,
    plate,
    allowed: settings.zeroSigmaNm,
    found: foundNm,
    unit: "N m",
    sentence: `Unloaded, plate ${plate} reads ${foundNm.toFixed(2)} N m about its ${momentAxis} axis; ${settings.zeroSigmaNm} N m allowed (our limit).`,
  });
  return [force, moment];
}

/** The component that is largest without its sign. */
function largest(vector: Vector): readonly ["x" | "y" | "z", number] {
  const axis = (["x", "y", "z"] as const).reduce((a, b) => (Math.abs(vector[b]) > Math.abs(vector[a]) ? b : a));
  return [axis, Math.abs(vector[axis])];
}
