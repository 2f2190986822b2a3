import {
  type Column,
  dot,
  type Handed,
  norm,
  type PlateDescription,
  type PlateFact,
  plateFrame,
  type Recording,
  type ShotFacts,
  scaled,
  sum,
  type Vector,
} from "@underfoot/domain";
import {
  DEFAULT_SETTINGS,
  type DetectorBlock,
  type DetectorState,
  detectorStart,
  detectorStep,
  detectorStop,
  type PlateWrench,
  type PlayerWrench,
  plateWrench,
  playerWrench,
  type Settings,
  type ShotCut,
  soundImpacts,
  triggerImpacts,
  turfAxes,
  validMean,
} from "@underfoot/mechanics";
import { inspection, type PlateInspection } from "./inspection.ts";
import { recordingStretch, type Stretch } from "./recording-stretch.ts";

/** One shot's part of a recording. */
export interface FoundShot {
  /** Samples [first, end), what came before the shot included; neighbours may overlap. */
  readonly stretch: Stretch;
  /** Where a trigger or a sound tells it: seconds from the recording's first sample. */
  readonly impactS?: number;
  /**
   * `turn`: angular momentum away from the target, then toward it; `impact`: trigger or sound; `whole`: the recording is
   * one shot, or none was found in it, and nothing is cut off.
   */
  readonly reason: ShotCut["foundBy"] | "whole";
}

export interface ShotSearchOptions {
  /** Which plate is which foot, hand and target; without them both hands are tried. Zeros count from the first sample. */
  readonly facts?: ShotFacts;
  readonly settings?: Settings;
}

/** Up to this length a recording with one shot in it is that shot as somebody recorded it, s (ours). */
const LONGEST_ONE_SHOT_S = 20;
/** Two shots, each after a stance, take longer: what is shorter is not searched, s (ours). */
const SHORTEST_SESSION_S = 8;
/** The detector's means over 10 ms want two samples. */
const LOWEST_RATE_HZ = 200;
/** Samples handed on in one go: keeps memory flat however long the recording is. */
const BLOCK_SAMPLES = 1 << 14;
/** A second plate with less than this share of the mean load carries no foot: the detector's own limit of a stance on both. */
const LEAST_FOOT_SHARE = 0.08;

/** A plate that carries a foot, or both. */
interface UsedPlate {
  readonly plate: PlateDescription;
  readonly fact: PlateFact;
  readonly seen: PlateInspection;
}

/** Plates, axes and hands to search with. */
interface Footing {
  /** One plate for both feet, or lead and trail; which is which changes nothing but the name. */
  readonly plates: readonly UsedPlate[];
  readonly target: Vector;
  readonly hands: readonly Handed[];
}

/** The search for a player of one hand. */
interface HandSearch {
  readonly handed: Handed;
  readonly state: DetectorState;
  readonly cuts: readonly ShotCut[];
}

/**
 * The shots of one recording that may hold a whole session, each cut out with what came before it, as the live detector
 * cuts them (`detectorStep`): waggles, rocking, stepping off and on are no shots, a mishit is one.
 *
 * Without facts the two plates with most load are taken for the feet, and the search is made for either hand: the one
 * with more shots is the player's. Angular momentum needs neither target nor feet, only the hand.
 *
 * A recording of up to 20 s in which one shot is found, and any in which none is found, comes back whole, so that
 * importing a file with one shot cuts nothing off.
 *
 * @param onProgress  told the share of the samples gone through, 0 to 1; what it throws ends the search
 * @returns           at least one, in order of time
 * @throws UnderfootError `target-along-normal`
 */
export function shotsInRecording(
  recording: Recording,
  options: ShotSearchOptions & { readonly onProgress?: (shareOfOne: number) => void } = {},
): readonly FoundShot[] {
  const search = shotSearch(recording, options);
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
    options.onProgress?.(step.value);
  }
}

/**
 * The same search step by step, for a caller who does something else in between or leaves off: yields the share of the
 * samples gone through, 0 to 1, 16,384 samples at a time.
 */
export function* shotSearch(
  recording: Recording,
  { facts, settings = DEFAULT_SETTINGS }: ShotSearchOptions = {},
): Generator<number, readonly FoundShot[], undefined> {
  const { rateHz, sampleCount } = recording;
  const whole: readonly FoundShot[] = [{ stretch: { first: 0, end: sampleCount }, reason: "whole" }];
  const isSearched = rateHz >= LOWEST_RATE_HZ && sampleCount > SHORTEST_SESSION_S * rateHz;
  const footing = isSearched ? footingOf(recording, facts, settings) : undefined;
  if (footing === undefined) return whole;
  const zeros = footing.plates.map((used) => givenZero(recording, used, settings));
  const impacts = impactSamples(recording);
  let searches = footing.hands.map((handed): HandSearch => ({ handed, state: detectorStart({ rateHz }), cuts: [] }));
  for (let first = 0; first < sampleCount; first += BLOCK_SAMPLES) {
    const stretch = { first, end: Math.min(sampleCount, first + BLOCK_SAMPLES) };
    const wrenches = footing.plates.map((used, k) =>
      withoutZero(blockWrench(recording, stretch, used, settings), zeros[k]),
    );
    const impactAt = impacts.filter((at) => at >= first && at < stretch.end).map((at) => at - first);
    searches = searches.map(({ handed, state, cuts }) => {
      const step = detectorStep(state, { ...feet(wrenches, footing.target, handed), impactAt });
      return { handed, state: step.state, cuts: [...cuts, ...step.cuts] };
    });
    yield stretch.end / sampleCount;
  }
  const found = searches.map(({ state, cuts }) => [...cuts, ...detectorStop(state)]);
  // The wrong hand sees every swing the wrong way round and finds it, if at all, by its impact.
  const cuts = found.reduce((best, next) => (turnsIn(next) > turnsIn(best) ? next : best));
  const isOneShot = cuts.length === 1 && sampleCount / rateHz <= LONGEST_ONE_SHOT_S;
  if (cuts.length === 0 || isOneShot) return whole;
  return cuts.map((cut) => foundShot(cut, impacts, rateHz));
}

function turnsIn(cuts: readonly ShotCut[]): number {
  return cuts.filter(({ foundBy }) => foundBy === "turn").length;
}

function foundShot({ first, end, foundBy }: ShotCut, impacts: readonly number[], rateHz: number): FoundShot {
  // What came before may reach back to the shot before, so the last impact inside is this shot's.
  const at = impacts.findLast((sample) => sample >= first && sample < end);
  return { stretch: { first, end }, reason: foundBy, ...(at === undefined ? {} : { impactS: at / rateHz }) };
}

/** Samples at which a trigger, else a sound, says that a ball was struck. */
function impactSamples({ channels, rateHz }: Recording): readonly number[] {
  for (const role of ["trigger", "sound"] as const) {
    const channel = channels.find((one) => one.role === role);
    if (channel === undefined) continue;
    const impacts = role === "trigger" ? triggerImpacts(channel, rateHz) : soundImpacts(channel, rateHz);
    const samples = [...impacts].map(({ timeS }) => Math.round(timeS * rateHz));
    if (samples.length > 0) return samples;
  }
  return [];
}

/** Which plates carry the player; undefined where none can be computed. */
function footingOf(recording: Recording, facts: ShotFacts | undefined, settings: Settings): Footing | undefined {
  const seen = inspection(recording).plates;
  const usable = recording.plates.flatMap((plate, k): UsedPlate[] => {
    const here = seen[k];
    if (!here?.storedAs || !here.loadN || here.count === 0) return [];
    const said = facts?.plates.find((one) => one.plate === plate.index);
    const fact: PlateFact = { foot: "none", plate: plate.index, ...said, sense: here.storedAs };
    return [senseAfterZero(recording, { plate, seen: here, fact }, settings)];
  });
  const named = (["lead", "trail", "both"] as const).flatMap((foot) => usable.filter(({ fact }) => fact.foot === foot));
  const plates = named.length > 0 ? named.slice(0, 2) : mostLoaded(usable);
  const [one, other] = plates;
  if (one === undefined) return undefined;
  const apart = other && sum(one.seen.centreM, scaled(other.seen.centreM, -1));
  const line = apart && norm(apart) > 0 ? apart : plateFrame(one.plate.corners).x;
  return { plates, target: facts?.target ?? line, hands: facts ? [facts.handed] : ["right", "left"] };
}

/** Where a zero was given the load counts from it: its mean over the recording then tells action from reaction. */
function senseAfterZero(recording: Recording, used: UsedPlate, settings: Settings): UsedPlate {
  const zero = givenZero(recording, used, settings);
  const meanN = used.seen.loadN?.mean ?? 0;
  if (zero === undefined || meanN >= meanLoadN(zero)) return used;
  return { ...used, fact: { ...used.fact, sense: used.fact.sense === "on-plate" ? "on-player" : "on-plate" } };
}

function meanLoadN({ forceN: { x, y, z }, frame: { normal } }: PlateWrench): number {
  const meanOf = (column: Column): number => validMean(column, 0, column.length);
  return dot(normal, { x: meanOf(x), y: meanOf(y), z: meanOf(z) });
}

/** The two plates that carry most, or one where the second carries no foot. */
function mostLoaded(usable: readonly UsedPlate[]): readonly UsedPlate[] {
  const meanN = ({ seen }: UsedPlate): number => Math.max(0, seen.loadN?.mean ?? 0);
  const [one, other] = usable.toSorted((a, b) => meanN(b) - meanN(a));
  if (!one || !other) return usable;
  return meanN(other) < LEAST_FOOT_SHARE * (meanN(one) + meanN(other)) ? [one] : [one, other];
}

/**
 * One block of a plate. As written: a spike or an offset of some newtons is nothing to the detector's means and ranges, and
 * neither is a clock that is some milliseconds off.
 */
function blockWrench(
  recording: Recording,
  stretch: Stretch,
  { plate, fact }: UsedPlate,
  settings: Settings,
): PlateWrench {
  return plateWrench(recordingStretch(recording, stretch), plate, { settings, fact, asWritten: true });
}

/** The unloaded stretch that somebody gave, whose mean may be large; undefined: nothing to take off. */
function givenZero(recording: Recording, used: UsedPlate, settings: Settings): PlateWrench | undefined {
  const { zero } = used.fact;
  if (zero === undefined || zero === "none") return undefined;
  const first = Math.round(zero[0] * recording.rateHz);
  const end = Math.round(zero[1] * recording.rateHz);
  if (!(first >= 0 && first < end && end <= recording.sampleCount)) return undefined;
  return blockWrench(recording, { first, end }, used, settings);
}

/** Takes the means of the zero off the wrench's six columns, in place. */
function withoutZero(wrench: PlateWrench, zero: PlateWrench | undefined): PlateWrench {
  if (zero === undefined) return wrench;
  for (const part of ["forceN", "momentNm"] as const) {
    for (const axis of ["x", "y", "z"] as const) {
      const offset = validMean(zero[part][axis], 0, zero[part][axis].length);
      if (!Number.isFinite(offset)) continue;
      const column = wrench[part][axis];
      for (let i = 0; i < column.length; i++) column[i] = column[i]! - offset;
    }
  }
  return wrench;
}

/** Both feet's player wrenches about the first plate's centre; one plate under both feet counts half for each. */
function feet(wrenches: readonly PlateWrench[], target: Vector, handed: Handed): Pick<DetectorBlock, "lead" | "trail"> {
  const { normal, centreM } = wrenches[0]!.frame;
  const axes = turfAxes(normal, target, handed);
  const [lead, trail] = wrenches.map((wrench) => playerWrench(wrench, axes, centreM));
  return trail === undefined ? { lead: halved(lead!), trail: halved(lead!) } : { lead: lead!, trail };
}

function halved({ targetN, aheadN, upN, bTargetNm, bAheadNm, turnNm }: PlayerWrench): PlayerWrench {
  const half = (column: Column): Column => column.map((value) => value / 2);
  return {
    targetN: half(targetN),
    aheadN: half(aheadN),
    upN: half(upN),
    bTargetNm: half(bTargetNm),
    bAheadNm: half(bAheadNm),
    turnNm: half(turnNm),
  };
}
