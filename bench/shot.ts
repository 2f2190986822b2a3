// What a person waits for after one shot: bytes to recording, to curves and events, to every measure of the catalogue.
import { parseArgs } from "node:util";
import { recordingFromBytes } from "../packages/formats/src/index.ts";
import { measuresFromShot, shotFromRecording } from "../packages/mechanics/src/index.ts";
import { simulatedFiles } from "../packages/pipeline/src/index.ts";
import { demoShots, simulateShot } from "../packages/simulator/src/index.ts";
import { median } from "./input.ts";

/**
 * `npm run bench -- shot [--repeat 5]`: the demo's shots (two plates, 6 s, 1000 Hz), one warm-up round, then `repeat`
 * rounds; medians over all shots and rounds, ms, one thread.
 */
export async function run(args: string[]): Promise<object> {
  const { values } = parseArgs({ args, options: { repeat: { type: "string", default: "5" } } });
  const files = demoShots({ seed: 1 }).map((plan) => {
    const shot = simulateShot(plan);
    return { name: `${plan.name}.c3d`, bytes: simulatedFiles(shot, plan.name).c3d, facts: shot.facts };
  });
  const readMs: number[] = [];
  const shotMs: number[] = [];
  const measuresMs: number[] = [];
  const wholeMs: number[] = [];
  for (let round = 0; round <= Number(values.repeat); round++) {
    for (const { name, bytes, facts } of files) {
      const t0 = performance.now();
      const recording = recordingFromBytes(bytes, { file: name });
      const t1 = performance.now();
      const shot = shotFromRecording(recording, facts);
      const t2 = performance.now();
      measuresFromShot(shot);
      const t3 = performance.now();
      if (round === 0) continue;
      readMs.push(t1 - t0);
      shotMs.push(t2 - t1);
      measuresMs.push(t3 - t2);
      wholeMs.push(t3 - t0);
    }
  }
  const [read, curves, measures, whole] = [readMs, shotMs, measuresMs, wholeMs].map(median);
  return { shots: files.length, rounds: Number(values.repeat), msMedian: { read, curves, measures, whole } };
}
