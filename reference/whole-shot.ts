// A whole simulated shot from its table (mechanics-shot.json, or the same at full rate) as the recording and the facts
// that a reader and a coach would give.
import type { EventName, PlateDescription, Recording, ShotFacts, Vector } from "@underfoot/domain";

type Triple = readonly number[];

/** The table's side file: what is true of the shot. */
export interface WholeShotTable {
  readonly rate: number;
  readonly hand: string;
  readonly target: Triple;
  readonly pitch: number;
  readonly roll: number;
  readonly mass: number;
  readonly g: number;
  readonly pad: number;
  readonly sensors: string;
  readonly origin_of_turf_coordinates: Triple;
  readonly plates: readonly { readonly foot: string; readonly corners: readonly Triple[]; readonly origin: Triple }[];
  readonly feet: Readonly<Record<"lead" | "trail", WholeShotSole>>;
  readonly events: Readonly<Record<string, number>>;
  readonly quiet_window_s: readonly number[];
  readonly true_measures: Readonly<Record<string, number>>;
  readonly curves: Readonly<Record<string, readonly (number | null | readonly (number | null)[])[]>>;
}

interface WholeShotSole {
  readonly outline_turf: readonly Triple[];
  readonly heel: Triple;
  readonly toe: Triple;
}

export function vectorOf([x = 0, y = 0, z = 0]: Triple): Vector {
  return { x, y, z };
}

/** The recording of a table: two plates of type 2, twelve channels, lead first. */
export function wholeShotRecording(table: WholeShotTable, samples: readonly Triple[]): Recording {
  const channels = Array.from({ length: 12 }, (_, c) => ({
    label: `channel ${c + 1}`,
    unit: c % 6 < 3 ? "N" : "N m",
    role: "other" as const,
    values: Float64Array.from(samples, (row) => row[c] ?? Number.NaN),
  }));
  const plates = table.plates.map(
    (plate, k): PlateDescription => ({
      index: k + 1,
      type: 2,
      channels: [0, 1, 2, 3, 4, 5].map((c) => 6 * k + c),
      corners: plate.corners.map(vectorOf) as unknown as PlateDescription["corners"],
      isPlaced: true,
      originM: vectorOf(plate.origin),
      originAsWrittenM: vectorOf(plate.origin),
      forceToN: 1,
      momentToNm: 1,
      lengthToM: 1,
      momentUnit: "Nm",
      sense: "unknown",
      hasMoments: true,
    }),
  );
  return {
    format: "text",
    rateHz: table.rate,
    sampleCount: samples.length,
    channels,
    plates,
    events: [],
    markers: [],
    about: {},
    findings: [],
    guesses: [],
  };
}

/** The facts of a table, the true events as marks of 0.5 ms. Soles stand in turf coordinates and are put into the laboratory. */
export function wholeShotFacts(table: WholeShotTable): ShotFacts {
  const hand = table.hand === "left" ? -1 : 1;
  const origin = vectorOf(table.origin_of_turf_coordinates);
  const target = vectorOf(table.target);
  // The tables' surfaces are level in the laboratory (up is z), whatever the lie: ahead = target × z for right-handed players.
  const ahead: Vector = { x: hand * target.y, y: -hand * target.x, z: 0 };
  const place = ([t = 0, a = 0]: Triple): Vector => ({
    x: origin.x + t * target.x + a * ahead.x,
    y: origin.y + t * target.y + a * ahead.y,
    z: origin.z,
  });
  const feet = (["lead", "trail"] as const).map((foot) => ({
    foot,
    frame: "lab" as const,
    outline: table.feet[foot].outline_turf.map(place),
    heel: place(table.feet[foot].heel),
    toe: place(table.feet[foot].toe),
  }));
  return {
    handed: table.hand === "left" ? "left" : "right",
    target,
    lie: { pitchDeg: table.pitch, rollDeg: table.roll, source: "inclinometer", sdDeg: 0.2 },
    plates: table.plates.map((plate, k) => ({ plate: k + 1, foot: plate.foot as "lead" | "trail" })),
    feet,
    padM: table.pad,
    events: Object.entries(table.events).map(([event, timeS]) => ({
      event: event as EventName,
      timeS,
      source: "marked" as const,
      sdMs: 0.5,
    })),
    keep: "kept",
  };
}
