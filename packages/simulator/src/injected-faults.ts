import { type PlateCorners, type Random, UnderfootError } from "@underfoot/domain";
import type { ShotTiming, Span } from "./planned-shot.ts";
import type { PlateChannels } from "./plate-channels.ts";
import type { PlateErrors, SensorErrors } from "./sensor-errors.ts";
import type { InjectedFault } from "./shot-truth.ts";

/** Faults that can be put into a recording, with what each does. */
export const FAULTS = {
  noise: "noise of every channel ten times the plate's own",
  zero: "lead plate's zero off by 25 N and 6 N m",
  drift: "lead plate drifts by 5 N in each force over the recording",
  gain: "lead plate reads 3 % too much",
  crosstalk: "2 % of the lead plate's load leaks into its horizontal forces",
  clip: "lead plate's converter ends below its largest reading",
  gap: "40 ms of the trail plate lost between top and finish",
  late: "3 ms of the lead plate lost in the downswing: short enough to be bridged",
  spike: "three single samples of the lead plate jump",
  clock: "trail plate is 12 ms late and nothing says so",
  swapped: "lead and trail foot exchanged in the facts",
  turned: "lead plate's corners written from the opposite corner: the plate seems turned by 180 degrees",
  origin: "plates' origins written with the wrong sign",
  unloaded: "trail foot leaves the turf for a quarter of a second after impact",
  nan: "half a second of one channel of the lead plate is not a number",
} as const;

export type FaultName = keyof typeof FAULTS;

/** The names `--faults` knows. */
export const FAULT_NAMES = Object.keys(FAULTS) as FaultName[];

/** A fault's name from text; throws `simulator/fault-unknown` with the names there are. */
export function faultName(text: string): FaultName {
  const found = FAULT_NAMES.find((name) => name === text);
  if (found !== undefined) return found;
  throw new UnderfootError({
    code: "simulator/fault-unknown",
    sentence: `There is no fault called "${text}".`,
    remedy: `Choose from ${FAULT_NAMES.join(", ")}.`,
  });
}

/** Sensors with the faults that are only a matter of size. */
export function faultySensors(sensors: SensorErrors, faults: readonly FaultName[]): SensorErrors {
  if (!faults.includes("noise")) return sensors;
  const noiseN = [Math.max(3, 10 * sensors.noiseN[0]), Math.max(5, 10 * sensors.noiseN[1])] as const;
  return { ...sensors, noiseN };
}

const UNSAID_CLOCK_S = 0.012;

/** How late the trail plate is without anybody saying so, s. */
export function unsaidClockS(faults: readonly FaultName[]): number {
  return faults.includes("clock") ? UNSAID_CLOCK_S : 0;
}

/** The lead plate's errors with the faults that sit in its amplifier. */
export function faultyPlate(errors: PlateErrors, faults: readonly FaultName[], durationS: number): PlateErrors {
  const has = (name: FaultName): number => (faults.includes(name) ? 1 : 0);
  const six = (values: PlateErrors["zero"], force: number, moment: number): PlateErrors["zero"] => [
    values[0] + force,
    values[1] - force,
    values[2] + force,
    values[3] + moment,
    values[4] - moment,
    values[5] + moment,
  ];
  return {
    ...errors,
    zero: six(errors.zero, 25 * has("zero"), 6 * has("zero")),
    driftPerS: six(errors.driftPerS, (5 * has("drift")) / durationS, 0),
    gain: errors.gain.map((gain) => gain + 0.03 * has("gain")) as unknown as PlateErrors["gain"],
    crosstalk: [errors.crosstalk[0] + 0.02 * has("crosstalk"), errors.crosstalk[1] - 0.02 * has("crosstalk")],
  };
}

/** Corners as the file writes them. */
export function writtenCorners([c1, c2, c3, c4]: PlateCorners, isTurned: boolean): PlateCorners {
  return isTurned ? [c3, c4, c1, c2] : [c1, c2, c3, c4];
}

/** The converter's end, per channel, after clipping: a clipped plate ends 10 % below its largest reading of load. */
export function clippedFullScale({ columns, fullScale }: PlateChannels): number[] {
  const largest = columns.map((column) => column.reduce((most, value) => Math.max(most, Math.abs(value)), 0));
  const strongest = largest.indexOf(Math.max(...largest));
  return fullScale.map((end, k) => (k === strongest ? 0.9 * largest[k]! : end));
}

export interface ChannelFaultOptions {
  readonly faults: readonly FaultName[];
  readonly timing: ShotTiming;
  readonly rateHz: number;
  readonly draw: Random;
  /** Numbers in the recording. */
  readonly leadPlate: number;
  readonly trailPlate: number;
}

function blank(columns: readonly Float64Array[], { fromS, toS }: Span, rateHz: number): void {
  const first = Math.max(0, Math.round(fromS * rateHz));
  const end = Math.round(toS * rateHz);
  for (const column of columns) column.fill(Number.NaN, first, end);
}

function spikes(channels: PlateChannels, { timing, rateHz, draw }: ChannelFaultOptions): void {
  for (let k = 0; k < 3; k++) {
    const at = Math.round((timing.topS + (timing.impactS - timing.topS) * draw.unit()) * rateHz);
    const channel = draw.below(3);
    const column = channels.columns[channel]!;
    column[at] = column[at]! + draw.sign() * (0.1 + 0.1 * draw.unit()) * channels.fullScale[channel]!;
  }
}

/** Puts the faults that sit in samples into the two plates' channels, in place; the list of what was done. */
export function injectChannelFaults(
  lead: PlateChannels,
  trail: PlateChannels,
  options: ChannelFaultOptions,
): InjectedFault[] {
  const { faults, timing, rateHz, draw, leadPlate, trailPlate } = options;
  const done: InjectedFault[] = [];
  const between = (lengthS: number, fromS: number, toS: number): Span => {
    const at = fromS + (toS - fromS) * draw.unit();
    return { fromS: at, toS: at + lengthS };
  };
  if (faults.includes("spike")) spikes(lead, options);
  if (faults.includes("gap")) {
    const span = between(0.04, timing.topS, timing.impactS + 0.2);
    blank(trail.columns, span, rateHz);
    done.push({ fault: "gap", sentence: FAULTS.gap, plate: trailPlate, span });
  }
  if (faults.includes("late")) {
    const span = between(0.003, timing.topS, timing.impactS);
    blank(lead.columns, span, rateHz);
    done.push({ fault: "late", sentence: FAULTS.late, plate: leadPlate, span });
  }
  if (faults.includes("nan")) {
    const span = { fromS: timing.impactS - 0.25, toS: timing.impactS + 0.25 };
    blank([lead.columns[draw.below(lead.columns.length)]!], span, rateHz);
    done.push({ fault: "nan", sentence: FAULTS.nan, plate: leadPlate, span });
  }
  const said = new Set(done.map(({ fault }) => fault));
  const others = faults.filter((fault) => !said.has(fault));
  return [...done, ...others.map((fault) => ({ fault, sentence: FAULTS[fault] }))];
}
