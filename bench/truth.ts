// How well the stated uncertainties hold: simulated shots with known truth, computed as any recording is.
// Truth: the simulator's own measures, made from unfiltered curves without sensor errors by the same definitions, in code
// that shares no line with mechanics. Two exceptions where the definition hangs on the recording: see `definedTruth`.
import { type EventName, INTENTS, random, type ShotFacts, UnderfootError } from "../packages/domain/src/index.ts";
import { measuresFromShot, type Shot, shotFromRecording } from "../packages/mechanics/src/index.ts";
import { butterworthLowPass, valueAt, zeroPhaseMany } from "../packages/signal/src/index.ts";
import {
  randomPlates,
  type ShotTruth,
  SIMULATED_LIES,
  type SimulatedShot,
  simulatedPlayer,
  simulateShot,
} from "../packages/simulator/src/index.ts";

/** Of a normal error, 95 % lie within this many sigmas. */
const WITHIN_95 = 1.959964;
const LEAST_COVERAGE = 0.92;
const MOST_COVERAGE = 0.98;
/** Measures that are valid more rarely than this are not judged (mechanics, uncertainty). */
const LEAST_VALID = 0.2;
const RATES_HZ = [500, 1000, 1000, 1000, 2000] as const;

/** Errors of one measure over all shots in which it was valid. */
interface Tally {
  readonly errors: number[];
  readonly sigmas: number[];
}

type Tallies = Map<string, Tally>;

/** `npm run bench -- truth --shots 500 [--seed 1] [--detail]` */
export async function run(args: string[]): Promise<object> {
  const shots = numberAfter(args, "--shots", 500);
  const seed = numberAfter(args, "--seed", 1);
  const marked: Tallies = new Map();
  const estimated: Tallies = new Map();
  const eventErrorsMs = new Map<string, number[]>();
  for (let i = 0; i < shots; i++) {
    const simulated = simulatedOne(seed * 100_000 + i);
    const { recording, facts, truth } = simulated;
    tallyMeasures(marked, shotFromRecording(recording, facts), truth);
    const unmarked: ShotFacts = { ...facts, events: [] };
    const shot = shotFromRecording(recording, unmarked);
    tallyMeasures(estimated, shot, truth);
    tallyEvents(eventErrorsMs, shot, truth);
    if (process.stderr.isTTY) process.stderr.write(`\r${i + 1} of ${shots} shots`);
  }
  if (process.stderr.isTTY) process.stderr.write("\n");
  if (args.includes("--detail")) printDetail("marked", marked, shots);
  if (args.includes("--detail-estimated")) printDetail("estimated", estimated, shots);
  return resultOf({ shots, seed, marked, estimated, eventErrorsMs });
}

function numberAfter(args: readonly string[], name: string, usual: number): number {
  const at = args.indexOf(name);
  if (at < 0) return usual;
  const value = Number(args[at + 1]);
  if (Number.isInteger(value) && value > 0) return value;
  throw new UnderfootError({
    code: "bench/number",
    sentence: `${name} is followed by "${args[at + 1] ?? ""}".`,
    remedy: `Give a whole number from 1, for example ${name} ${usual}.`,
  });
}

/** One shot of a session of its own: any intent, lie, hand, plates of types 2 to 4 or 1, default sensor errors, marks by a person. */
function simulatedOne(seed: number): SimulatedShot {
  const draw = random(seed, "truth bench");
  const lies = Object.values(SIMULATED_LIES);
  const usual = lies[draw.below(lies.length)]!;
  const lie =
    draw.unit() < 0.5
      ? usual
      : { name: "any slope", pitchDeg: 12 * (draw.unit() - 0.5), rollDeg: 8 * (draw.unit() - 0.5) };
  return simulateShot({
    seed,
    player: simulatedPlayer({ seed, handed: draw.unit() < 0.5 ? "left" : "right" }),
    intent: INTENTS[draw.below(INTENTS.length)]!,
    lie,
    plates: randomPlates(seed),
    rateHz: RATES_HZ[draw.below(RATES_HZ.length)]!,
    isMishit: draw.unit() < 0.15,
    marks: "noisy",
  });
}

function keyOf({ id, axes }: { readonly id: string; readonly axes?: string | undefined }): string {
  return axes === undefined ? id : `${id} [${axes}]`;
}

function tallyMeasures(tallies: Tallies, shot: Shot, truth: ShotTruth): void {
  const truths = new Map(truth.measures.map((measure) => [keyOf(measure), measure.value]));
  for (const [key, value] of definedTruth(shot, truth)) truths.set(key, value);
  for (const measure of measuresFromShot(shot)) {
    if (measure.id === "both.peakOrder.text") continue;
    const key = keyOf(measure);
    const true_ = truths.get(key);
    if (true_ === undefined) throw new RangeError(`the simulator has no truth for ${key}`);
    const tally = tallies.get(key) ?? { errors: [], sigmas: [] };
    tallies.set(key, tally);
    if (!measure.isValid || !Number.isFinite(true_)) continue;
    tally.errors.push(measure.value - true_);
    tally.sigmas.push(measure.sigma);
  }
}

/**
 * Truth where the simulator's own row means something else: the CoP's path is that of the CoP low-passed at 10 Hz, and a
 * force's impulse is the change of momentum from top to impact, from the true velocity (the simulator takes off the mean
 * of a window that sways too).
 */
function definedTruth(shot: Shot, truth: ShotTruth): ReadonlyMap<string, number> {
  const found = new Map([["both.cop.path", truePathMm(shot, truth)]]);
  const { rateHz } = shot;
  const { top, impact } = truth.events;
  for (const axes of ["turf", "level"] as const) {
    const motion = truth.curves[axes];
    const speeds = { target: motion.speedTargetMPerS, ahead: motion.speedAheadMPerS, up: motion.speedUpMPerS };
    for (const [direction, speed] of Object.entries(speeds)) {
      const gain = valueAt(speed, impact * rateHz) - valueAt(speed, top * rateHz);
      found.set(`both.${direction}.impulse [${axes}]`, truth.massKg * gain);
    }
  }
  return found;
}

function truePathMm({ rateHz }: Shot, { curves, events }: ShotTruth): number {
  const filter = butterworthLowPass({ cutoffHz: 10, rateHz });
  const [t, a] = zeroPhaseMany([curves.both.copTargetM, curves.both.copAheadM], filter);
  const first = Math.ceil(events.start * rateHz);
  const last = Math.floor(events.impact * rateHz);
  let path = 0;
  for (let i = first + 1; i <= last; i++) path += Math.hypot(t![i]! - t![i - 1]!, a![i]! - a![i - 1]!);
  return 1000 * path;
}

function tallyEvents(errorsMs: Map<string, number[]>, shot: Shot, truth: ShotTruth): void {
  for (const { event, timeS } of shot.events) {
    if (event === "address") continue;
    const list = errorsMs.get(event) ?? [];
    list.push(1000 * (timeS - truth.events[event as EventName]));
    errorsMs.set(event, list);
  }
}

function coverageOf({ errors, sigmas }: Tally): number {
  const inside = errors.filter((error, i) => Math.abs(error) <= WITHIN_95 * sigmas[i]!).length;
  return inside / errors.length;
}

function sdOf(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

function printDetail(title: string, tallies: Tallies, shots: number): void {
  process.stderr.write(`${title}: measure, coverage, error/sigma rms, error rms, mean error, median sigma, valid\n`);
  for (const [key, tally] of tallies) {
    const ratio = tally.errors.map((error, i) => error / tally.sigmas[i]!);
    const mean = tally.errors.reduce((sum, value) => sum + value, 0) / tally.errors.length;
    const coverage = coverageOf(tally);
    const mark = coverage < LEAST_COVERAGE ? "-" : coverage > MOST_COVERAGE ? "+" : " ";
    process.stderr.write(
      `${mark} ${key.padEnd(36)} ${coverage.toFixed(3)} ${sdOf(ratio).toFixed(2).padStart(6)} ${sdOf(tally.errors).toPrecision(3).padStart(9)} ${mean.toPrecision(2).padStart(9)} ${quantile(tally.sigmas, 0.5).toPrecision(3).padStart(9)} ${(tally.errors.length / shots).toFixed(2)}\n`,
    );
  }
}

interface Found {
  readonly shots: number;
  readonly seed: number;
  readonly marked: Tallies;
  readonly estimated: Tallies;
  readonly eventErrorsMs: ReadonlyMap<string, number[]>;
}

function judged(tallies: Tallies, shots: number): Map<string, number> {
  const entries = [...tallies].filter(([, { errors }]) => errors.length >= LEAST_VALID * shots);
  return new Map(entries.map(([key, tally]) => [key, coverageOf(tally)]));
}

function resultOf({ shots, seed, marked, estimated, eventErrorsMs }: Found): object {
  const coverage = judged(marked, shots);
  const coverageEstimated = judged(estimated, shots);
  const outside = (map: Map<string, number>, is: (share: number) => boolean): string[] =>
    [...map].filter(([, share]) => is(share)).map(([key]) => key);
  const rounded = (map: Map<string, number>): object =>
    Object.fromEntries([...map].map(([key, share]) => [key, Math.round(1e4 * share) / 1e4]));
  const errorSd = (key: string): number => Number(sdOf(marked.get(key)?.errors ?? []).toPrecision(3));
  return {
    shots,
    seed,
    measures: coverage.size,
    notJudged: [...marked.keys()].filter((key) => !coverage.has(key)),
    below: outside(coverage, (share) => share < LEAST_COVERAGE),
    above: outside(coverage, (share) => share > MOST_COVERAGE),
    belowWithEstimatedEvents: outside(coverageEstimated, (share) => share < LEAST_COVERAGE),
    speedAtImpactSdMPerS: errorSd("both.speedTarget.at.impact [level]"),
    copSdMm: errorSd("both.copTarget.at.impact"),
    eventSdMs: Object.fromEntries(
      [...eventErrorsMs].map(([event, errors]) => [event, Number(sdOf(errors).toPrecision(3))]),
    ),
    coverage: rounded(coverage),
    coverageWithEstimatedEvents: rounded(coverageEstimated),
  };
}
