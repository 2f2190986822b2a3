// How often comparisons claim what is not there, and find what is: simulated sessions of scattered shots through the room `compare`.
// Seeded; no golf is needed for the numbers. Sources of what is expected: the nominal level 5 %, coverage 95 %, and the power of the t test.
import {
  allColumns,
  type ComparedShot,
  type Comparison,
  comparison,
  type ShotSeries,
  usualOf,
} from "../packages/compare/src/index.ts";
import { type Random, random, UnderfootError } from "../packages/domain/src/index.ts";
import { bcaInterval, power, shotsPerCondition } from "../packages/statistics/src/index.ts";

const MEASURES = allColumns("turf");
const [FIRST = ""] = MEASURES;
const CURVES = ["both.target turf", "both.speedTarget turf", "lead.share"] as const;
/** Measures hang together in groups of five, as peaks and their times do (own choice). */
const GROUP_OF = 5;
const CORRELATION = 0.7;
/** sd of B over that of A, session after session. */
const RATIOS = [1, 1, 2, 0.5] as const;
const [LEAST_SHOTS, MOST_SHOTS] = [6, 12];
/** Standard deviation of the Gaussian that smooths the curves, in points of 2 ms: 36 ms. */
const KERNEL_POINTS = 18;
const CURVE_POINTS = 501;
const DIFFERENCES_IN_SD = [1, 1.2, 1.5, 2] as const;
const BAND_SHOTS = [5, 8, 12] as const;

interface Options {
  readonly sessions: number;
  readonly seed: number;
  /** Curves take longest: sessions of them, where they are to be fewer. */
  readonly curveSessions: number;
}

/** A share of sessions and what its number of sessions leaves open: 1.96 standard errors. */
interface Share {
  readonly share: number;
  readonly plusMinus: number;
  readonly count: number;
}

/** `npm run bench -- honesty [--sessions 2000] [--curve-sessions N] [--seed 1]` */
export async function run(args: string[]): Promise<object> {
  const sessions = numberAfter(args, "--sessions", 2000);
  const options: Options = {
    sessions,
    seed: numberAfter(args, "--seed", 1),
    curveSessions: numberAfter(args, "--curve-sessions", sessions),
  };
  const measures = nothingThere(options);
  process.stderr.write(`measures ${JSON.stringify(measures)}\n`);
  const curves = noCurveThere(options);
  process.stderr.write(`curves ${JSON.stringify(curves)}\n`);
  const bands = bandCoverage(options);
  const bca = bcaCoverage(options);
  return {
    sessions,
    falseBeyondShare: measures.all.share,
    falseCurveShare: curves.all.share,
    power: foundPower(options),
    coverage: { band: bands.all, welch: measures.welch, bca: bca.all },
    detail: {
      seed: options.seed,
      countMeasures: MEASURES.length,
      countCurves: CURVES.length,
      curveSessions: options.curveSessions,
      beyond: measures,
      curves,
      bandByShots: bands.byShots,
      bcaByShots: bca.byShots,
    },
  };
}

function numberAfter(args: readonly string[], name: string, usual: number): number {
  const at = args.indexOf(name);
  if (at < 0) return usual;
  const value = Number(args[at + 1]);
  if (Number.isInteger(value) && value > 0) return value;
  throw new UnderfootError({
    code: "bench-option",
    sentence: `${name} needs a whole number above 0.`,
    remedy: `Leave it out for ${usual}.`,
  });
}

function shareOf(found: readonly boolean[]): Share {
  const count = found.length;
  const share = found.filter(Boolean).length / count;
  return { share, plusMinus: 1.96 * Math.sqrt((share * (1 - share)) / count), count };
}

function bySettings(
  found: readonly { readonly is: boolean; readonly ratio: number; readonly isEven: boolean }[],
): Record<string, Share> {
  const of = (keep: (one: (typeof found)[number]) => boolean): Share => shareOf(found.filter(keep).map(({ is }) => is));
  return {
    all: shareOf(found.map(({ is }) => is)),
    equalScatter: of(({ ratio }) => ratio === 1),
    unequalScatter: of(({ ratio }) => ratio !== 1),
    unequalScatterAndCounts: of(({ ratio, isEven }) => ratio !== 1 && !isEven),
  };
}

function progress(what: string, done: number, total: number): void {
  if (process.stderr.isTTY) process.stderr.write(`\r${what}: ${done} of ${total}   ${done === total ? "\n" : ""}`);
}

/** Numbers of two sides in a drawn order: places of the shots of A and of B. */
function drawnOrder(dice: Random, counts: readonly [number, number]): readonly [number[], number[]] {
  const places = dice.shuffle(Array.from({ length: counts[0] + counts[1] }, (_, k) => k + 1));
  return [places.slice(0, counts[0]), places.slice(counts[0])];
}

const someShots = (dice: Random): number => LEAST_SHOTS + dice.below(MOST_SHOTS - LEAST_SHOTS + 1);

function shot(name: string, ordinal: number, values: ReadonlyMap<string, number>): ComparedShot {
  return {
    shotId: `${name}${ordinal}`,
    label: "kept",
    sessionId: "invented",
    day: "2026-03-17",
    ordinal,
    intent: name,
    pitchDeg: 0,
    rollDeg: 0,
    impactSource: "marked",
    measures: new Map([...values].map(([column, value]) => [column, { value, sigma: 0, sigmaShared: 0 }])),
  };
}

/** All measures of one shot: mean 0, sd 1, those of a group correlated. */
function drawnMeasures(dice: Random): Map<string, number> {
  let common = 0;
  return new Map(
    MEASURES.map((column, m) => {
      if (m % GROUP_OF === 0) common = dice.normal();
      return [column, Math.sqrt(CORRELATION) * common + Math.sqrt(1 - CORRELATION) * dice.normal()];
    }),
  );
}

function scaledBy(values: ReadonlyMap<string, number>, factor: number): Map<string, number> {
  return new Map([...values].map(([column, value]) => [column, factor * value]));
}

const compared = (
  a: readonly ComparedShot[],
  b: readonly ComparedShot[],
  more: { readonly measures: readonly string[]; readonly curves?: readonly string[]; readonly seed: number },
): Comparison =>
  comparison({
    a: { name: "A", shots: a },
    b: { name: "B", shots: b },
    ...{ axes: "turf", detail: "verdicts", streams: random },
    ...more,
  });

/** Sessions without any difference: how often some measure is called beyond, and how often Welch's interval holds 0. */
function nothingThere({ sessions, seed }: Options) {
  const found: { is: boolean; ratio: number; isEven: boolean }[] = [];
  const held: boolean[] = [];
  for (let k = 0; k < sessions; k++) {
    const dice = random(seed, `measures/${k}`);
    const counts = [someShots(dice), someShots(dice)] as const;
    const ratio = RATIOS[k % RATIOS.length] ?? 1;
    const [ofA, ofB] = drawnOrder(dice, counts);
    const a = ofA.map((place) => shot("a", place, drawnMeasures(dice)));
    const b = ofB.map((place) => shot("b", place, scaledBy(drawnMeasures(dice), ratio)));
    const { measures, summary } = compared(a, b, { measures: MEASURES, seed: k });
    found.push({ is: summary.countBeyond > 0, ratio, isEven: counts[0] === counts[1] });
    measures.forEach(({ raw }, m) => {
      if (m % GROUP_OF === 0 && raw.kind !== "withheld") held.push(raw.low <= 0 && raw.high >= 0);
    });
    progress("Sessions without a difference", k + 1, sessions);
  }
  return { ...(bySettings(found) as Record<string, Share> & { all: Share }), welch: shareOf(held).share };
}

const KERNEL = Float64Array.from({ length: 6 * KERNEL_POINTS + 1 }, (_, k) =>
  Math.exp(-0.5 * ((k - 3 * KERNEL_POINTS) / KERNEL_POINTS) ** 2),
);
const KERNEL_LENGTH = Math.sqrt(KERNEL.reduce((sum, one) => sum + one * one, 0));

/** A smooth Gaussian curve of sd `sd` at every point. */
function drawnCurve(dice: Random, sd: number): Float64Array<ArrayBuffer> {
  const white = Float64Array.from({ length: CURVE_POINTS + KERNEL.length }, () => dice.normal());
  return Float64Array.from({ length: CURVE_POINTS }, (_, i) => {
    let sum = 0;
    for (let k = 0; k < KERNEL.length; k++) sum += (KERNEL[k] ?? 0) * (white[i + k] ?? 0);
    return (sd * sum) / KERNEL_LENGTH;
  });
}

function withCurves(one: ComparedShot, dice: Random, sd: number): ComparedShot {
  const curves = new Map(
    CURVES.map((column): [string, ShotSeries] => [
      column,
      {
        values: drawnCurve(dice, sd),
        ...{ sigma: 0, sigmaOfLie: 0, sigmaOfSetUp: 0, firstMs: -700, rateHz: 500 },
      },
    ]),
  );
  return { ...one, curves };
}

/** Sessions without any difference in their curves: how often some stretch of some curve is called beyond. */
function noCurveThere({ curveSessions, seed }: Options) {
  const found: { is: boolean; ratio: number; isEven: boolean }[] = [];
  for (let k = 0; k < curveSessions; k++) {
    const dice = random(seed, `curves/${k}`);
    const counts = [someShots(dice), someShots(dice)] as const;
    const ratio = RATIOS[k % RATIOS.length] ?? 1;
    const [ofA, ofB] = drawnOrder(dice, counts);
    const measured = (): Map<string, number> => new Map([[FIRST, dice.normal()]]);
    const a = ofA.map((place) => withCurves(shot("a", place, measured()), dice, 1));
    const b = ofB.map((place) => withCurves(shot("b", place, measured()), dice, ratio));
    const { curves } = compared(a, b, { measures: [FIRST], curves: CURVES, seed: k });
    const is = curves?.curves.some(({ stretches }) => stretches.length > 0) === true;
    found.push({ is, ratio, isEven: counts[0] === counts[1] });
    progress("Sessions without a difference, curves", k + 1, curveSessions);
  }
  return bySettings(found) as Record<string, Share> & { all: Share };
}

/** Sessions with a stated difference in one measure named before: how often it is found, and how often the plan says. */
function foundPower({ sessions, seed }: Options) {
  return DIFFERENCES_IN_SD.map((difference) => {
    const n = shotsPerCondition({ difference, sd: 1 }) ?? 0;
    const found = Array.from({ length: sessions }, (_, k) => {
      const dice = random(seed, `power/${difference}/${k}`);
      const [ofA, ofB] = drawnOrder(dice, [n, n]);
      const a = ofA.map((place) => shot("a", place, new Map([[FIRST, dice.normal()]])));
      const b = ofB.map((place) => shot("b", place, new Map([[FIRST, dice.normal() + difference]])));
      return compared(a, b, { measures: [FIRST], seed: k }).summary.countBeyond > 0;
    });
    const planned = power({ kind: "two-groups", nA: n, nB: n }, { difference, sd: 1 });
    return { differenceInSd: difference, shotsEach: n, planned, found: shareOf(found).share };
  });
}

/** How often the next shot falls inside the usual band. */
function bandCoverage({ sessions, seed }: Options) {
  const each = 5 * sessions;
  const byShots = BAND_SHOTS.map((n) => {
    const held = Array.from({ length: each }, (_, k) => {
      const dice = random(seed, `band/${n}/${k}`);
      const shots = Array.from({ length: n }, (_, i) => shot("a", i + 1, new Map([[FIRST, dice.normal()]])));
      const { measures } = usualOf({ name: "A", shots }, { measures: [FIRST], axes: "turf" });
      const band = measures[0]?.band;
      const next = dice.normal();
      return band?.kind === "band" && next >= band.low && next <= band.high;
    });
    return { shots: n, ...shareOf(held) };
  });
  return { all: byShots.reduce((sum, { share }) => sum + share, 0) / byShots.length, byShots };
}

const RESAMPLES = 1000;

/** How often the bootstrap interval of a difference holds it: too narrow at few shots, which is said where it is offered. */
function bcaCoverage({ sessions, seed }: Options) {
  const byShots = [8, 12].map((n) => {
    const held = Array.from({ length: sessions }, (_, k) => {
      const dice = random(seed, `bca/${n}/${k}`);
      const groups = [0, 1].map(() => Float64Array.from({ length: n }, () => dice.normal()));
      const mean = (values: ArrayLike<number>): number => Array.from(values).reduce((sum, one) => sum + one, 0) / n;
      const { low, high } = bcaInterval(groups, ([a = [], b = []]) => mean(b) - mean(a), {
        ...{ seed: k, streams: random, label: "bca", countResamples: RESAMPLES, mostExact: 0 },
      });
      return low <= 0 && high >= 0;
    });
    return { shots: n, ...shareOf(held) };
  });
  return { all: byShots.reduce((sum, { share }) => sum + share, 0) / byShots.length, byShots };
}
