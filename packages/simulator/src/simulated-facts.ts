import {
  type EventName,
  type Foot,
  type Handed,
  type Intent,
  random,
  type ShotFacts,
  type ShotResult,
  type Vector,
} from "@underfoot/domain";
import { type LabPose, labPoint } from "./lab-pose.ts";
import type { SimulatedLie } from "./lie-axes.ts";
import type { PlateSetup } from "./plate-setup.ts";
import type { SensorErrors } from "./sensor-errors.ts";
import type { SimulatedSole } from "./sole.ts";

/** `exact`: at the true times; `noisy`: as a person marks a video, impact left to a trigger or sound channel where there is one; `none`. */
export type Marks = "exact" | "noisy" | "none";

export interface SimulatedFactsOptions {
  readonly seed: number;
  readonly sessionSeed: number;
  readonly player: string;
  readonly handed: Handed;
  readonly massKg: number;
  readonly intent: Intent;
  readonly lie: SimulatedLie;
  readonly club: string;
  readonly result: ShotResult;
  readonly setup: PlateSetup;
  readonly pose: LabPose;
  readonly sensors: SensorErrors;
  readonly soles: Readonly<Record<Foot, SimulatedSole>>;
  readonly events: Readonly<Record<EventName, number>>;
  readonly marks: Marks;
  /** A trigger or sound channel tells impact. */
  readonly hasImpactSignal: boolean;
  readonly isSwapped: boolean;
  /** What is told of the trail plate's clock. */
  readonly clock: { readonly offsetS: number; readonly drift: number; readonly sdS: number } | undefined;
}

/** Smallest sd that is written where nothing is wrong. */
const LEAST_SD_DEG = 0.01;
const LEAST_SD_KG = 0.05;
const EXACT_MARK_SD_MS = 0.5;
/** What a person who marks a video of 120 frames a second is wrong by, ms; start and finish have no sharp moment (common practice, no source). */
const MARK_SD_MS: Readonly<Record<EventName, number>> = {
  address: 20,
  start: 15,
  top: 6,
  delivery: 5,
  impact: 3,
  finish: 20,
};
/** The ball lies this far ahead of the middle between the soles and this far toward the target, m. */
const BALL_AHEAD_M = 0.56;
const BALL_TARGET_M = 0.02;

const MARKED = ["start", "top", "delivery", "impact", "finish"] as const;

function markedEvents({ seed, marks, events, hasImpactSignal }: SimulatedFactsOptions): ShotFacts["events"] {
  if (marks === "none") return [];
  const draw = random(seed, "marks");
  const all = MARKED.map((event): ShotFacts["events"][number] => {
    const sdMs = marks === "exact" ? EXACT_MARK_SD_MS : MARK_SD_MS[event];
    const errorS = marks === "exact" ? 0 : (sdMs * draw.normal()) / 1000;
    return { event, timeS: events[event] + errorS, source: "marked", sdMs };
  });
  return marks === "noisy" && hasImpactSignal ? all.filter(({ event }) => event !== "impact") : all;
}

/** What an instrument with an error shows, in tenths; the true value where it has none. */
function reading(trueValue: number, error: number): number {
  return error === 0 ? trueValue : Math.round(10 * (trueValue + error)) / 10 + 0;
}

/** The lie an inclinometer reads: the same for every shot of a session. */
export function statedLie(
  lie: SimulatedLie,
  { inclinometerDeg }: SensorErrors,
  sessionSeed: number,
): { pitchDeg: number; rollDeg: number } {
  const draw = random(sessionSeed, `inclinometer on ${lie.name}`);
  return {
    pitchDeg: reading(lie.pitchDeg, inclinometerDeg * draw.normal()),
    rollDeg: reading(lie.rollDeg, inclinometerDeg * draw.normal()),
  };
}

/** What the coach says about the shot: everything a recording cannot. All invented, and the note says so. */
export function simulatedFacts(options: SimulatedFactsOptions): ShotFacts {
  const { sessionSeed, handed, lie, setup, pose, sensors, soles, isSwapped, clock } = options;
  const onTurf = (point: { targetM: number; aheadM: number }): Vector =>
    labPoint(pose, setup.lab.placeM, point, setup.padM);
  const other: Record<Foot, Foot> = { lead: "trail", trail: "lead" };
  const plateOf = (foot: Foot): ShotFacts["plates"][number] => ({
    plate: foot === setup.first ? 1 : 2,
    foot: isSwapped ? other[foot] : foot,
    ...(clock !== undefined && foot === "trail" ? { clock } : {}),
  });
  const scaleErrorKg = sensors.scaleKg * random(sessionSeed, "scale").normal();
  return {
    player: options.player,
    handed,
    target: pose.targetAxis,
    lie: {
      ...statedLie(lie, sensors, sessionSeed),
      source: "inclinometer",
      sdDeg: Math.max(LEAST_SD_DEG, sensors.inclinometerDeg),
    },
    plates: [plateOf("lead"), plateOf("trail")].sort((a, b) => a.plate - b.plate),
    feet: [soles.lead, soles.trail].map(({ foot, outline, heel, toe }) => ({
      foot: isSwapped ? other[foot] : foot,
      frame: "lab",
      outline: outline.map(onTurf),
      heel: onTurf(heel),
      toe: onTurf(toe),
    })),
    ballM: onTurf({ targetM: BALL_TARGET_M, aheadM: BALL_AHEAD_M }),
    mass: {
      kg: reading(options.massKg, scaleErrorKg),
      sdKg: Math.max(LEAST_SD_KG, sensors.scaleKg),
      source: "scale",
      withClub: true,
    },
    ...(setup.padM > 0 ? { padM: setup.padM } : {}),
    events: markedEvents(options),
    intent: options.intent,
    lieName: lie.name,
    club: options.club,
    result: options.result,
    keep: "kept",
    note: "Simulated shot of an invented player.",
  };
}
