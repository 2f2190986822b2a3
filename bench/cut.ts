// How many shots of simulated sessions are found, each session one recording at 1000 Hz of which nothing else is known: missed,
// doubled and false ones, what the search takes and how much memory beside the recording.
// Run: npm run bench -- cut [--minutes 30] [--shots 60]
import { parseArgs } from "node:util";
import { INTENTS, UnderfootError } from "../packages/domain/src/index.ts";
import { type FoundShot, shotsInRecording } from "../packages/pipeline/src/index.ts";
import { idleStream, SIMULATED_LIES, simulatedPlayer, streamRecording } from "../packages/simulator/src/index.ts";

const RATE_HZ = 1000;
const SESSIONS = [
  { handed: "right", lie: SIMULATED_LIES.flat },
  { handed: "left", lie: SIMULATED_LIES.upslope },
  { handed: "right", lie: SIMULATED_LIES.downslope },
  { handed: "left", lie: SIMULATED_LIES.ballBelow },
] as const;

function holds({ stretch }: FoundShot, impactS: number): boolean {
  return impactS * RATE_HZ >= stretch.first && impactS * RATE_HZ < stretch.end;
}

/** One session: every fourth shot a mishit, between waggles, rocking, looks, stepping on and off. */
function session(k: number, { minutes, shots }: { readonly minutes: number; readonly shots: number }) {
  const { handed, lie } = SESSIONS[k]!;
  const player = simulatedPlayer({ seed: 40 + k, handed });
  const asked = Array.from({ length: shots }, (_, i) => ({
    seed: 1000 * k + i,
    player,
    intent: INTENTS[i % INTENTS.length]!,
    lie,
    durationS: 8,
    isMishit: i % 4 === 0,
  }));
  const stream = idleStream({ seed: k, player, lie, minutes, rateHz: RATE_HZ, shots: asked });
  const { recording, impactsS } = streamRecording(stream, { player, lie, rateHz: RATE_HZ });
  globalThis.gc?.();
  const before = process.memoryUsage();
  let most = 0;
  const start = performance.now();
  const found = shotsInRecording(recording, {
    onProgress: () => {
      const { arrayBuffers, heapUsed } = process.memoryUsage();
      most = Math.max(most, arrayBuffers + heapUsed - before.arrayBuffers - before.heapUsed);
    },
  });
  return {
    minutes: recording.sampleCount / RATE_HZ / 60,
    shots: impactsS.length,
    found: found.length,
    missed: impactsS.filter((impactS) => !found.some((shot) => holds(shot, impactS))).length,
    doubled: impactsS.filter((impactS) => found.filter((shot) => holds(shot, impactS)).length > 1).length,
    false: found.filter((shot) => !impactsS.some((impactS) => holds(shot, impactS))).length,
    ms: performance.now() - start,
    extraMb: most / 1e6,
  };
}

export async function run(args: string[]): Promise<object> {
  const { values } = parseArgs({ args, options: { minutes: { type: "string" }, shots: { type: "string" } } });
  const minutes = Number(values.minutes ?? 30);
  const shots = Number(values.shots ?? 60);
  if (!(minutes >= 0 && Number.isInteger(shots) && shots >= 2)) {
    throw new UnderfootError({
      code: "bench-options",
      sentence: "The options --minutes and --shots cannot be used as given.",
      remedy: "Give --minutes a number from 0 and --shots a whole number from 2.",
    });
  }
  const sessions = SESSIONS.map((_, k) => session(k, { minutes, shots }));
  const total = (name: "minutes" | "shots" | "found" | "missed" | "doubled" | "false" | "ms"): number =>
    sessions.reduce((sum, one) => sum + one[name], 0);
  return {
    bench: "cut",
    minutes: total("minutes"),
    shots: total("shots"),
    found: total("found"),
    missed: total("missed"),
    doubled: total("doubled"),
    false: total("false"),
    msPerMinute: total("ms") / total("minutes"),
    extraMb: Math.max(...sessions.map(({ extraMb }) => extraMb)),
    sessions,
  };
}
