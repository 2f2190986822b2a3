// How far estimated events and the motion of the centre of mass lie from the truth of simulated shots, which findings the
// shots raise, and what one shot takes. Run: npm run bench -- events [--shots 200] [--marks none|noisy|exact]
import { parseArgs } from "node:util";
import { INTENTS, random, UnderfootError } from "../packages/domain/src/index.ts";
import { shotFromRecording } from "../packages/mechanics/src/index.ts";
import { valueAt } from "../packages/signal/src/index.ts";
import { type Marks, type SimulatedShot, simulatedPlayer, simulateShot } from "../packages/simulator/src/index.ts";

const RATES_HZ = [500, 1000, 2000] as const;
const WITHIN_95 = 1.959964;
const TIMED_RUNS = 30;

/** The k-th shot: intents, hands and rates in turn, any lie within 6° and 4°, sensor errors as the simulator's default. */
function shotOf(k: number, marks: Marks): SimulatedShot {
  const draw = random(k, "events");
  return simulateShot({
    seed: k + 1000,
    sessionSeed: k,
    player: simulatedPlayer({ seed: (k % 17) + 1, handed: k % 2 === 1 ? "left" : "right" }),
    intent: INTENTS[k % INTENTS.length] ?? "stock",
    lie: { name: "any", pitchDeg: 12 * draw.unit() - 6, rollDeg: 8 * draw.unit() - 4 },
    rateHz: RATES_HZ[k % RATES_HZ.length] ?? 1000,
    marks,
    hasTrigger: true,
  });
}

interface Spread {
  readonly n: number;
  readonly mean: number;
  readonly sd: number;
  readonly from: number;
  readonly to: number;
}

/** Mean, sd and the middle 95 % of errors. */
function spread(errors: readonly number[]): Spread {
  const n = errors.length;
  const mean = errors.reduce((a, b) => a + b, 0) / n;
  const sd = Math.sqrt(errors.reduce((a, b) => a + (b - mean) ** 2, 0) / n);
  const sorted = [...errors].sort((a, b) => a - b);
  const quantile = (p: number): number => sorted[Math.min(n - 1, Math.floor(p * n))] ?? Number.NaN;
  return { n, mean, sd, from: quantile(0.025), to: quantile(0.975) };
}

export async function run(args: string[]): Promise<object> {
  const { values } = parseArgs({ args, options: { shots: { type: "string" }, marks: { type: "string" } } });
  const shots = Number(values.shots ?? 200);
  const marks = (["none", "noisy", "exact"] as const).find((m) => m === (values.marks ?? "none"));
  if (!(shots >= 1) || marks === undefined) {
    throw new UnderfootError({
      code: "bench-options",
      sentence: "The options --shots and --marks cannot be used as given.",
      remedy: "Give --shots a number from 1 and --marks one of none, noisy, exact.",
    });
  }
  const errors = new Map<string, number[]>();
  const within = new Map<string, number>();
  const findings: Record<string, number> = {};
  const add = (name: string, error: number): void => {
    errors.set(name, [...(errors.get(name) ?? []), error]);
  };
  for (let k = 0; k < shots; k++) {
    const { recording, facts, truth } = shotOf(k, marks);
    const shot = shotFromRecording(recording, facts);
    for (const { code } of shot.findings) findings[code] = (findings[code] ?? 0) + 1;
    for (const { event, timeS } of shot.events)
      if (event !== "address") add(`${event} ms`, 1000 * (timeS - truth.events[event]));
    add("mass %", 100 * (shot.massKg / truth.massKg - 1));
    const { timeS } = truth.curves;
    const denseHz = (timeS.length - 1) / (timeS.at(-1)! - timeS[0]!);
    for (const [name, curve, sigma, unit] of [
      ["speedTarget", "speedTargetMPerS", "speedTargetSigmaMPerS", "mm/s"],
      ["speedUp", "speedUpMPerS", "speedUpSigmaMPerS", "mm/s"],
      ["travelTarget", "travelTargetM", "travelTargetSigmaM", "mm"],
    ] as const) {
      const impactS = truth.events.impact;
      const trueValue = valueAt(truth.curves.level[curve], (impactS - timeS[0]!) * denseHz);
      const error = valueAt(shot.level[curve], impactS * shot.rateHz) - trueValue;
      const key = `${name} at impact ${unit}`;
      add(key, 1000 * error);
      const isWithin = Math.abs(error) <= WITHIN_95 * valueAt(shot.level[sigma], impactS * shot.rateHz);
      within.set(key, (within.get(key) ?? 0) + (isWithin ? 1 / shots : 0));
    }
  }
  return {
    bench: "events",
    shots,
    marks,
    errors: Object.fromEntries([...errors].map(([name, list]) => [name, spread(list)])),
    within95: Object.fromEntries(within),
    findings,
    msPerShot: bestMs(),
  };
}

/** Channels to shot, 6 s of two plates at 1000 Hz: the best of several runs, ms. */
function bestMs(): number {
  const { recording, facts } = shotOf(1, "none");
  let best = Number.POSITIVE_INFINITY;
  for (let r = 0; r < TIMED_RUNS; r++) {
    const before = performance.now();
    for (let k = 0; k < 5; k++) shotFromRecording(recording, facts);
    best = Math.min(best, (performance.now() - before) / 5);
  }
  return best;
}
