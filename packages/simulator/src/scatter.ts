import { random } from "@underfoot/domain";
import type { SimulatedPlayer } from "./player.ts";

/** Correlation between shots of one session. */
const SESSION_CORRELATION = 0.3;

/** The player's scatter in one shot: every call draws the next habit's departure from the player's own way. */
export interface Scatter {
  /** A factor around 1 with the player's CV of amplitudes. */
  amplitude(): number;
  /** s around 0 with the player's sd of times. */
  timeS(): number;
  /** Points of lead share around 0. */
  sharePoints(): number;
  /** Around 0 with the given sd. */
  around(sd: number): number;
}

export interface ScatterOptions {
  readonly seed: number;
  readonly sessionSeed: number;
  readonly player: SimulatedPlayer;
  /** 1: the player's own; 0: every shot the same. */
  readonly scale: number;
}

/** Factors stay within this many CV, so that no push changes its sign. */
const FARTHEST = 3;

/**
 * Scatter of one shot: each draw is sqrt(0.3) of the session's and sqrt(0.7) of the shot's own standard normal,
 * so two shots of one session correlate by 0.3 and shots of different sessions not at all.
 */
export function scatter({ seed, sessionSeed, player, scale }: ScatterOptions): Scatter {
  const ofSession = random(sessionSeed, `scatter of ${player.seed}`);
  const ofShot = random(seed, "scatter of the shot");
  const { amplitudeCv, timingSdS, sharePointsSd } = player.scatter;
  const next = (): number => {
    const z =
      Math.sqrt(SESSION_CORRELATION) * ofSession.normal() + Math.sqrt(1 - SESSION_CORRELATION) * ofShot.normal();
    return scale * Math.min(FARTHEST, Math.max(-FARTHEST, z));
  };
  return {
    amplitude: () => 1 + amplitudeCv * next(),
    timeS: () => timingSdS * next(),
    sharePoints: () => sharePointsSd * next(),
    around: (sd) => sd * next(),
  };
}
