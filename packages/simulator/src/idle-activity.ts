import { type Column, type Random, STANDARD_GRAVITY_M_PER_S2 } from "@underfoot/domain";
import type { LevelFromTurf } from "./lie-axes.ts";
import type { SimulatedPlayer } from "./player.ts";
import { addPulse, type Pulse } from "./pulse.ts";
import { addSines, swaySines } from "./sway.ts";
import type { TimeGrid } from "./time-grid.ts";
import { waggleTurn } from "./turn-plan.ts";

/** What a live page sees of two plates: turf player axes, no plate's own axes any more. n samples each. */
export interface LiveColumns {
  readonly leadLoadN: Column;
  readonly trailLoadN: Column;
  readonly targetN: Column;
  readonly aheadN: Column;
  /** About the combined CoP, + toward the target. */
  readonly turnNm: Column;
}

/** What people do on plates when they are not hitting. */
export const IDLE_ACTIVITIES = ["away", "stepOn", "standing", "rocking", "waggling", "looking", "stepOff"] as const;
export type IdleActivity = (typeof IDLE_ACTIVITIES)[number];

export interface IdleOptions {
  readonly player: SimulatedPlayer;
  readonly levelFromTurf: LevelFromTurf;
  readonly rateHz: number;
  readonly draw: Random;
}

/** How long each activity lasts, s: shortest and longest. Common practice, no source. */
const LENGTHS_S: Readonly<Record<IdleActivity, readonly [number, number]>> = {
  away: [2, 6],
  stepOn: [2, 3],
  standing: [2, 8],
  rocking: [4, 8],
  waggling: [3, 6],
  looking: [2, 4],
  stepOff: [2, 3],
};

/** Of lead share around the stance: rocking reaches this far to each side. */
const ROCKING_SHARE = 0.12;
const STANCE_SHARE = 0.54;
const EDGE_S = 0.6;

function smoothStep(part: number): number {
  const u = Math.min(1, Math.max(0, part));
  return u * u * (3 - 2 * u);
}

/** Rises from 0 to 1 and falls back over `EDGE_S` at both ends. */
function edges(timeS: number, lengthS: number): number {
  return smoothStep(timeS / EDGE_S) * smoothStep((lengthS - timeS) / EDGE_S);
}

interface Working extends LiveColumns {
  readonly share: Column;
  /** Part of body weight on the plates, per foot. */
  readonly leadOn: Column;
  readonly trailOn: Column;
}

/** Weight from foot to foot at 0.5 to 1.1 Hz; the body swings as an inverted pendulum and bobs a little. */
function rock(working: Working, grid: TimeGrid, { player, draw }: IdleOptions): void {
  const lengthS = grid.count * grid.stepS;
  const omega = 2 * Math.PI * (0.5 + 0.6 * draw.unit());
  const reach = ROCKING_SHARE * (0.7 + 0.3 * draw.unit());
  const swingM = (reach * player.feet.stanceM) / (1 + (omega * omega * player.comHeightM) / STANDARD_GRAVITY_M_PER_S2);
  for (let i = 0; i < grid.count; i++) {
    const timeS = i * grid.stepS;
    const swing = edges(timeS, lengthS) * Math.sin(omega * timeS);
    working.share[i]! += reach * swing;
    working.targetN[i]! -= player.massKg * omega * omega * swingM * swing;
  }
}

/** Away and back, again and again, 0.2 to 0.6 N m s each. */
function waggle(working: Working, grid: TimeGrid, { player, draw }: IdleOptions): void {
  const lengthS = grid.count * grid.stepS;
  for (let fromS = 0.3; fromS < lengthS - 1.2; fromS += 1.1 + 0.6 * draw.unit()) {
    const toS = fromS + 0.7 + 0.3 * draw.unit();
    for (const pulse of waggleTurn({ fromS, toS }, 0.2 + 0.4 * draw.unit())) addPulse(pulse, grid, working.turnNm);
    const push: Pulse = { height: 0.05 * player.massKg, centreS: (fromS + toS) / 2, halfWidthS: (toS - fromS) / 2 };
    addPulse(push, grid, working.targetN);
  }
}

/** The head and shoulders turn to the target and back; a little load goes with them. */
function look(working: Working, grid: TimeGrid, { draw }: IdleOptions): void {
  const lengthS = grid.count * grid.stepS;
  const shift = 0.05 * (2 * draw.unit() - 0.7);
  const there = waggleTurn({ fromS: 0.1, toS: 1.1 }, -0.3 * (0.5 + draw.unit()));
  const back = waggleTurn({ fromS: lengthS - 1.1, toS: lengthS - 0.1 }, 0.3 * (0.5 + draw.unit()));
  for (const pulse of [...there, ...back]) addPulse(pulse, grid, working.turnNm);
  for (let i = 0; i < grid.count; i++) working.share[i]! += shift * edges(i * grid.stepS, lengthS);
}

/** One foot after the other onto the plates or off them; the first foot takes all the weight there is for a moment. */
function step(working: Working, grid: TimeGrid, { player, draw }: IdleOptions, way: "on" | "off"): void {
  const isOn = way === "on";
  const lengthS = grid.count * grid.stepS;
  const [first, second] = draw.unit() < 0.5 ? [working.leadOn, working.trailOn] : [working.trailOn, working.leadOn];
  for (let i = 0; i < grid.count; i++) {
    const timeS = isOn ? i * grid.stepS : lengthS - i * grid.stepS;
    first[i] =
      smoothStep((timeS - 0.3) / 0.4) * (1 + 0.5 * smoothStep((timeS - 0.6) / 0.2) * smoothStep((1.2 - timeS) / 0.3));
    second[i] = smoothStep((timeS - 0.9) / 0.4);
  }
  const push = (centreS: number): Pulse => ({
    height: (2 * draw.unit() - 1) * 0.6 * player.massKg,
    centreS: isOn ? centreS : lengthS - centreS,
    halfWidthS: 0.25,
  });
  for (const centreS of [0.5, 1.1]) {
    addPulse(push(centreS), grid, working.targetN);
    addPulse(push(centreS), grid, working.aheadN);
    addPulse({ ...push(centreS), height: 5 * (2 * draw.unit() - 1) }, grid, working.turnNm);
  }
}

type Act = (working: Working, grid: TimeGrid, options: IdleOptions) => void;

const ACTS: Readonly<Record<IdleActivity, Act>> = {
  away: ({ leadOn, trailOn }) => {
    leadOn.fill(0);
    trailOn.fill(0);
  },
  stepOn: (working, grid, options) => step(working, grid, options, "on"),
  stepOff: (working, grid, options) => step(working, grid, options, "off"),
  standing: () => undefined,
  rocking: rock,
  waggling: waggle,
  looking: look,
};

/** Without noise: what one activity does to both plates, quiet sway included. On a slope gravity's share is in the forces. */
export function idleActivity(activity: IdleActivity, options: IdleOptions): LiveColumns {
  const { player, levelFromTurf, rateHz, draw } = options;
  const [shortest, longest] = LENGTHS_S[activity];
  const count = Math.round((shortest + (longest - shortest) * draw.unit()) * rateHz);
  const grid: TimeGrid = { firstS: 0, stepS: 1 / rateHz, count };
  const column = (value = 0): Column => new Float64Array(count).fill(value);
  const working: Working = {
    leadLoadN: column(),
    trailLoadN: column(),
    targetN: column(),
    aheadN: column(),
    turnNm: column(),
    share: column(STANCE_SHARE),
    leadOn: column(1),
    trailOn: column(1),
  };
  const swayed = (out: Column, amplitude: number): void =>
    addSines(
      swaySines(1, draw).map((sine) => ({ ...sine, amplitude })),
      grid,
      out,
    );
  swayed(working.share, 0.004);
  swayed(working.targetN, 0.5);
  swayed(working.aheadN, 0.5);
  swayed(working.turnNm, 0.1);
  ACTS[activity](working, grid, options);
  const weightN = player.massKg * STANDARD_GRAVITY_M_PER_S2;
  const [slopeT, slopeA, slopeU] = levelFromTurf[2];
  const { leadLoadN, trailLoadN, targetN, aheadN, turnNm, share, leadOn, trailOn } = working;
  for (let i = 0; i < count; i++) {
    leadLoadN[i] = weightN * slopeU * share[i]! * leadOn[i]!;
    trailLoadN[i] = weightN * slopeU * (1 - share[i]!) * trailOn[i]!;
    const part = (leadLoadN[i]! + trailLoadN[i]!) / (weightN * slopeU);
    targetN[i] = part * (targetN[i]! + weightN * slopeT);
    aheadN[i] = part * (aheadN[i]! + weightN * slopeA);
    turnNm[i] = part * turnNm[i]!;
  }
  return { leadLoadN, trailLoadN, targetN, aheadN, turnNm };
}
