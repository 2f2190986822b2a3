import type { Foot, PlateCorners, Recording, ShotFacts, Vector } from "@underfoot/domain";
import type { StreamPart } from "./idle-stream.ts";
import type { SimulatedLie } from "./lie-axes.ts";
import type { SimulatedPlayer } from "./player.ts";
import type { RawPlate } from "./simulated-recording.ts";

/** A whole session in one recording: what a reader and a coach would have, and when each ball was struck. */
export interface StreamRecording {
  readonly recording: Recording;
  readonly raw: readonly RawPlate[];
  readonly facts: ShotFacts;
  /** From the first sample. */
  readonly impactsS: readonly number[];
}

const LABELS = ["Fx", "Fy", "Fz", "Mx", "My", "Mz"] as const;
const UNITS = ["N", "N", "N", "N m", "N m", "N m"] as const;
const FULL_SCALE = [2000, 2000, 5000, 1000, 1000, 500] as const;
/** Along the target line and ahead, m. */
const SIZE_M: readonly [number, number] = [0.4, 0.6];
const APART_M = 0.41;
/** Under less load than this nobody says whose foot the horizontal force is, N. */
const LEAST_LOAD_N = 50;
const NOWHERE: Vector = { x: 0, y: 0, z: 0 };

/**
 * What two plates of type 2 record of a stream, in a laboratory that is tied to them: target along x, up along z. Each foot's
 * pressure stays at its plate's centre, horizontal force and torque are shared as the load is, so that the turning torque is
 * the stream's and the couple is none: enough to find shots by, not to measure feet on.
 *
 * @param parts  end to end, as `idleStream` gives them
 */
export function streamRecording(
  parts: Iterable<StreamPart>,
  { player, lie, rateHz }: { readonly player: SimulatedPlayer; readonly lie: SimulatedLie; readonly rateHz: number },
): StreamRecording {
  const all = [...parts];
  const raw = [rawPlate("lead", all, player), rawPlate("trail", all, player)];
  const recording: Recording = {
    format: "c3d",
    rateHz,
    sampleCount: raw[0]?.columns[0]?.length ?? 0,
    channels: raw.flatMap(({ index, columns }) =>
      columns.map((values, k) => ({
        label: `${LABELS[k]}${index}`,
        unit: UNITS[k] ?? "",
        values,
        role: "other" as const,
      })),
    ),
    plates: raw.map(({ index, cornersM }) => ({
      index,
      type: 2,
      channels: LABELS.map((_, k) => 6 * (index - 1) + k),
      corners: cornersM,
      isPlaced: true,
      originM: NOWHERE,
      originAsWrittenM: NOWHERE,
      forceToN: 1,
      momentToNm: 1,
      lengthToM: 1,
      momentUnit: "N m",
      sense: "unknown",
      hasMoments: true,
    })),
    events: [],
    markers: [],
    about: { origin: "simulated: invented player, invented session" },
    findings: [],
    guesses: [],
  };
  const facts: ShotFacts = {
    player: player.name,
    handed: player.handed,
    target: { x: 1, y: 0, z: 0 },
    lie: { pitchDeg: lie.pitchDeg, rollDeg: lie.rollDeg, source: "inclinometer", sdDeg: 0.2 },
    lieName: lie.name,
    plates: raw.map(({ index, foot }) => ({ plate: index, foot })),
    feet: [],
    events: [],
    keep: "kept",
  };
  const impactsS = all.flatMap(({ impactS }) => (impactS === undefined ? [] : [impactS]));
  return { recording, raw, facts, impactsS };
}

/** Plate x is the laboratory's; y and z are turned, z into the ground. */
function rawPlate(foot: Foot, parts: readonly StreamPart[], { handed }: SimulatedPlayer): RawPlate {
  const isLead = foot === "lead";
  const count = parts.reduce((sum, { leadLoadN }) => sum + leadLoadN.length, 0);
  const columns = LABELS.map(() => new Float64Array(count));
  const [fx, fy, fz, , , mz] = columns;
  // Ahead is e_t × n for a right-handed player: against the laboratory's y, along the plate's.
  const hand = handed === "right" ? 1 : -1;
  let at = 0;
  for (const { leadLoadN, trailLoadN, targetN, aheadN, turnNm } of parts) {
    for (let i = 0; i < leadLoadN.length; i++, at++) {
      const totalN = leadLoadN[i]! + trailLoadN[i]!;
      const loadN = isLead ? leadLoadN[i]! : trailLoadN[i]!;
      const share = Math.abs(totalN) > LEAST_LOAD_N ? loadN / totalN : 0.5;
      fx![at] = share * targetN[i]!;
      fy![at] = hand * share * aheadN[i]!;
      fz![at] = -loadN;
      mz![at] = -hand * share * turnNm[i]!;
    }
  }
  return {
    index: isLead ? 1 : 2,
    foot,
    type: 2,
    sense: "on-player",
    cornersM: corners((isLead ? APART_M : -APART_M) / 2),
    columns,
    labels: LABELS,
    units: UNITS,
    originM: NOWHERE,
    fullScale: FULL_SCALE,
  };
}

function corners(x: number): PlateCorners {
  const [a, b] = [SIZE_M[0] / 2, SIZE_M[1] / 2];
  const corner = (signX: 1 | -1, signY: 1 | -1): Vector => ({ x: x + signX * a, y: -signY * b, z: 0 });
  return [corner(1, 1), corner(-1, 1), corner(-1, -1), corner(1, -1)];
}
