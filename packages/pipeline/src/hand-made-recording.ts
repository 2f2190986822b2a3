import type { Channel, Column, PlateCorners, PlateDescription, Recording, Samples, Vector } from "@underfoot/domain";

/** Six columns of one plate: force on what stands on it and moment about the centre of its surface, laboratory axes. */
export interface HandMadePlate {
  readonly centreM: Vector;
  readonly forceN: { readonly x: Samples; readonly y: Samples; readonly z: Samples };
  readonly momentNm: { readonly x: Samples; readonly y: Samples; readonly z: Samples };
}

/** Size of a hand-made plate along the laboratory's x and y, m. */
const HAND_MADE_SIZE_M: readonly [number, number] = [0.4, 0.6];

/**
 * A recording written by hand, for tests with a known answer: plates of type 2, numbered from 1, in a laboratory whose x and
 * y lie in the surface and whose z is its normal; plate x is the laboratory's, y and z are turned.
 */
export function handMadeRecording(
  plates: readonly HandMadePlate[],
  { rateHz, extras = [] }: { readonly rateHz: number; readonly extras?: readonly Channel[] },
): Recording {
  const channels: Channel[] = [];
  const descriptions = plates.map((plate, k) => {
    const first = channels.length;
    channels.push(...plateChannels(plate, k + 1));
    return description(plate.centreM, k + 1, first);
  });
  return {
    format: "text",
    rateHz,
    sampleCount: channels[0]?.values.length ?? 0,
    channels: [...channels, ...extras],
    plates: descriptions,
    events: [],
    markers: [],
    about: { origin: "invented" },
    findings: [],
    guesses: [],
  };
}

/** Three columns to be filled. */
export interface HandMadeColumns {
  readonly x: Column;
  readonly y: Column;
  readonly z: Column;
}

/** An unloaded plate: columns of zeros, to be filled. */
export function emptyPlate(
  centreM: Vector,
  sampleCount: number,
): { readonly centreM: Vector; readonly forceN: HandMadeColumns; readonly momentNm: HandMadeColumns } {
  const column = (): Column => new Float64Array(sampleCount);
  const three = (): HandMadeColumns => ({ x: column(), y: column(), z: column() });
  return { centreM, forceN: three(), momentNm: three() };
}

function plateChannels({ forceN, momentNm }: HandMadePlate, number: number): Channel[] {
  const channel = (label: string, unit: string, values: Samples, sign: 1 | -1): Channel => ({
    label: `${label}${number}`,
    unit,
    values: Float64Array.from(values, (value) => sign * value),
    role: "other",
  });
  return [
    channel("Fx", "N", forceN.x, 1),
    channel("Fy", "N", forceN.y, -1),
    channel("Fz", "N", forceN.z, -1),
    channel("Mx", "N m", momentNm.x, 1),
    channel("My", "N m", momentNm.y, -1),
    channel("Mz", "N m", momentNm.z, -1),
  ];
}

function description({ x, y, z }: Vector, index: number, firstChannel: number): PlateDescription {
  const [a, b] = [HAND_MADE_SIZE_M[0] / 2, HAND_MADE_SIZE_M[1] / 2];
  const corner = (signX: 1 | -1, signY: 1 | -1): Vector => ({ x: x + signX * a, y: y - signY * b, z });
  const corners: PlateCorners = [corner(1, 1), corner(-1, 1), corner(-1, -1), corner(1, -1)];
  const none: Vector = { x: 0, y: 0, z: 0 };
  return {
    index,
    type: 2,
    channels: [0, 1, 2, 3, 4, 5].map((k) => firstChannel + k),
    corners,
    isPlaced: true,
    originM: none,
    originAsWrittenM: none,
    forceToN: 1,
    momentToNm: 1,
    lengthToM: 1,
    momentUnit: "N m",
    sense: "unknown",
    hasMoments: true,
  };
}
