import {
  type EventName,
  type Foot,
  type Handed,
  type Intent,
  type Recording,
  random,
  type ShotFacts,
  STANDARD_GRAVITY_M_PER_S2,
  scaled,
  sum,
  UnderfootError,
  type Vector,
} from "@underfoot/domain";
import { curveMean, windowIndices } from "./curve-value.ts";
import { type FaultName, faultyPlate, faultySensors, unsaidClockS } from "./injected-faults.ts";
import { type LabPose, labPose } from "./lab-pose.ts";
import { type LevelFromTurf, levelFromTurf, type SimulatedLie } from "./lie-axes.ts";
import type { PlannedShot } from "./planned-shot.ts";
import { DEFAULT_PLATES, type PlateSetup } from "./plate-setup.ts";
import type { SimulatedPlayer } from "./player.ts";
import { DEFAULT_SENSORS, type PlateErrors, plateErrors, type SensorErrors } from "./sensor-errors.ts";
import { shotPlan } from "./shot-plan.ts";
import { shotResult } from "./shot-result.ts";
import { type ShotSeries, type ShotSeriesOptions, shotSeries } from "./shot-series.ts";
import type { InjectedFault, ShotTruth } from "./shot-truth.ts";
import { type Marks, simulatedFacts, statedLie } from "./simulated-facts.ts";
import { placeErrorM, type RawPlate, simulatedRecording } from "./simulated-recording.ts";
import { type SimulatedSole, stance } from "./sole.ts";
import type { TimeGrid } from "./time-grid.ts";
import { type TruthCurves, thinnedCurves, truthCurves } from "./truth-curves.ts";
import { truthFinishS } from "./truth-finish.ts";
import { truthMeasures } from "./truth-measures.ts";

/** What is asked of the simulator for one shot. */
export interface ShotOptions {
  readonly seed: number;
  /** Shots of one session share their plates' errors and 0.3 of the player's scatter. Left out: the shot's own seed. */
  readonly sessionSeed?: number;
  readonly player: SimulatedPlayer;
  readonly intent: Intent;
  readonly lie: SimulatedLie;
  readonly plates?: PlateSetup;
  readonly sensors?: SensorErrors;
  readonly faults?: readonly FaultName[];
  readonly rateHz?: number;
  readonly durationS?: number;
  readonly isMishit?: boolean;
  readonly marks?: Marks;
  readonly hasTrigger?: boolean;
  readonly hasSound?: boolean;
  readonly gravityMPerS2?: number;
  readonly club?: string;
  /** 1: the player's scatter; 0: every shot the player's nominal one. */
  readonly scatterScale?: number;
  /** Part of the table's turning torque. */
  readonly turnScale?: number;
}

/** A simulated shot: what a reader and a coach would have, and the truth beside it. */
export interface SimulatedShot {
  readonly recording: Recording;
  readonly raw: readonly RawPlate[];
  readonly facts: ShotFacts;
  readonly truth: ShotTruth;
}

/** The truth is sampled at least this often, Hz. */
const DENSE_HZ = 1000;
const USUAL_RATE_HZ = 1000;
const USUAL_DURATION_S = 6;
const USUAL_CLUB = "wedge 54";

interface Scene {
  readonly options: ShotOptions;
  readonly sessionSeed: number;
  readonly handed: Handed;
  readonly rateHz: number;
  readonly grid: TimeGrid;
  readonly setup: PlateSetup;
  readonly sensors: SensorErrors;
  readonly faults: readonly FaultName[];
  readonly axes: LevelFromTurf;
  readonly pose: LabPose;
  readonly plan: PlannedShot;
  readonly series: ShotSeriesOptions;
  readonly errors: Readonly<Record<Foot, PlateErrors>>;
  /** The trail plate's clock as it is, and what is told of it. */
  readonly clock: {
    readonly offsetS: number;
    readonly drift: number;
    readonly told: { offsetS: number; drift: number; sdS: number } | undefined;
  };
}

function trailClock(sensors: SensorErrors, faults: readonly FaultName[], sessionSeed: number): Scene["clock"] {
  const draw = random(sessionSeed, "clock of the trail plate");
  const offsetS = (sensors.clockOffsetMs * draw.normal()) / 1000;
  const drift = (sensors.clockPpm * draw.normal()) / 1e6;
  const sdS = sensors.clockSdMs / 1000;
  const isTold = sensors.clockOffsetMs > 0 || sensors.clockPpm > 0 || sdS > 0;
  return {
    offsetS: offsetS - unsaidClockS(faults),
    drift,
    told: isTold ? { offsetS: offsetS + sdS * draw.normal(), drift, sdS: Math.max(sdS, 1e-5) } : undefined,
  };
}

function sceneOf(options: ShotOptions): Scene {
  const { seed, player, lie, faults = [], rateHz = USUAL_RATE_HZ, durationS = USUAL_DURATION_S } = options;
  const { sessionSeed = seed, plates: setup = DEFAULT_PLATES } = options;
  if (!(rateHz >= 100 && rateHz <= 20000)) {
    throw new UnderfootError({
      code: "simulator/rate",
      sentence: `A rate of ${rateHz} Hz cannot be simulated.`,
      remedy: "Ask for 100 to 20000 Hz.",
    });
  }
  const axes = levelFromTurf(lie);
  const sensors = faultySensors(options.sensors ?? DEFAULT_SENSORS, faults);
  const errors = {
    lead: faultyPlate(plateErrors(sensors, sessionSeed, 1), faults, durationS),
    trail: plateErrors(sensors, sessionSeed, 2),
  };
  const plan = shotPlan({
    seed,
    sessionSeed,
    player,
    intent: options.intent,
    pitchDeg: lie.pitchDeg,
    durationS,
    isMishit: options.isMishit ?? false,
    isTrailLifted: faults.includes("unloaded"),
    scatterScale: options.scatterScale ?? 1,
    turnScale: options.turnScale ?? 1,
  });
  return {
    options,
    sessionSeed,
    handed: player.handed,
    rateHz,
    grid: { firstS: 0, stepS: 1 / rateHz, count: Math.round(durationS * rateHz) },
    setup,
    sensors,
    faults,
    axes,
    pose: labPose({ plates: setup, handed: player.handed, levelFromTurf: axes }),
    plan,
    series: {
      plan,
      massKg: player.massKg,
      gravityMPerS2: options.gravityMPerS2 ?? STANDARD_GRAVITY_M_PER_S2,
      comHeightM: player.comHeightM,
      levelFromTurf: axes,
      soles: stance(player),
      padM: setup.padM,
    },
    errors,
    clock: trailClock(sensors, faults, sessionSeed),
  };
}

/** Mean of the plates' centres as the recording states them: in the laboratory, and from the middle of the stance along target and ahead. */
function statedReference({ pose, errors }: Scene): { referenceM: Vector; reference: [number, number] } {
  const lead = sum(pose.lead.centreM, placeErrorM(pose, errors.lead));
  const trail = sum(pose.trail.centreM, placeErrorM(pose, errors.trail));
  const [leadT, leadA] = errors.lead.placeM;
  const [trailT, trailA] = errors.trail.placeM;
  return {
    referenceM: scaled(sum(lead, trail), 0.5),
    reference: [(pose.lead.offsetM + leadT + pose.trail.offsetM + trailT) / 2, (leadA + trailA) / 2],
  };
}

function eventsOf(scene: Scene, curves: TruthCurves, denseHz: number, weightN: number): Record<EventName, number> {
  const { timing, quiet } = scene.plan;
  const { targetN, aheadN, upN } = curves.both.turf;
  const forces = [targetN, aheadN, upN];
  const quietN = forces.map((column) => curveMean(column, denseHz, quiet));
  const finish = truthFinishS(forces, { rateHz: denseHz, impactS: timing.impactS, weightN, quietN });
  return {
    address: (quiet.fromS + quiet.toS) / 2,
    start: timing.startS,
    top: timing.topS,
    delivery: timing.deliveryS,
    impact: timing.impactS,
    finish,
  };
}

/** The truth, and the shot sampled at the recording's rate. */
function truthOf(scene: Scene): { truth: Omit<ShotTruth, "faults">; own: ShotSeries } {
  const { options, plan, grid, rateHz, series, axes, setup, errors, sensors, sessionSeed, clock } = scene;
  const { player, lie } = options;
  const denser = Math.max(1, Math.ceil(DENSE_HZ / rateHz));
  const denseHz = rateHz * denser;
  const dense = shotSeries(series, { firstS: 0, stepS: 1 / denseHz, count: grid.count * denser });
  const { referenceM, reference } = statedReference(scene);
  const quietIndices = windowIndices(denseHz, plan.quiet, dense.grid.count);
  const curves = truthCurves(dense, { levelFromTurf: axes, reference, quiet: quietIndices });
  const weightN = series.massKg * series.gravityMPerS2;
  const events = eventsOf(scene, curves, denseHz, weightN);
  const measures = truthMeasures({
    curves,
    rateHz: denseHz,
    events,
    quiet: plan.quiet,
    weightN,
    soles: series.soles,
    reference,
  });
  const stated = statedLie(lie, sensors, sessionSeed);
  const truth = {
    seed: options.seed,
    player: player.name,
    handed: player.handed,
    intent: options.intent,
    lie,
    isMishit: options.isMishit ?? false,
    massKg: series.massKg,
    gravityMPerS2: series.gravityMPerS2,
    weightN,
    padM: setup.padM,
    referenceM,
    events,
    quietWindow: plan.quiet,
    curves: thinnedCurves(curves, denser),
    measures,
    sensors: {
      ...errors,
      pitchDeg: stated.pitchDeg - lie.pitchDeg,
      rollDeg: stated.rollDeg - lie.rollDeg,
      clockOffsetS: clock.offsetS,
      clockDrift: clock.drift,
    },
  };
  return { truth, own: denser === 1 ? dense : shotSeries(series, grid) };
}

/** What the coach says, from the truth and what instruments make of it. */
function factsOf(scene: Scene, events: ShotTruth["events"]): ShotFacts {
  const { options, sessionSeed, setup, pose, sensors, faults, clock, series } = scene;
  const soles: Record<Foot, SimulatedSole> = series.soles;
  return simulatedFacts({
    seed: options.seed,
    sessionSeed,
    player: options.player.name,
    handed: options.player.handed,
    massKg: series.massKg,
    intent: options.intent,
    lie: options.lie,
    club: options.club ?? USUAL_CLUB,
    result: shotResult({ seed: options.seed, intent: options.intent, isMishit: options.isMishit ?? false }),
    setup,
    pose,
    sensors,
    soles,
    events,
    marks: options.marks ?? "exact",
    hasImpactSignal: (options.hasTrigger ?? false) || (options.hasSound ?? false),
    isSwapped: faults.includes("swapped"),
    clock: clock.told,
  });
}

/**
 * One shot: physics first, then sensors. The same options give the same bytes.
 *
 * Forces obey Newton's laws exactly with the truth's motion of the centre of mass; the recording adds to them what
 * `sensors` and `faults` say. Throws where the lie is too steep, the recording too short or the rate out of range.
 */
export function simulateShot(options: ShotOptions): SimulatedShot {
  const scene = sceneOf(options);
  const { sessionSeed, setup, pose, faults, sensors, rateHz, grid, plan, series, errors, clock } = scene;
  const { truth, own } = truthOf(scene);
  const isOneClock = clock.offsetS === 0 && clock.drift === 0;
  const trailGrid: TimeGrid = { ...grid, firstS: clock.offsetS, stepS: (1 + clock.drift) * grid.stepS };
  const { recording, raw, done } = simulatedRecording({
    seed: options.seed,
    sessionSeed,
    setup,
    pose,
    faults,
    bits: sensors.bits,
    rateHz,
    grid,
    timing: plan.timing,
    lead: { foot: own.lead, errors: errors.lead },
    trail: { foot: isOneClock ? own.trail : shotSeries(series, trailGrid).trail, errors: errors.trail },
    hasTrigger: options.hasTrigger ?? false,
    hasSound: options.hasSound ?? false,
  });
  const injected: readonly InjectedFault[] = done;
  return { recording, raw, facts: factsOf(scene, truth.events), truth: { ...truth, faults: injected } };
}
