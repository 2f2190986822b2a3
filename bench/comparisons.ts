// npm run bench -- comparisons [--shots 24,150]: comparisons of stored shots, each asked twice of a library just opened, and how long the
// asking thread is busy at once.
import { mkdtempSync, rmSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { random } from "../packages/domain/src/index.ts";
import { type Library, openLibrary } from "../packages/library/src/index.ts";
import { simulatedFiles } from "../packages/pipeline/src/index.ts";
import { demoShots, simulateShot } from "../packages/simulator/src/index.ts";

const DURATION_S = 4.5;
const CURVES = ["lead.share", "both.target", "both.speedTarget"];

/** Invented shots of one player: low and stock, flat and up the slope, by turns. */
async function filled(library: Library, countShots: number): Promise<void> {
  const plans = demoShots({ seed: 1 }).filter(
    ({ player, intent, lie }) =>
      player.name === "Player A" && ["low", "stock"].includes(intent) && ["flat", "upslope"].includes(lie.name),
  );
  for (let k = 0; k < countShots; k++) {
    const plan = plans[k % plans.length];
    if (plan === undefined) throw new RangeError("the demo has no such shot");
    const fileName = `${k}.c3d`;
    const { c3d, sidecar } = simulatedFiles(simulateShot({ ...plan, seed: 1000 + k, durationS: DURATION_S }), fileName);
    await library.bringIn({
      ...{ bytes: c3d, fileName, sidecarText: sidecar, day: "2026-03-09", isSessionOfDay: true },
    });
  }
}

interface Asked {
  readonly ms: number;
  /** Processor time of all threads: what it takes, however busy the machine is. */
  readonly cpuMs: number;
  /** Most processor time that one turn of the asking thread took: what a server's other requests wait for. */
  readonly longestTurnMs: number;
}

async function asked(work: () => Promise<unknown>): Promise<Asked> {
  const cpuMs = (): number => {
    const { user, system } = process.threadCpuUsage();
    return (user + system) / 1000;
  };
  let [longestTurnMs, isDone, before] = [0, false, cpuMs()];
  const turn = (): void => {
    const now = cpuMs();
    longestTurnMs = Math.max(longestTurnMs, now - before);
    before = now;
    if (!isDone) setImmediate(turn);
  };
  setImmediate(turn);
  const fromMs = performance.now();
  const cpuFrom = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(cpuFrom);
  const ms = performance.now() - fromMs;
  isDone = true;
  turn();
  return { ms: Math.round(ms), cpuMs: Math.round((user + system) / 1000), longestTurnMs: Math.round(longestTurnMs) };
}

/** Each question twice, in a library that has just been opened. */
async function figures(folder: string): Promise<object> {
  const library = await openLibrary({ folder });
  const [player] = await library.players.list();
  const of = { playerId: player?.id ?? "" };
  const sides = { a: { ...of, lieName: "flat" }, b: { ...of, lieName: "upslope" } };
  const measure = "lead.share.at.impact";
  const questions: Readonly<Record<string, () => Promise<unknown>>> = {
    board: () => library.compare.board({ of, measure }),
    boardWithCurve: () => library.compare.board({ of, measure, curve: "both.target" }),
    comparison: () => library.compare.comparison(sides),
    comparisonWithCurves: () => library.compare.comparison({ ...sides, curves: CURVES }),
    usual: () => library.compare.usual({ of: { ...of, lieName: "flat" }, curves: CURVES }),
  };
  const found: Record<string, { readonly first: Asked; readonly second: Asked }> = {};
  for (const [name, ask] of Object.entries(questions))
    found[name] = { first: await asked(ask), second: await asked(ask) };
  await library.close();
  return found;
}

export async function run(args: string[]): Promise<object> {
  const { values } = parseArgs({ args, options: { shots: { type: "string", default: "24,150" } } });
  const all: Record<string, object> = {};
  for (const count of values.shots.split(",").map(Number)) {
    const folder = mkdtempSync(join(tmpdir(), "underfoot-comparisons-"));
    try {
      const library = await openLibrary({ folder, random: random(1, "comparisons") });
      await filled(library, count);
      await library.recompute();
      await library.close();
      all[count] = await figures(folder);
    } finally {
      rmSync(folder, { recursive: true });
    }
  }
  return { cores: availableParallelism(), durationS: DURATION_S, shots: all };
}
