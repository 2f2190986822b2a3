import { cross, type Foot, type Handed, scaled, sum, type TurfPoint, type Vector } from "@underfoot/domain";
import type { LevelFromTurf } from "./lie-axes.ts";
import type { LaidPlate, PlateSetup } from "./plate-setup.ts";

/** Player axes as laboratory vectors, and the plates lying in the turf. */
export interface LabPose {
  readonly handed: Handed;
  readonly targetAxis: Vector;
  readonly aheadAxis: Vector;
  readonly normal: Vector;
  /** Against gravity. */
  readonly upward: Vector;
  /** Mean of the true plate centres. */
  readonly middleM: Vector;
  readonly lead: LaidPlate;
  readonly trail: LaidPlate;
}

/** ahead from target and up: heels to toes, toward the ball. */
function aheadOf(target: Vector, up: Vector, handed: Handed): Vector {
  return handed === "right" ? cross(target, up) : cross(up, target);
}

function combined(axes: readonly [Vector, Vector, Vector], parts: readonly number[]): Vector {
  return sum(sum(scaled(axes[0], parts[0]!), scaled(axes[1], parts[1]!)), scaled(axes[2], parts[2]!));
}

/** Turf axes in the laboratory: target, ahead, normal; and the direction against gravity. */
function turfAxes(
  { tied, upAxis, targetTurnDeg }: PlateSetup["lab"],
  handed: Handed,
  levelFromTurf: LevelFromTurf,
): readonly [Vector, Vector, Vector, Vector] {
  const turn = (targetTurnDeg * Math.PI) / 180;
  const up: Vector = upAxis === "z" ? { x: 0, y: 0, z: 1 } : { x: 0, y: 1, z: 0 };
  const target: Vector =
    upAxis === "z" ? { x: Math.cos(turn), y: Math.sin(turn), z: 0 } : { x: Math.cos(turn), y: 0, z: -Math.sin(turn) };
  const own = [target, aheadOf(target, up, handed), up] as const;
  const [t, a, u] = levelFromTurf;
  if (tied === "turf") return [...own, combined(own, u)];
  const turf = (k: 0 | 1 | 2): Vector => combined(own, [t[k], a[k], u[k]]);
  return [turf(0), turf(1), turf(2), up];
}

export interface LabPoseOptions {
  readonly plates: PlateSetup;
  readonly handed: Handed;
  readonly levelFromTurf: LevelFromTurf;
}

/** Lays the player's axes and the two plates, side by side along target with the middle between them, into the laboratory. */
export function labPose({ plates, handed, levelFromTurf }: LabPoseOptions): LabPose {
  const [targetAxis, aheadAxis, normal, upward] = turfAxes(plates.lab, handed, levelFromTurf);
  const [sizeX, sizeY] = plates.sizeM;
  const laid = (foot: Foot): LaidPlate => {
    const plate = plates[foot];
    const yaw = (plate.yawDeg * Math.PI) / 180;
    const x = sum(scaled(targetAxis, Math.cos(yaw)), scaled(aheadAxis, Math.sin(yaw)));
    const z = scaled(normal, -1);
    const y = cross(z, x);
    const reachM = (Math.abs(Math.cos(yaw)) * sizeX + Math.abs(Math.sin(yaw)) * sizeY) / 2;
    const offsetM = (foot === "lead" ? 1 : -1) * (reachM + plates.gapM / 2);
    const centreM = sum(plates.lab.placeM, scaled(targetAxis, offsetM));
    const corner = (alongX: number, alongY: number): Vector =>
      sum(centreM, sum(scaled(x, (alongX * sizeX) / 2), scaled(y, (alongY * sizeY) / 2)));
    return {
      foot,
      plate,
      x,
      y,
      z,
      offsetM,
      centreM,
      cornersM: [corner(1, 1), corner(-1, 1), corner(-1, -1), corner(1, -1)],
    };
  };
  const lead = laid("lead");
  const trail = laid("trail");
  const middleM = scaled(sum(lead.centreM, trail.centreM), 0.5);
  return { handed, targetAxis, aheadAxis, normal, upward, middleM, lead, trail };
}

/** A turf point counted from the line between the feet (`placeM` of the setup) as a laboratory point, `heightM` over the plates. */
export function labPoint(pose: LabPose, originM: Vector, point: TurfPoint, heightM: number): Vector {
  return sum(originM, combined([pose.targetAxis, pose.aheadAxis, pose.normal], [point.targetM, point.aheadM, heightM]));
}
