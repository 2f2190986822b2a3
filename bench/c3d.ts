// Reading C3D: files of three processors, integers and reals, plate types 1 to 4, to forces, moments, CoP and free moments.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Recording } from "../packages/domain/src/index.ts";
import { recordingFromC3d } from "../packages/formats/src/index.ts";
import {
  DEFAULT_SETTINGS,
  type PlateCop,
  type PlateWrench,
  plateCop,
  plateWrench,
  type Settings,
} from "../packages/mechanics/src/index.ts";
import { benchOptions, benchResult, bytesOf, manifestOf, timed } from "./input.ts";

interface C3dFile {
  readonly path: string;
  readonly bytes: number;
}
interface C3dParams {
  readonly loadedN: number;
}
interface Computed {
  readonly recording: Recording;
  readonly plates: readonly { readonly wrench: PlateWrench; readonly cop: PlateCop }[];
}

/** Type 1: the written CoP counts as it is, however small the load. */
const SETTINGS: Settings = { ...DEFAULT_SETTINGS, loadOffN: 0 };

/** From the bytes of one file to the wrench, CoP and free moment of every plate at every sample; nothing mended, no zero. */
function computed(bytes: Uint8Array, file: string): Computed {
  const recording = recordingFromC3d(bytes, { file }, { markers: "read" });
  const plates = recording.plates.map((plate) => {
    const wrench = plateWrench(recording, plate, { settings: SETTINGS, asWritten: true });
    return { wrench, cop: plateCop(wrench, { leastLoadN: Number.NEGATIVE_INFINITY }) };
  });
  return { recording, plates };
}

function sumAbs(column: ArrayLike<number>, isCounted?: (i: number) => boolean): number {
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < column.length; i++) {
    if (isCounted !== undefined && !isCounted(i)) continue;
    // Kahan's compensated sum: millions of values, checked to 1e-9.
    const value = Math.abs(column[i]!) - lost;
    const next = sum + value;
    lost = next - sum - value;
    sum = next;
  }
  return sum;
}

function checksum(files: readonly Computed[], loadedN: number): Record<string, number> {
  const total = {
    files: files.length,
    plates: 0,
    samples: 0,
    values: 0,
    sum_abs_force: 0,
    sum_abs_moment: 0,
    sum_abs_cop: 0,
    sum_abs_free_moment: 0,
  };
  for (const { recording, plates } of files) {
    total.samples += recording.sampleCount;
    total.values += recording.sampleCount * recording.channels.length;
    total.plates += plates.length;
    for (const { wrench, cop } of plates) {
      const isLoaded = (i: number): boolean => Math.abs(cop.loadN[i]!) > loadedN;
      for (const axis of ["x", "y", "z"] as const) {
        total.sum_abs_force += sumAbs(wrench.forceN[axis]);
        total.sum_abs_moment += sumAbs(wrench.momentNm[axis]);
      }
      for (const column of [cop.xM, cop.yM, cop.zM]) total.sum_abs_cop += sumAbs(column, isLoaded);
      total.sum_abs_free_moment += sumAbs(cop.freeMomentNm, isLoaded);
    }
  }
  return total;
}

/** `npm run bench -- c3d --input DIR [--repeat 5]` */
export async function run(args: string[]): Promise<object> {
  const { input, repeat } = benchOptions(args);
  const manifest = manifestOf<readonly C3dFile[], C3dParams>(input, "c3d");
  // One untimed load: the files are then in the system's cache, and each is of the right length.
  for (const { path, bytes } of manifest.files) bytesOf(input, path, bytes);
  const timing = timed(() => manifest.files.map(({ path }) => computed(readFileSync(join(input, path)), path)), repeat);
  return benchResult(manifest, timing, checksum(timing.last, manifest.params.loadedN));
}
