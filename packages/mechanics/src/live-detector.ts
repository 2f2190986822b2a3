import type { PlayerWrench } from "./shot.ts";

/** Next samples of both feet, unfiltered, on one clock: any number of them. */
export interface DetectorBlock {
  readonly lead: PlayerWrench;
  readonly trail: PlayerWrench;
  /** Samples of this block at which the trigger or the sound says that the ball was struck. */
  readonly impactAt?: readonly number[];
}

/** A found shot: samples [first, end) of the stream, what came before it included. */
export interface ShotCut {
  readonly first: number;
  readonly end: number;
  /** `turn`: angular momentum away from the target, then toward it; `impact`: trigger or sound. */
  readonly foundBy: "turn" | "impact";
  /** False where the stream stopped before the shot was over. */
  readonly isComplete: boolean;
}

/** One mean over 10 ms. */
interface Tick {
  readonly loadN: number;
  readonly leadShare: number;
  readonly targetN: number;
  readonly aheadN: number;
  /** Turning torque about the combined CoP, + toward the target. */
  readonly turnNm: number;
  readonly isImpact: boolean;
}

/** What the player is doing, and since which tick. */
type Phase =
  | { readonly kind: "empty" | "on" }
  | { readonly kind: "still"; readonly since: number }
  | {
      readonly kind: "moving";
      readonly base: Base;
      readonly leftStillAt: number;
      /** Angular momentum about the vertical since 0.3 s before leaving still, its least value, and the tick of that. */
      readonly spinNms: number;
      readonly leastSpinNms: number;
      readonly leastSpinAt: number;
    }
  | {
      readonly kind: "after";
      readonly leftStillAt: number;
      readonly since: number;
      readonly foundBy: ShotCut["foundBy"];
    };

/** Means of the still stance before motion began. */
interface Base {
  readonly loadN: number;
  readonly turnNm: number;
}

/** Sums of the tick that is not full yet. */
interface PartTick {
  readonly count: number;
  readonly leadLoad: number;
  readonly sums: readonly number[];
  readonly isImpact: boolean;
}

/** All that the detector remembers; plain data, to be handed back with the next block. */
export interface DetectorState {
  readonly rateHz: number;
  /** Samples taken so far. */
  readonly sampleCount: number;
  readonly phase: Phase;
  /** Ticks finished so far, and the last 0.8 s of them. */
  readonly tickCount: number;
  readonly recent: readonly Tick[];
  readonly part: PartTick;
  /** Found and over, but the post-roll is still to come. */
  readonly pending: readonly ShotCut[];
}

/** What a step gives: the state for the next one, and the shots that are now complete. */
export interface DetectorStep {
  readonly state: DetectorState;
  readonly cuts: readonly ShotCut[];
}

const TICKS_PER_SECOND = 100;
const TICK_S = 1 / TICKS_PER_SECOND;

/** Every limit of the detector, all set by simulation with known shots (sim). Times in ticks of 10 ms. */
const STILL_TICKS = 50;
const STILL_LOAD_N = 250;
const STILL_LOAD_RANGE_SHARE = 0.04;
const STILL_LEAD_SHARE_LEAST = 0.08;
const STILL_LEAD_SHARE_RANGE = 0.04;
const STILL_FORCE_RANGE_SHARE = 0.03;
const STILL_TURN_RANGE_NM = 4;
const EMPTY_LOAD_N = 150;
const SPIN_FROM_TICKS = 30;
const KEPT_TICKS = STILL_TICKS + SPIN_FROM_TICKS + 1;
const SPIN_AWAY_NMS = -0.4;
const SPIN_TOWARD_NMS = 0.8;
const TOWARD_WITHIN_TICKS = 120;
const LOAD_LEFT_SHARE = 0.5;
const LONGEST_MOVING_TICKS = 600;
const SHORTEST_AFTER_TICKS = 80;
const LONGEST_AFTER_TICKS = 200;
const PRE_ROLL_TICKS = 250;
const POST_ROLL_TICKS = 70;
const LONGEST_CUT_S = 12;
/** Less load than this gives no usable CoP to take the turn about (ours). */
const LEAST_TURN_LOAD_N = 50;

const EMPTY_PART: PartTick = { count: 0, leadLoad: 0, sums: [0, 0, 0, 0, 0, 0], isImpact: false };

/**
 * The detector before the first sample of a stream.
 *
 * @throws RangeError below 200 Hz: a tick of 10 ms needs two samples
 */
export function detectorStart({ rateHz }: { readonly rateHz: number }): DetectorState {
  if (!(rateHz >= 2 * TICKS_PER_SECOND))
    throw new RangeError(`${rateHz} Hz is too slow to find shots: 200 Hz at least`);
  return {
    rateHz,
    sampleCount: 0,
    phase: { kind: "empty" },
    tickCount: 0,
    recent: [],
    part: EMPTY_PART,
    pending: [],
  };
}

/**
 * Takes the next samples of a stream and says which shots are now complete. Works on means over 10 ms counted from the
 * stream's first sample, so which shots are found, and where they are cut, does not hang on the length of the blocks.
 *
 *   empty -> on -> still -> moving -> after -> on
 *
 * A shot is a still half second, then angular momentum about the vertical away from the target and back past zero toward
 * it (or a trigger or sound while moving). A waggle, rocking and stepping on or off end in still or empty instead.
 * Missing samples are left out of the means; a wholly missing tick repeats the one before.
 *
 * @param state  from `detectorStart` or the step before; not changed
 * @param block  columns of equal length
 * @returns      the next state and the cuts whose last sample has been taken, oldest first
 */
export function detectorStep(state: DetectorState, block: DetectorBlock): DetectorStep {
  const impacts = new Set(block.impactAt);
  let { part, phase, tickCount, recent, pending } = state;
  const count = block.lead.upN.length;
  for (let i = 0; i < count; i++) {
    part = partWith(part, block, i, impacts.has(i));
    const taken = state.sampleCount + i + 1;
    if (tickOf(taken, state.rateHz) === tickCount) continue;
    const tick = tickFrom(part, recent.at(-1));
    part = EMPTY_PART;
    recent = [...recent.slice(1 - KEPT_TICKS), tick];
    const next = nextPhase(phase, tick, recent, tickCount);
    if (phase.kind === "after" && next.kind === "on") pending = [...pending, cutOf(phase, tickCount, state.rateHz)];
    phase = next;
    tickCount++;
  }
  const sampleCount = state.sampleCount + count;
  return {
    state: {
      rateHz: state.rateHz,
      sampleCount,
      phase,
      tickCount,
      recent,
      part,
      pending: pending.filter((cut) => cut.end > sampleCount),
    },
    cuts: pending.filter((cut) => cut.end <= sampleCount),
  };
}

/** What is left when a stream ends: shots found but not over, cut at the last sample. */
export function detectorStop(state: DetectorState): readonly ShotCut[] {
  const { phase, pending, sampleCount, tickCount, rateHz } = state;
  const found = phase.kind === "after" ? [...pending, cutOf(phase, tickCount, rateHz)] : pending;
  return found.map((cut) => ({ ...cut, end: Math.min(cut.end, sampleCount), isComplete: cut.end <= sampleCount }));
}

/** The tick that a sample belongs to. */
function tickOf(sample: number, rateHz: number): number {
  return Math.floor((sample * TICKS_PER_SECOND) / rateHz);
}

/** A part tick with one sample more. The sums of the player wrench are linear; CoP and turn are formed from them. */
function partWith(part: PartTick, { lead, trail }: DetectorBlock, i: number, isImpact: boolean): PartTick {
  const sample = [
    lead.targetN[i]! + trail.targetN[i]!,
    lead.aheadN[i]! + trail.aheadN[i]!,
    lead.upN[i]! + trail.upN[i]!,
    lead.bTargetNm[i]! + trail.bTargetNm[i]!,
    lead.bAheadNm[i]! + trail.bAheadNm[i]!,
    lead.turnNm[i]! + trail.turnNm[i]!,
  ];
  const flagged = { ...part, isImpact: part.isImpact || isImpact };
  if (sample.slice(0, 3).some(Number.isNaN)) return flagged;
  return {
    ...flagged,
    count: part.count + 1,
    leadLoad: part.leadLoad + lead.upN[i]!,
    sums: part.sums.map((sum, k) => sum + sample[k]!),
  };
}

function tickFrom({ count, leadLoad, sums, isImpact }: PartTick, before: Tick | undefined): Tick {
  if (count === 0) {
    const nothing = { loadN: 0, leadShare: Number.NaN, targetN: 0, aheadN: 0, turnNm: 0 };
    return { ...(before ?? nothing), isImpact };
  }
  const [targetN, aheadN, upN, bTargetNm, bAheadNm, aboutReferenceNm] = sums.map((sum) => sum / count) as Six;
  // T = N - (r_a F_t - r_t F_a) with r = B / F_u
  const turned = upN > LEAST_TURN_LOAD_N ? aboutReferenceNm - (bAheadNm * targetN - bTargetNm * aheadN) / upN : 0;
  // Plates without moments know no turn: 0 throughout, so that only a flag finds shots.
  const turnNm = Number.isNaN(turned) ? (before?.turnNm ?? 0) : turned;
  return { loadN: upN, leadShare: leadLoad / count / upN, targetN, aheadN, turnNm, isImpact };
}

type Six = [number, number, number, number, number, number];

/** The table of states. `at` is the number of the tick. */
function nextPhase(phase: Phase, tick: Tick, recent: readonly Tick[], at: number): Phase {
  if (phase.kind !== "after" && tick.loadN < EMPTY_LOAD_N) return { kind: "empty" };
  switch (phase.kind) {
    case "empty":
      return tick.loadN > STILL_LOAD_N ? { kind: "on" } : phase;
    case "on":
      return isStill(recent) ? { kind: "still", since: at } : phase;
    case "still":
      return isStill(recent) ? phase : leaveStill(at - phase.since, recent, at);
    case "moving":
      return moveOn(spinWith(phase, tick, at), tick, recent, at);
    case "after": {
      const ticks = at - phase.since;
      const isOver = ticks >= LONGEST_AFTER_TICKS || (ticks > SHORTEST_AFTER_TICKS && isStill(recent));
      return isOver ? { kind: "on" } : phase;
    }
  }
}

type Moving = Extract<Phase, { kind: "moving" }>;

/** Angular momentum, and the flag of an impact, count from 0.3 s before still was seen to be over: motion had begun by then. */
function leaveStill(stillTicks: number, recent: readonly Tick[], at: number): Phase {
  const before = recent.slice(-SPIN_FROM_TICKS - 1);
  // The base ends where the angular momentum begins: else a gentle backswing is taken for part of the stance and lost.
  const stance = recent.slice(-stillTicks - STILL_TICKS, -before.length).slice(-STILL_TICKS);
  const base: Base = { loadN: meanOf(stance, "loadN"), turnNm: meanOf(stance, "turnNm") };
  let moving: Moving = { kind: "moving", base, leftStillAt: at, spinNms: 0, leastSpinNms: 0, leastSpinAt: at };
  before.forEach((tick, k) => {
    moving = spinWith(moving, tick, at - before.length + 1 + k);
  });
  const isImpact = before.some((tick) => tick.isImpact);
  return moveOn(moving, { ...before.at(-1)!, isImpact }, [], at);
}

function spinWith(phase: Moving, tick: Tick, at: number): Moving {
  const spinNms = phase.spinNms + (tick.turnNm - phase.base.turnNm) * TICK_S;
  if (spinNms >= phase.leastSpinNms) return { ...phase, spinNms };
  return { ...phase, spinNms, leastSpinNms: spinNms, leastSpinAt: at };
}

/** What becomes of a motion: a shot, still again, given up, or more of it. */
function moveOn(phase: Moving, tick: Tick, recent: readonly Tick[], at: number): Phase {
  const isTurned =
    phase.leastSpinNms < SPIN_AWAY_NMS &&
    phase.spinNms > SPIN_TOWARD_NMS &&
    at - phase.leastSpinAt <= TOWARD_WITHIN_TICKS &&
    tick.loadN > LOAD_LEFT_SHARE * phase.base.loadN;
  if (tick.isImpact || isTurned) {
    return { kind: "after", leftStillAt: phase.leftStillAt, since: at, foundBy: tick.isImpact ? "impact" : "turn" };
  }
  if (isStill(recent)) return { kind: "still", since: at };
  return at - phase.leftStillAt >= LONGEST_MOVING_TICKS ? { kind: "on" } : phase;
}

/** Whether the last half second was a quiet stance on both feet. */
function isStill(kept: readonly Tick[]): boolean {
  if (kept.length < STILL_TICKS) return false;
  const recent = kept.slice(-STILL_TICKS);
  const loadN = meanOf(recent, "loadN");
  const share = extremes(recent, "leadShare");
  return (
    loadN > STILL_LOAD_N &&
    rangeOf(recent, "loadN") < STILL_LOAD_RANGE_SHARE * loadN &&
    share.least >= STILL_LEAD_SHARE_LEAST &&
    share.largest <= 1 - STILL_LEAD_SHARE_LEAST &&
    share.largest - share.least < STILL_LEAD_SHARE_RANGE &&
    rangeOf(recent, "targetN") < STILL_FORCE_RANGE_SHARE * loadN &&
    rangeOf(recent, "aheadN") < STILL_FORCE_RANGE_SHARE * loadN &&
    rangeOf(recent, "turnNm") < STILL_TURN_RANGE_NM
  );
}

type Quantity = "loadN" | "leadShare" | "targetN" | "aheadN" | "turnNm";

function meanOf(ticks: readonly Tick[], quantity: Quantity): number {
  let sum = 0;
  for (const tick of ticks) sum += tick[quantity];
  return sum / ticks.length;
}

function extremes(ticks: readonly Tick[], quantity: Quantity): { readonly least: number; readonly largest: number } {
  let least = Number.POSITIVE_INFINITY;
  let largest = Number.NEGATIVE_INFINITY;
  for (const tick of ticks) {
    least = Math.min(least, tick[quantity]);
    largest = Math.max(largest, tick[quantity]);
  }
  return { least, largest };
}

function rangeOf(ticks: readonly Tick[], quantity: Quantity): number {
  const { least, largest } = extremes(ticks, quantity);
  return largest - least;
}

/** From 3 s before still was seen to be over to 0.7 s after the shot's end, at most 12 s. */
function cutOf(phase: Extract<Phase, { kind: "after" }>, endTick: number, rateHz: number): ShotCut {
  const sampleAt = (tick: number): number => Math.round((tick * rateHz) / TICKS_PER_SECOND);
  const first = Math.max(0, sampleAt(phase.leftStillAt - STILL_TICKS - PRE_ROLL_TICKS));
  const end = Math.min(sampleAt(endTick + 1 + POST_ROLL_TICKS), first + Math.round(LONGEST_CUT_S * rateHz));
  return { first, end, foundBy: phase.foundBy, isComplete: true };
}
