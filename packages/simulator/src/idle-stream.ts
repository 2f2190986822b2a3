import { type Column, type Random, random } from "@underfoot/domain";
import { type IdleActivity, type IdleOptions, idleActivity, type LiveColumns } from "./idle-activity.ts";
import { levelFromTurf, type SimulatedLie } from "./lie-axes.ts";
import type { SimulatedPlayer } from "./player.ts";
import { type ShotOptions, simulateShot } from "./simulate-shot.ts";

/** A stretch of a stream in which one thing happens. */
export interface StreamPart extends LiveColumns {
  readonly activity: IdleActivity | "shot";
  /** From the stream's first sample. */
  readonly firstS: number;
  /** A shot's impact, from the stream's first sample. */
  readonly impactS?: number;
}

export interface IdleStreamOptions {
  readonly seed: number;
  readonly player: SimulatedPlayer;
  readonly lie: SimulatedLie;
  readonly minutes: number;
  readonly rateHz?: number;
  /** Hit one after the other between idle stretches, while there are any; on the stream's lie and at its rate. */
  readonly shots?: readonly ShotOptions[];
  /** White noise of each column, N and N m. */
  readonly noiseN?: number;
  readonly noiseNm?: number;
}

const COLUMNS = ["leadLoadN", "trailLoadN", "targetN", "aheadN", "turnNm"] as const;
/** Neighbouring stretches meet over this long, s. */
const JOIN_S = 0.4;
const BETWEEN: readonly IdleActivity[] = ["standing", "rocking", "waggling", "looking"];

/** Bends the beginning of a stretch to where the one before ended. */
function joined(columns: LiveColumns, before: LiveColumns | undefined, rateHz: number): LiveColumns {
  if (before === undefined) return columns;
  const length = Math.round(JOIN_S * rateHz);
  for (const name of COLUMNS) {
    const column = columns[name];
    const offset = before[name].at(-1)! - column[0]!;
    for (let i = 0; i < Math.min(length, column.length); i++) {
      const u = 1 - i / length;
      column[i]! += offset * u * u * (3 - 2 * u);
    }
  }
  return columns;
}

function shotColumns(options: ShotOptions): { columns: LiveColumns; impactS: number } {
  const { curves, events } = simulateShot({ ...options, marks: "none" }).truth;
  const copy = (column: Column): Column => column.slice();
  return {
    columns: {
      leadLoadN: copy(curves.lead.turf.upN),
      trailLoadN: copy(curves.trail.turf.upN),
      targetN: copy(curves.both.turf.targetN),
      aheadN: copy(curves.both.turf.aheadN),
      turnNm: copy(curves.both.freeMomentNm),
    },
    impactS: events.impact,
  };
}

function lastSamples({ leadLoadN, trailLoadN, targetN, aheadN, turnNm }: LiveColumns): LiveColumns {
  return {
    leadLoadN: leadLoadN.slice(-1),
    trailLoadN: trailLoadN.slice(-1),
    targetN: targetN.slice(-1),
    aheadN: aheadN.slice(-1),
    turnNm: turnNm.slice(-1),
  };
}

function addNoise(columns: LiveColumns, draw: Random, sd: { noiseN: number; noiseNm: number }): void {
  for (const name of COLUMNS) {
    const column = columns[name];
    const size = name === "turnNm" ? sd.noiseNm : sd.noiseN;
    for (let i = 0; i < column.length; i++) column[i]! += size * draw.normal();
  }
}

/** The activities of one visit to the plates, `shot` where one is hit. */
function* visits(draw: IdleOptions["draw"]): Generator<IdleActivity | "shot"> {
  for (;;) {
    yield "away";
    yield "stepOn";
    yield "standing";
    const count = 2 + draw.below(4);
    for (let k = 0; k < count; k++) {
      yield BETWEEN[draw.below(BETWEEN.length)]!;
      if (draw.unit() < 0.6) yield "standing";
    }
    yield "shot";
    yield "stepOff";
  }
}

/**
 * People on plates between shots: stepping on and off, standing, rocking by up to 12 points of share at 0.5 to 1.1 Hz,
 * waggles of 0.2 to 0.6 N m s, a look at the target; and the given shots among them. One stretch at a time, end to end.
 * Stops at the first stretch that begins after `minutes`, or later when shots are left.
 */
export function* idleStream(options: IdleStreamOptions): Generator<StreamPart, void> {
  const { seed, player, lie, minutes, rateHz = 1000, shots = [], noiseN = 0.5, noiseNm = 0.3 } = options;
  const draw = random(seed, "idle");
  const noise = random(seed, "noise of the stream");
  const idle: IdleOptions = { player, levelFromTurf: levelFromTurf(lie), rateHz, draw };
  let before: LiveColumns | undefined;
  let samples = 0;
  const left = [...shots];
  for (const activity of visits(draw)) {
    if (samples / rateHz >= 60 * minutes && left.length === 0) return;
    const asked = activity === "shot" ? left.shift() : undefined;
    if (activity === "shot" && asked === undefined) continue;
    const { columns: clean, impactS } =
      asked === undefined
        ? { columns: idleActivity(activity as IdleActivity, idle), impactS: undefined }
        : shotColumns({ ...asked, lie, rateHz });
    const columns = joined(clean, before, rateHz);
    before = lastSamples(columns);
    addNoise(columns, noise, { noiseN, noiseNm });
    const firstS = samples / rateHz;
    samples += columns.leadLoadN.length;
    yield { ...columns, activity, firstS, ...(impactS === undefined ? {} : { impactS: firstS + impactS }) };
  }
}

/** Means over one block. */
export interface StreamBlock {
  readonly firstS: number;
  readonly leadLoadN: number;
  readonly trailLoadN: number;
  readonly targetN: number;
  readonly aheadN: number;
  readonly turnNm: number;
}

/** A stream's parts as means over blocks of `blockS`; what is left at the end and fills no block is dropped. */
export function* streamBlocks(
  parts: Iterable<StreamPart>,
  { rateHz = 1000, blockS = 0.01 }: { readonly rateHz?: number; readonly blockS?: number } = {},
): Generator<StreamBlock, void> {
  const wanted = Math.max(1, Math.round(blockS * rateHz));
  let filled = 0;
  let count = 0;
  let sums = [0, 0, 0, 0, 0];
  for (const part of parts) {
    for (let i = 0; i < part.leadLoadN.length; i++) {
      for (let k = 0; k < COLUMNS.length; k++) sums[k]! += part[COLUMNS[k]!][i]!;
      filled++;
      if (filled < wanted) continue;
      const [lead, trail, target, ahead, turn] = sums.map((sum) => sum / wanted) as [
        number,
        number,
        number,
        number,
        number,
      ];
      const firstS = (count * wanted) / rateHz;
      yield { firstS, leadLoadN: lead, trailLoadN: trail, targetN: target, aheadN: ahead, turnNm: turn };
      count++;
      filled = 0;
      sums = [0, 0, 0, 0, 0];
    }
  }
}
