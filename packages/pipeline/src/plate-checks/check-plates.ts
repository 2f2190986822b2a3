import { type PlateDescription, type PlateFact, type Recording, type Samples, UnderfootError } from "@underfoot/domain";
import { type PlateCop, type PlateWrench, plateCop, plateWrench, type Settings } from "@underfoot/mechanics";
import { mean } from "@underfoot/signal";
import type { Stretch } from "../recording-stretch.ts";
import { checkFaults } from "./check-faults.ts";
import type { PlateCheckFacts } from "./check-outcome.ts";

/** A plate of the recording, its zero taken off where the recording shows it unloaded. */
export interface CheckedPlate {
  readonly index: number;
  readonly description: PlateDescription;
  readonly fact: PlateFact;
  readonly wrench: PlateWrench;
  readonly cop: PlateCop;
  /** The unloaded stretch that was taken as zero, samples; undefined: none. */
  readonly zero: Stretch | undefined;
}

/** Means over this long are looked at, s. */
export const TICK_S = 0.05;
const SHORTEST_ZERO_S = 0.5;
/** Left out beside a load, s: a foot or a mass coming or going. */
const BESIDE_LOAD_S = 0.2;

/** Means over ticks; a tick with a missing sample is NaN. What is left at the end and fills none is dropped. */
export function tickMeans(column: Samples, perTick: number): Float64Array {
  return Float64Array.from({ length: Math.floor(column.length / perTick) }, (_, k) =>
    mean(column, k * perTick, (k + 1) * perTick),
  );
}

export function samplesPerTick(rateHz: number): number {
  return Math.max(1, Math.round(TICK_S * rateHz));
}

/** Runs of ticks at which something holds, as [first, end). */
export function runsWhere(count: number, holds: (tick: number) => boolean): readonly Stretch[] {
  const runs: Stretch[] = [];
  let first = -1;
  for (let k = 0; k <= count; k++) {
    const isIn = k < count && holds(k);
    if (isIn && first < 0) first = k;
    if (!isIn && first >= 0) {
      runs.push({ first, end: k });
      first = -1;
    }
  }
  return runs;
}

/** The longest stretch of half a second or more in which the plate carries less than `leastLoadN` either way; undefined: none. */
export function unloadedStretch(loadN: Samples, rateHz: number, leastLoadN: number): Stretch | undefined {
  const perTick = samplesPerTick(rateHz);
  const ticks = tickMeans(loadN, perTick);
  const beside = Math.round(BESIDE_LOAD_S / TICK_S);
  const runs = runsWhere(ticks.length, (k) => Math.abs(ticks[k]!) < leastLoadN).map(({ first, end }) => ({
    first: (first === 0 ? 0 : first + beside) * perTick,
    end: end === ticks.length ? loadN.length : (end - beside) * perTick,
  }));
  const longest = runs.reduce<Stretch>((a, b) => (b.end - b.first > a.end - a.first ? b : a), { first: 0, end: 0 });
  return longest.end - longest.first >= SHORTEST_ZERO_S * rateHz ? longest : undefined;
}

/** The smallest mean load, without sign, over half a second: what a plate carries at its lightest, N. */
export function lightestN(loadN: Samples, rateHz: number): number {
  const length = Math.round(SHORTEST_ZERO_S * rateHz);
  const step = samplesPerTick(rateHz);
  let least = Number.POSITIVE_INFINITY;
  for (let first = 0; first + length <= loadN.length; first += step) {
    least = Math.min(least, Math.abs(mean(loadN, first, first + length)));
  }
  return least;
}

/** A plate that can be computed and that nobody has said to carry no foot. */
export function isInUse({ index, fault }: PlateDescription, { plates }: PlateCheckFacts): boolean {
  return fault?.severity !== "stop" && plates?.find((one) => one.plate === index)?.foot !== "none";
}

/**
 * The plates of a recording that are in use. A zero that a person gave is used as it is; else the recording's own unloaded stretch.
 * Plates that cannot be computed are left out while there is another.
 *
 * @throws UnderfootError `no-plates`, or why the first plate cannot be computed
 */
export function checkedPlates(
  recording: Recording,
  facts: PlateCheckFacts,
  settings: Settings,
): readonly [CheckedPlate, ...CheckedPlate[]] {
  const faults: UnderfootError[] = [];
  const plates = recording.plates.flatMap((description): CheckedPlate[] => {
    if (!isInUse(description, facts)) return [];
    try {
      return [checkedPlate(recording, description, { facts, settings })];
    } catch (fault) {
      if (!(fault instanceof UnderfootError)) throw fault;
      faults.push(fault);
      return [];
    }
  });
  const [first, ...rest] = plates;
  if (first === undefined) throw faults[0] ?? checkFaults.noPlates();
  return [first, ...rest];
}

function checkedPlate(
  recording: Recording,
  description: PlateDescription,
  { facts, settings }: { readonly facts: PlateCheckFacts; readonly settings: Settings },
): CheckedPlate {
  const { index } = description;
  const said = facts.plates?.find((one) => one.plate === index);
  const fact: PlateFact = { plate: index, foot: "none", ...said };
  const options = { settings, up: facts.up };
  const leastLoadN = settings.loadOffN;
  const raw = plateWrench(recording, description, { ...options, fact: { ...fact, zero: fact.zero ?? "none" } });
  const rawCop = plateCop(raw, { leastLoadN });
  const zero = fact.zero === undefined ? unloadedStretch(rawCop.loadN, recording.rateHz, settings.loadOnN) : undefined;
  if (zero === undefined) return { index, description, fact, wrench: raw, cop: rawCop, zero: undefined };
  const zeroS = [zero.first / recording.rateHz, zero.end / recording.rateHz] as const;
  const wrench = plateWrench(recording, description, { ...options, fact: { ...fact, zero: zeroS } });
  return { index, description, fact, wrench, cop: plateCop(wrench, { leastLoadN }), zero };
}
