import type { PlayerAxes, Samples, TurfPoint } from "@underfoot/domain";
import type { QuantityName } from "./catalogue-words.ts";
import { footCoordinates } from "./foot-coordinates.ts";
import { STATE } from "./player-state.ts";
import type { Shot, Sole } from "./shot.ts";

/** A measure at one instant: a function of the player state that begins at `w[o]`. */
export type StateQuantity = (w: Samples, o: number) => number;

const DEG = 180 / Math.PI;
const { trail, up, bTarget, bAhead, turn, pitch, roll } = STATE;

type Place = "lead" | "trail" | "both";
type Direction = "target" | "ahead" | "up";

/** Total or one foot's force along one of the turf axes, N. */
function turfForce(place: Place, direction: Direction): StateQuantity {
  const at = STATE[direction];
  if (place === "lead") return (w, o) => w[o + at]!;
  if (place === "trail") return (w, o) => w[o + trail + at]!;
  return (w, o) => w[o + at]! + w[o + trail + at]!;
}

/**
 * Force along one of the axes, N. Level from turf by the state's own pitch and roll (`levelFromTurf`), so that an error of
 * the inclinometer reaches the level force.
 */
function force(place: Place, direction: Direction, axes: PlayerAxes | undefined): StateQuantity {
  if (axes !== "level") return turfForce(place, direction);
  const t = turfForce(place, "target");
  const a = turfForce(place, "ahead");
  const u = turfForce(place, "up");
  // The angles are the same in nearly every state: their sines are kept from one to the next.
  let pitchRad = Number.NaN;
  let rollRad = Number.NaN;
  let [byT, byA, byU] = [0, 0, 0];
  return (w, o) => {
    if (w[o + pitch] !== pitchRad || w[o + roll] !== rollRad) {
      pitchRad = w[o + pitch]!;
      rollRad = w[o + roll]!;
      [byT, byA, byU] = levelRow(direction, pitchRad, rollRad);
    }
    return byT * t(w, o) + byA * a(w, o) + byU * u(w, o);
  };
}

/** The row of `levelFromTurf` of one direction. */
function levelRow(direction: Direction, pitchRad: number, rollRad: number): readonly [number, number, number] {
  const sinP = Math.sin(pitchRad);
  const sinR = Math.sin(rollRad);
  const c = Math.sqrt(1 - sinP * sinP - sinR * sinR);
  if (direction === "up") return [sinP, sinR, c];
  const cosP = Math.sqrt(1 - sinP * sinP);
  return direction === "ahead" ? [0, c / cosP, -sinR / cosP] : [cosP, (-sinP * sinR) / cosP, (-c * sinP) / cosP];
}

function lean(direction: "target" | "ahead", axes: PlayerAxes | undefined): StateQuantity {
  const along = force("both", direction, axes);
  const upward = force("both", "up", axes);
  return (w, o) => Math.atan2(along(w, o), upward(w, o)) * DEG;
}

/** 100 load_lead / load_both, %. */
const share: StateQuantity = (w, o) => (100 * w[o + up]!) / (w[o + up]! + w[o + trail + up]!);

/** Free moment of one wrench, N m: T = N - (r_a F_t - r_t F_a) with r the CoP on the pad; what is not loaded twists nothing. */
function freeMoment(foot: "lead" | "trail", padM: number): StateQuantity {
  const f = STATE[foot];
  const loaded = STATE[`${foot}Loaded`];
  return (w, o) => {
    if (w[o + loaded] === 0) return 0 * w[o + f + up]!;
    return twist(
      w[o + f]!,
      w[o + f + 1]!,
      w[o + f + up]!,
      w[o + f + bTarget]!,
      w[o + f + bAhead]!,
      w[o + f + turn]!,
      padM,
    );
  };
}

function twist(ft: number, fa: number, fu: number, bt: number, ba: number, n: number, padM: number): number {
  return n - (((ba + padM * fa) / fu) * ft - ((bt + padM * ft) / fu) * fa);
}

/** Total turning torque about the CoP of both feet, N m: of the summed wrench; with one foot off the ground, the other's. */
function turning(padM: number): StateQuantity {
  const ofLead = freeMoment("lead", padM);
  const ofTrail = freeMoment("trail", padM);
  return (w, o) => {
    if (w[o + STATE.leadLoaded] === 0) return ofTrail(w, o);
    if (w[o + STATE.trailLoaded] === 0) return ofLead(w, o);
    const t = o + trail;
    return twist(
      w[o]! + w[t]!,
      w[o + 1]! + w[t + 1]!,
      w[o + up]! + w[t + up]!,
      w[o + bTarget]! + w[t + bTarget]!,
      w[o + bAhead]! + w[t + bAhead]!,
      w[o + turn]! + w[t + turn]!,
      padM,
    );
  };
}

/** What is left of the turning torque when both feet's free moments are taken off; 0 while one foot is not loaded. */
function couple(padM: number): StateQuantity {
  const total = turning(padM);
  const ofLead = freeMoment("lead", padM);
  const ofTrail = freeMoment("trail", padM);
  return (w, o) => total(w, o) - ofLead(w, o) - ofTrail(w, o);
}

/** CoP of one foot along target or ahead, m from the reference point; NaN while not loaded. */
function copOfFoot(foot: "lead" | "trail", padM: number): (w: Samples, o: number) => TurfPoint {
  const f = STATE[foot];
  const loaded = STATE[`${foot}Loaded`];
  return (w, o) => {
    const load = w[o + loaded] === 0 ? Number.NaN : w[o + f + up]!;
    return {
      targetM: (w[o + f + bTarget]! + padM * w[o + f]!) / load,
      aheadM: (w[o + f + bAhead]! + padM * w[o + f + 1]!) / load,
    };
  };
}

/** Combined CoP along target (0) or ahead (1), mm from the middle between the feet. */
function combinedCop(direction: 0 | 1, middleM: number, padM: number): StateQuantity {
  return (w, o) => {
    const t = o + trail;
    const anyLoaded = w[o + STATE.leadLoaded]! + w[o + STATE.trailLoaded]!;
    const load = anyLoaded === 0 ? Number.NaN : w[o + up]! + w[t + up]!;
    const moment = w[o + bTarget + direction]! + w[t + bTarget + direction]!;
    const along = w[o + direction]! + w[t + direction]!;
    return 1000 * ((moment + padM * along) / load - middleM);
  };
}

function onSole(
  foot: "lead" | "trail",
  sole: Sole | undefined,
  field: "heelToe" | "innerOuter" | "marginMm",
  padM: number,
): StateQuantity | undefined {
  if (sole === undefined) return undefined;
  const cop = copOfFoot(foot, padM);
  return (w, o) => footCoordinates(sole, foot, cop(w, o))[field];
}

/** sqrt(F_t² + F_a²) / F_u of a foot, turf axes. Meaningful only where the foot carries enough: see `FRICTION_LEAST_LOAD_SHARE`. */
function friction(foot: "lead" | "trail"): StateQuantity {
  const f = STATE[foot];
  return (w, o) => Math.hypot(w[o + f]!, w[o + f + 1]!) / w[o + f + up]!;
}

/** Required friction is asked only while a foot carries more than this part of the weight: below it zero errors decide (sim). */
export const FRICTION_LEAST_LOAD_SHARE = 0.1;

/**
 * The quantity behind `<foot>.<quantity>` of the catalogue, from the player state: mechanics 3, 4, 11.
 * Undefined for the centre of mass and timing (not made from one instant), and where the foot was not traced.
 */
export function stateQuantity(
  name: QuantityName,
  axes: PlayerAxes | undefined,
  shot: Pick<Shot, "padM" | "soles" | "middle">,
): StateQuantity | undefined {
  const [place, quantity] = name.split(".") as [Place, string];
  const { padM, soles, middle } = shot;
  switch (quantity) {
    case "share":
      return share;
    case "load":
      return turfForce(place, "up");
    case "target":
    case "ahead":
    case "up":
      return force(place, quantity, axes);
    case "leanTarget":
      return lean("target", axes);
    case "leanAhead":
      return lean("ahead", axes);
    case "turn":
      return turning(padM);
    case "couple":
      return couple(padM);
    case "copTarget":
      return combinedCop(0, middle.targetM, padM);
    case "copAhead":
      return combinedCop(1, middle.aheadM, padM);
    default:
      return place === "both" ? undefined : footQuantity(place, quantity, soles[place], padM);
  }
}

function footQuantity(
  foot: "lead" | "trail",
  quantity: string,
  sole: Sole | undefined,
  padM: number,
): StateQuantity | undefined {
  switch (quantity) {
    case "freeMoment":
      return freeMoment(foot, padM);
    case "friction":
      return friction(foot);
    case "heelToe":
    case "innerOuter":
      return onSole(foot, sole, quantity, padM);
    case "margin":
      return onSole(foot, sole, "marginMm", padM);
    default:
      return undefined;
  }
}
