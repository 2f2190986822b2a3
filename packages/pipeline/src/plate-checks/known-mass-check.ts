import { dot, type Recording, STANDARD_GRAVITY_M_PER_S2, scaled, sum, type Vector } from "@underfoot/domain";
import {
  againstGravity,
  centreOfPressure,
  normalGravity,
  type Settings,
  turfAxes,
  validMean,
} from "@underfoot/mechanics";
import type { Stretch } from "../recording-stretch.ts";
import { checkFaults } from "./check-faults.ts";
import { type PlateCheckFacts, type PlateCheckPart, type PlateCheckResult, part } from "./check-outcome.ts";
import { type CheckedPlate, checkedPlates, runsWhere, samplesPerTick, TICK_S, tickMeans } from "./check-plates.ts";

/** Five places of a plate: its centre, and halfway from there to each corner, numbered as the file numbers the corners. */
export const KNOWN_MASS_PLACES = [
  "centre",
  "near corner 1",
  "near corner 2",
  "near corner 3",
  "near corner 4",
] as const;
export type KnownMassPlace = (typeof KNOWN_MASS_PLACES)[number] | { readonly xM: number; readonly yM: number };

export interface KnownMassAsked {
  readonly massKg: number;
  /** The only plate looked at; left out: all. */
  readonly plate?: number;
  /** Where it was laid, in that order; plate axes from the centre of the surface, m. Left out: the nearest of the five. */
  readonly places?: readonly KnownMassPlace[];
  /** Of the mass's own centre over the surface, m, 0 by default: on a slope its pressure lies downhill of it. */
  readonly massHeightM?: number;
  /** Left out: by latitude and height of the facts, else 9.80665 m/s². */
  readonly gravityMPerS2?: number;
}

/** Load within max(0.5 %, 2 N), place within 3 mm, horizontal part within 0.5 %. Limits are ours. */
const LOAD_SHARE = 0.005;
const LOAD_LEAST_N = 2;
const PLACE_MM = 3;
const HORIZONTAL_PERCENT = 0.5;
/** A load between these shares of the expected one is the mass, not a hand or a person. */
const MASS_SHARES: readonly [number, number] = [0.5, 1.5];
/** Still: from tick to tick the load changes by less than this share and its place by less than this, m; for this long, s. */
const STILL_SHARE = 0.01;
const STILL_PLACE_M = 0.003;
const SHORTEST_STILL_S = 0.5;
/** Two still stretches nearer than this are one place, m. */
const ONE_PLACE_M = 0.02;
/** Lighter ones cannot be told from an unloaded plate. */
const LEAST_KG = 5;
const MOST_KG = 300;
/** On a lie, the height of the mass matters beyond this sine. */
const SLOPE_SINE = 0.01;

/** What a mass lying still gives, plate axes. */
interface StillMass {
  readonly plate: CheckedPlate;
  readonly stretch: Stretch;
  readonly forceN: Vector;
  readonly placeM: readonly [number, number];
}

/** What it should give. */
interface Expected {
  readonly weightN: number;
  /** Against gravity, laboratory axes, by plate. */
  readonly up: (plate: CheckedPlate) => Vector;
  readonly heightM: number;
}

/**
 * Known mass: load against m g c, place of the CoP against where it was laid, horizontal part after the static law of the
 * lie, and both plates' readings against each other. The stretches in which the mass lies still are found by themselves.
 * The recording's own unloaded stretch, if there is one, is taken as zero.
 *
 * @throws UnderfootError `lie-missing`, `target-missing` where facts are wanted; `mass-wrong`, `mass-not-found`,
 *         `places-differ`, `no-moments`, `no-plates`, `lie-too-steep`
 */
export function knownMassCheck(
  recording: Recording,
  {
    facts,
    settings,
    asked,
  }: { readonly facts: PlateCheckFacts; readonly settings: Settings; readonly asked: KnownMassAsked },
): PlateCheckResult {
  const { massKg, massHeightM: heightM = 0, places } = asked;
  if (!(massKg >= LEAST_KG && massKg <= MOST_KG)) throw checkFaults.massWrong(massKg);
  const lie = facts.lie;
  if (lie === undefined) throw checkFaults.lieMissing();
  const gravity = asked.gravityMPerS2 ?? gravityOf(facts);
  const k = againstGravity(lie);
  const isSlope = Math.hypot(k.target, k.ahead) > 0;
  if (isSlope && (facts.target === undefined || facts.handed === undefined)) throw checkFaults.axesMissing();
  const up = ({ wrench }: CheckedPlate): Vector => {
    const { normal } = wrench.frame;
    if (facts.target === undefined || facts.handed === undefined) return normal;
    const axes = turfAxes(normal, facts.target, facts.handed);
    return sum(sum(scaled(axes.target, k.target), scaled(axes.ahead, k.ahead)), scaled(axes.up, k.up));
  };
  const expected: Expected = { weightN: massKg * gravity, up, heightM };
  const plates = checkedPlates(recording, facts, settings).filter(
    ({ index }) => asked.plate === undefined || index === asked.plate,
  );
  const found = plates.map((plate) =>
    stillMasses(recording, plate, { expectedN: expected.weightN * k.up, padM: facts.padM ?? 0 }),
  );
  const masses = found.flatMap((one) => one.masses);
  if (masses.length === 0)
    throw checkFaults.noMass(expected.weightN * k.up, Math.max(0, ...found.map(({ largestN }) => largestN)));
  if (places !== undefined && places.length !== masses.length)
    throw checkFaults.placesDiffer(masses.length, places.length);
  const laid = masses
    .toSorted((a, b) => a.stretch.first - b.stretch.first)
    .map((mass, at) => ({ mass, ...placeOf(mass, places?.[at]) }));
  const isHeightMissing = asked.massHeightM === undefined && Math.hypot(k.target, k.ahead) > SLOPE_SINE;
  return {
    parts: [...laid.flatMap((one) => massParts(one, expected)), ...betweenPlates(masses, expected.weightN * k.up)],
    detail: {
      weightN: expected.weightN,
      gravityMPerS2: gravity,
      zeroedPlates: plates.filter(({ zero }) => zero !== undefined).map(({ index }) => index),
      masses: laid.map(({ mass, name }) => ({
        plate: mass.plate.index,
        place: name,
        fromS: mass.stretch.first / recording.rateHz,
        toS: mass.stretch.end / recording.rateHz,
        forceN: mass.forceN,
        placeM: mass.placeM,
      })),
    },
    remedy:
      "Zero the plates with nothing on them and lay the mass down again; check its weight on a scale and where it lay. What stays is the plate's calibration.",
    cautions: isHeightMissing
      ? [
          "The height of the mass was not given: on a slope its pressure lies downhill of its place by height times slope.",
        ]
      : [],
  };
}

function gravityOf({ latitudeDeg, heightM }: PlateCheckFacts): number {
  return latitudeDeg === undefined ? STANDARD_GRAVITY_M_PER_S2 : normalGravity(latitudeDeg, heightM ?? 0);
}

/** Where the mass lies still on a plate, and the largest still load, whatever it is. */
function stillMasses(
  { rateHz }: Recording,
  plate: CheckedPlate,
  { expectedN, padM }: { readonly expectedN: number; readonly padM: number },
): { readonly masses: readonly StillMass[]; readonly largestN: number } {
  const perTick = samplesPerTick(rateHz);
  const [loadN, xM, yM, zM] = [plate.cop.loadN, plate.cop.xM, plate.cop.yM, plate.cop.zM].map((column) =>
    tickMeans(column, perTick),
  ) as [Float64Array, Float64Array, Float64Array, Float64Array];
  const isStill = (k: number): boolean =>
    k > 0 &&
    Math.abs(loadN[k]! - loadN[k - 1]!) < STILL_SHARE * expectedN &&
    (!plate.wrench.hasMoments ||
      Math.hypot(xM[k]! - xM[k - 1]!, yM[k]! - yM[k - 1]!, zM[k]! - zM[k - 1]!) < STILL_PLACE_M);
  const least = SHORTEST_STILL_S / TICK_S;
  const runs = runsWhere(loadN.length, (k) => loadN[k]! > MASS_SHARES[0] * expectedN && isStill(k)).filter(
    ({ first, end }) => end - first >= least,
  );
  let largestN = 0;
  const masses: StillMass[] = [];
  for (const { first, end } of runs) {
    const stretch = { first: first * perTick, end: end * perTick };
    const mass = stillMass(plate, stretch, padM);
    const meanN = dot(mass.forceN, plate.wrench.frame.normal);
    largestN = Math.max(largestN, meanN);
    if (meanN > MASS_SHARES[1] * expectedN) continue;
    const before = masses.at(-1);
    if (before !== undefined && isSamePlace(before, mass)) {
      if (length(mass) > length(before)) masses[masses.length - 1] = mass;
    } else masses.push(mass);
  }
  return { masses, largestN };
}

const length = ({ stretch }: StillMass): number => stretch.end - stretch.first;

function isSamePlace({ placeM: a }: StillMass, { placeM: b }: StillMass): boolean {
  return !(Math.hypot(a[0] - b[0], a[1] - b[1]) > ONE_PLACE_M);
}

function stillMass(plate: CheckedPlate, stretch: Stretch, padM: number): StillMass {
  const { frame, forceN, momentNm } = plate.wrench;
  const { first, end } = stretch;
  const meanOf = ({ x, y, z }: typeof forceN): Vector => ({
    x: validMean(x, first, end),
    y: validMean(y, first, end),
    z: validMean(z, first, end),
  });
  const wrench = { forceN: meanOf(forceN), momentNm: meanOf(momentNm), centreM: frame.centreM };
  const from = sum(centreOfPressure(wrench, frame.normal, padM), scaled(frame.centreM, -1));
  return { plate, stretch, forceN: wrench.forceN, placeM: [dot(from, frame.x), dot(from, frame.y)] };
}

/** The place that was named, or the nearest of the five. */
function placeOf(
  { plate, placeM }: StillMass,
  given: KnownMassPlace | undefined,
): { readonly name: string; readonly wantedM: readonly [number, number] } {
  if (typeof given === "object")
    return {
      name: `(${Math.round(1000 * given.xM)}, ${Math.round(1000 * given.yM)}) mm`,
      wantedM: [given.xM, given.yM],
    };
  const [a, b] = [plate.wrench.frame.sizeM[0] / 4, plate.wrench.frame.sizeM[1] / 4];
  const five: readonly (readonly [number, number])[] = [
    [0, 0],
    [a, b],
    [-a, b],
    [-a, -b],
    [a, -b],
  ];
  const away = ([x, y]: readonly [number, number]): number => Math.hypot(x - placeM[0], y - placeM[1]);
  const wantedM =
    given === undefined
      ? five.reduce((best, next) => (away(next) < away(best) ? next : best))
      : five[KNOWN_MASS_PLACES.indexOf(given)]!;
  return { name: KNOWN_MASS_PLACES[five.indexOf(wantedM)]!, wantedM };
}

function massParts(
  {
    mass,
    name,
    wantedM,
  }: { readonly mass: StillMass; readonly name: string; readonly wantedM: readonly [number, number] },
  expected: Expected,
): PlateCheckPart[] {
  const { plate, forceN, placeM } = mass;
  const { frame, hasMoments } = plate.wrench;
  const up = expected.up(plate);
  const share = dot(up, frame.normal);
  const loadN = dot(forceN, frame.normal);
  const wantedN = expected.weightN * share;
  const allowedN = Math.max(LOAD_SHARE * wantedN, LOAD_LEAST_N);
  const here = `plate ${plate.index}, ${name}`;
  const along = (axis: Vector): number => dot(forceN, axis) - expected.weightN * dot(up, axis);
  const percent = (100 * Math.hypot(along(frame.x), along(frame.y))) / expected.weightN;
  const common = { plate: plate.index };
  const load = part({
    ...common,
    name: `Load, ${here}`,
    allowed: allowedN,
    found: Math.abs(loadN - wantedN),
    unit: "N",
    sentence: `On ${here}, the load is ${loadN.toFixed(1)} N where ${wantedN.toFixed(1)} N lie; ${allowedN.toFixed(1)} N off allowed.`,
  });
  const horizontal = part({
    ...common,
    name: `Horizontal part, ${here}`,
    allowed: HORIZONTAL_PERCENT,
    found: percent,
    unit: "%",
    sentence: `On ${here}, the force along the surface is ${percent.toFixed(2)} % of the weight from what the lie explains; ${HORIZONTAL_PERCENT} % allowed.`,
  });
  if (!hasMoments) return [load, horizontal];
  // The weight acts through the mass's own centre, so on a slope it meets the surface downhill of the place.
  const meets = (axis: Vector): number => (-expected.heightM * dot(up, axis)) / share;
  const mm = 1000 * Math.hypot(placeM[0] - wantedM[0] - meets(frame.x), placeM[1] - wantedM[1] - meets(frame.y));
  const place = part({
    ...common,
    name: `Place, ${here}`,
    allowed: PLACE_MM,
    found: mm,
    unit: "mm",
    sentence: `On ${here}, the centre of pressure lies ${mm.toFixed(1)} mm from where the mass was laid; ${PLACE_MM} mm allowed.`,
  });
  return [load, place, horizontal];
}

/** The same mass on two plates: what the up speed drifts by when load moves across. */
function betweenPlates(masses: readonly StillMass[], wantedN: number): PlateCheckPart[] {
  const plates = [...new Set(masses.map(({ plate }) => plate.index))];
  if (plates.length < 2) return [];
  const means = plates.map((index) => {
    const own = masses.filter(({ plate }) => plate.index === index);
    return own.reduce((total, { plate, forceN }) => total + dot(forceN, plate.wrench.frame.normal), 0) / own.length;
  });
  const found = Math.max(...means) - Math.min(...means);
  const allowed = Math.max(LOAD_SHARE * wantedN, LOAD_LEAST_N);
  return [
    part({
      name: "Between the plates",
      allowed,
      found,
      unit: "N",
      sentence: `The same mass reads ${means.map((meanN, k) => `${meanN.toFixed(1)} N on plate ${plates[k]}`).join(" and ")}: ${found.toFixed(1)} N apart, ${allowed.toFixed(1)} N allowed.`,
    }),
  ];
}
