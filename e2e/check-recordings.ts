// Recordings of plate checks with a known answer, on the simulator's plates: invented, nobody stood there.
import { type PlateCorners, random } from "@underfoot/domain";
import { c3dBytes } from "@underfoot/formats";
import { simulatedFiles } from "@underfoot/pipeline";
import { SIMULATED_LIES, type SimulatedShot, simulatedPlayer, simulateShot } from "@underfoot/simulator";

const RATE_HZ = 1000;
const G_M_PER_S2 = 9.80665;

/** One shot up a slope of 5 degrees by an invented right-handed player, its lead plate number 1. */
export function upslopeShot(): SimulatedShot {
  const player = simulatedPlayer({ seed: 7, handed: "right", massKg: 72 });
  return simulateShot({ seed: 11, player, intent: "low", lie: SIMULATED_LIES.upslope, rateHz: RATE_HZ, durationS: 6 });
}

/** Force and moment of a load straight down the plate at a place of its surface, plate axes, z into the ground. */
type Load = (timeS: number, plate: number) => { readonly downN: number; readonly xM: number; readonly yM: number };

function loadedPlates(corners: readonly PlateCorners[], seconds: number, load: Load, offsetN = 0): Uint8Array {
  const count = seconds * RATE_HZ;
  const plates = corners.map((cornersM, plate) => {
    const draw = random(plate + 1, "noise of a check");
    const columns = Array.from({ length: 6 }, () => new Float64Array(count));
    for (let i = 0; i < count; i++) {
      const { downN, xM, yM } = load(i / RATE_HZ, plate);
      const exact = [offsetN, 0, -downN, -yM * downN, xM * downN, 0];
      for (let c = 0; c < 6; c++) columns[c]![i] = exact[c]! + (c < 3 ? 0.3 : 0.05) * draw.normal();
    }
    return { type: 2 as const, cornersM, columns };
  });
  return c3dBytes({ rateHz: RATE_HZ, plates });
}

const NOTHING = { downN: 0, xM: 0, yM: 0 };

/** Nothing on the plates; `offsetN` of zero error along each plate's x. */
export const unloaded = (corners: readonly PlateCorners[], offsetN: number): Uint8Array =>
  loadedPlates(corners, 3, () => NOTHING, offsetN);

/** A mass on the middle of the first plate from 1 s on, on level plates. */
export const massOnFirst = (corners: readonly PlateCorners[], massKg: number): Uint8Array =>
  loadedPlates(corners, 4, (timeS, plate) =>
    timeS > 1 && plate === 0 ? { downN: massKg * G_M_PER_S2, xM: 0, yM: 0 } : NOTHING,
  );

/** A board across both plates, struck at 1, 2 and 3 s. */
export const struckBoard = (corners: readonly PlateCorners[]): Uint8Array =>
  loadedPlates(corners, 4, (timeS) => {
    const sinceS = (timeS - 1) % 1;
    const isStruck = timeS >= 1 && sinceS >= 0 && sinceS < 0.012;
    return isStruck ? { downN: 300 * Math.sin((Math.PI * sinceS) / 0.012), xM: 0, yM: 0 } : NOTHING;
  });

/** A tip pressed with 60 N once round an oval of 280 by 100 mm on each plate, one after the other, after 1 s of nothing. */
export const walkedEdges = (corners: readonly PlateCorners[]): Uint8Array =>
  loadedPlates(corners, 22, (timeS, plate) => {
    const turn = (timeS - (plate === 0 ? 1 : 12)) / 9;
    if (turn < 0 || turn > 1) return NOTHING;
    const angleRad = 2 * Math.PI * turn;
    return { downN: 60, xM: 0.14 * Math.cos(angleRad), yM: 0.05 * Math.sin(angleRad) };
  });

/** The quiet stance before a simulated shot, cut off where the player starts to move. */
export function quietStance({ raw, truth }: SimulatedShot): Uint8Array {
  const end = Math.floor(truth.events.start * RATE_HZ);
  return c3dBytes({
    rateHz: RATE_HZ,
    plates: raw.map(({ type, cornersM, columns, originM, fullScale }) => ({
      type,
      cornersM,
      originM,
      fullScale,
      columns: columns.map((column) => column.slice(0, end)),
    })),
  });
}

export const shotFiles = (shot: SimulatedShot) => simulatedFiles(shot, "up-the-slope.c3d");
