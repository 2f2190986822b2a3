import { type Handed, random } from "@underfoot/domain";

/** An invented player: body, feet and habits. Nobody's data. */
export interface SimulatedPlayer {
  /** "Player A" to "Player Z". */
  readonly name: string;
  readonly seed: number;
  readonly handed: Handed;
  readonly massKg: number;
  /** Height of the centre of mass over the turf, m: how far the CoP runs ahead of quiet sway. */
  readonly comHeightM: number;
  readonly feet: {
    readonly lengthM: number;
    readonly widthM: number;
    /** Toe-out, degrees. */
    readonly leadFlareDeg: number;
    readonly trailFlareDeg: number;
    /** Between the middles of the soles, along target, m. */
    readonly stanceM: number;
    /** The lead foot's middle is this far ahead of the trail foot's, m. */
    readonly openM: number;
  };
  /** The player's own way, as factors on the table of intents (1 = the table). */
  readonly style: {
    readonly target: number;
    readonly ahead: number;
    readonly up: number;
    readonly turn: number;
    readonly downswing: number;
    /** Backswing over downswing. */
    readonly tempoRatio: number;
    /** Added to every lead share, points. */
    readonly sharePoints: number;
    /** Parts of the turning torque that the feet's free moments carry; the couple carries the rest. */
    readonly leadFreePart: number;
    readonly trailFreePart: number;
  };
  /** Shot to shot: CV of amplitudes, sd of times and of the address share. */
  readonly scatter: { readonly amplitudeCv: number; readonly timingSdS: number; readonly sharePointsSd: number };
}

export interface PlayerOptions {
  readonly seed: number;
  readonly handed?: Handed;
  readonly massKg?: number;
  /** Defaults to a letter drawn by the seed. */
  readonly name?: string;
}

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/**
 * An invented player, the same for the same seed. Sizes are common practice, no source: 58 to 98 kg, soles of 27 to
 * 31 cm, a short-game stance of 27 to 37 cm, amplitudes CV 6 to 10 %, times sd 12 to 20 ms, address share sd 2 points.
 */
export function simulatedPlayer({ seed, handed, massKg, name }: PlayerOptions): SimulatedPlayer {
  const draw = random(seed, "player");
  const between = (low: number, high: number): number => low + (high - low) * draw.unit();
  const letter = LETTERS.charAt(draw.below(LETTERS.length));
  const drawnHand: Handed = draw.unit() < 0.25 ? "left" : "right";
  const drawnMassKg = between(58, 98);
  return {
    name: name ?? `Player ${letter}`,
    seed,
    handed: handed ?? drawnHand,
    massKg: massKg ?? drawnMassKg,
    comHeightM: between(0.88, 1.02),
    feet: {
      lengthM: between(0.27, 0.31),
      widthM: between(0.095, 0.108),
      leadFlareDeg: between(8, 26),
      trailFlareDeg: between(0, 14),
      stanceM: between(0.27, 0.37),
      openM: between(-0.03, 0.01),
    },
    style: {
      target: between(0.9, 1.1),
      ahead: between(0.9, 1.1),
      up: between(0.9, 1.1),
      turn: between(0.9, 1.1),
      downswing: between(0.96, 1.04),
      tempoRatio: between(2.0, 2.5),
      sharePoints: between(-2.5, 2.5),
      leadFreePart: between(0.24, 0.34),
      trailFreePart: between(0.18, 0.28),
    },
    scatter: { amplitudeCv: between(0.06, 0.1), timingSdS: between(0.012, 0.02), sharePointsSd: 2 },
  };
}
