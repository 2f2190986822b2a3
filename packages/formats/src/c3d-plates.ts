import type { Channel, Finding, PlateDescription, Vector, Where } from "@underfoot/domain";
import { c3dFindings, type Said } from "./c3d-findings.ts";
import type { C3dLayout } from "./c3d-layout.ts";
import { type C3dParameters, countOf, countsOf, numbersOf } from "./c3d-parameters.ts";
import { lengthToMFrom, type PlatePlace, platePlace } from "./c3d-plate-place.ts";
import { forceUnitN, momentUnitNm } from "./c3d-units.ts";

/** Channels that each computed type takes; any other type is kept and shown only. */
const CHANNELS_OF_TYPE: Readonly<Record<number, number>> = { 0: 3, 1: 6, 2: 6, 3: 8, 4: 6 };
const MOST_PLATES = 255;

/** The group's parameters, read once for all plates. */
interface PlateTables {
  readonly types: readonly number[];
  readonly corners: readonly number[];
  readonly origins: readonly number[];
  readonly channels: readonly number[];
  /** Channels written for each plate. */
  readonly channelRows: number;
  readonly matrices: readonly number[];
  readonly matrixRows: number;
  readonly matrixColumns: number;
  readonly count: number;
}

function plateTables(parameters: C3dParameters, where: Where, out: Said): PlateTables {
  const types = countsOf(parameters, "FORCE_PLATFORM:TYPE") ?? [];
  const corners = numbersOf(parameters, "FORCE_PLATFORM:CORNERS") ?? [];
  const channels = countsOf(parameters, "FORCE_PLATFORM:CHANNEL") ?? [];
  const channelShape = parameters.byName.get("FORCE_PLATFORM:CHANNEL")?.dimensions ?? [];
  const used = countOf(parameters, "FORCE_PLATFORM:USED");
  const channelRows = channelShape[0] || 1;
  const described = Math.max(types.length, Math.floor(corners.length / 12));
  const count = Math.max(0, Math.min(Math.floor(used ?? types.length), described, MOST_PLATES));
  const isShort = used === undefined ? count > 0 : used > count;
  if (isShort) out.say(c3dFindings.plateUsed(where, used, count));
  const matrixShape = parameters.byName.get("FORCE_PLATFORM:CAL_MATRIX")?.dimensions ?? [];
  return {
    types,
    corners,
    origins: numbersOf(parameters, "FORCE_PLATFORM:ORIGIN") ?? [],
    channels,
    channelRows,
    matrices: numbersOf(parameters, "FORCE_PLATFORM:CAL_MATRIX") ?? [],
    matrixRows: matrixShape[0] ?? 6,
    matrixColumns: matrixShape[1] ?? 6,
    count,
  };
}

/** The k-th plate's channels from 0, or what is wrong with them. */
function channelsOfPlate(
  { channels, channelRows }: PlateTables,
  k: number,
  { type, channelCount }: { readonly type: number; readonly channelCount: number },
): { positions: number[]; wrong?: string } {
  const row = channels.slice(k * channelRows, (k + 1) * channelRows);
  const isValid = (number: number): boolean => Number.isInteger(number) && number >= 1 && number <= channelCount;
  const needed = CHANNELS_OF_TYPE[type];
  if (needed === undefined) return { positions: row.filter(isValid).map((number) => number - 1) };
  const own = row.slice(0, needed);
  const positions = own.filter(isValid).map((number) => number - 1);
  if (own.length === needed && own.every(isValid)) return { positions };
  return { positions, wrong: own.length === 0 ? "not given" : own.join(", ") };
}

/** Rows Fx Fy Fz Mx My Mz from a matrix stored column by column; moments in file lengths become N m. */
function matrixOf(tables: PlateTables, k: number, lengthToM: number): number[][] | undefined {
  if (tables.matrixRows !== 6 || tables.matrixColumns !== 6) return undefined;
  const stored = tables.matrices.slice(36 * k, 36 * (k + 1));
  if (stored.length < 36 || !stored.every(Number.isFinite) || stored.every((value) => value === 0)) return undefined;
  return Array.from({ length: 6 }, (_, r) =>
    Array.from({ length: 6 }, (_, c) => stored[6 * c + r]! * (r < 3 ? 1 : lengthToM)),
  );
}

interface Origin {
  readonly originM: Vector;
  readonly originAsWrittenM: Vector;
  readonly isGiven: boolean;
}

const turned = ({ x, y, z }: Vector): Vector => ({ x: -x, y: -y, z: -z });

/** ORIGIN points from the plate's origin up to the surface, so against plate z; the opposite is the best known mistake. */
function originOf(
  tables: PlateTables,
  k: number,
  { type, lengthToM, isTurned }: { readonly type: number; readonly lengthToM: number; readonly isTurned: boolean },
  where: Where,
  out: Said,
): Origin {
  const [x = Number.NaN, y = Number.NaN, z = Number.NaN] = tables.origins.slice(3 * k, 3 * k + 3);
  const isGiven = [x, y, z].every(Number.isFinite);
  const written = isGiven ? { x: x * lengthToM, y: y * lengthToM, z: z * lengthToM } : { x: 0, y: 0, z: 0 };
  const asWritten: Origin = { originM: written, originAsWrittenM: written, isGiven };
  // Where the corners' z points up, up to the surface is along +z.
  const isBelow = isTurned ? written.z < 0 : written.z > 0;
  if (!isBelow || type < 2 || type > 4) return asWritten;
  out.guess(c3dFindings.originSign(where, 1000 * Math.abs(written.z), type !== 3));
  return { ...asWritten, originM: type === 3 ? { ...written, z: -written.z } : turned(written) };
}

/** Mean of |M| over mean of |Fz| while more than half the peak stands on the plate, in file units of moment over N. */
function momentArm(channels: readonly Channel[], positions: readonly number[]): number {
  const load = channels[positions[2]!]!.values;
  const [mx, my] = [channels[positions[3]!]!.values, channels[positions[4]!]!.values];
  let peak = 0;
  for (let i = 0; i < load.length; i++) peak = Math.max(peak, Math.abs(load[i]!) || 0);
  let moments = 0;
  let loads = 0;
  for (let i = 0; i < load.length; i++) {
    if (!(Math.abs(load[i]!) > peak / 2)) continue;
    moments += Math.max(Math.abs(mx[i]!), Math.abs(my[i]!)) || 0;
    loads += Math.abs(load[i]!);
  }
  return loads > 0 ? moments / loads : 0;
}

interface MomentContext {
  readonly channels: readonly Channel[];
  readonly positions: readonly number[];
  readonly type: number;
  readonly lengthToM: number;
  readonly place: PlatePlace;
}

/** Newton metres per unit of the moment channels, and the unit's name. */
function momentUnitOf(context: MomentContext, where: Where, out: Said): { momentToNm: number; momentUnit: string } {
  const { channels, positions, type, lengthToM, place } = context;
  const byLength = lengthToM === 1 ? "N m" : lengthToM === 1e-3 ? "N mm" : `N x ${lengthToM} m`;
  if (type === 4) return { momentToNm: 1, momentUnit: byLength };
  const written = type === 1 || type === 2 ? (channels[positions[5]!]?.unit ?? "") : "";
  const known = momentUnitNm(written);
  if (known !== undefined) return { momentToNm: known, momentUnit: written };
  if (type !== 2) return { momentToNm: type === 3 ? 1 : lengthToM, momentUnit: byLength };
  const arm = momentArm(channels, positions);
  const largest = Math.max(...place.sizeM);
  const other = lengthToM === 1 ? 1e-3 : 1;
  if (!(arm * lengthToM > largest && arm * other <= largest)) return { momentToNm: lengthToM, momentUnit: byLength };
  const taken = other === 1 ? "N m" : "N mm";
  out.guess(c3dFindings.momentUnit(where, arm * other, taken));
  return { momentToNm: other, momentUnit: taken };
}

/** ZERO as samples; (0,0), (1,0) and frames outside the recording ask for nothing. */
function zeroOf(parameters: C3dParameters, { frames, samplesPerFrame }: C3dLayout): PlateDescription["zero"] {
  const [from = 0, to = 0] = numbersOf(parameters, "FORCE_PLATFORM:ZERO") ?? [];
  const isAsked = Number.isInteger(from) && Number.isInteger(to) && from >= 1 && to >= from && to <= frames;
  return isAsked ? { first: (from - 1) * samplesPerFrame, end: to * samplesPerFrame } : undefined;
}

function faultOf(
  facts: { type: number; place: PlatePlace; wrong: string | undefined; hasMatrix: boolean; origin: Origin },
  channelCount: number,
  where: Where,
): Finding | undefined {
  const { type, place, wrong, hasMatrix, origin } = facts;
  if (CHANNELS_OF_TYPE[type] === undefined) return c3dFindings.plateType(where, type);
  if (wrong !== undefined) return c3dFindings.plateChannel(where, wrong, channelCount);
  if (place.sides !== undefined) return c3dFindings.plateCorners(where, place.sides);
  if (type === 4 && !hasMatrix) return c3dFindings.plateMatrix(where);
  if (type === 0) return c3dFindings.forceOnly(where);
  if (type === 3 && (origin.originM.x === 0 || origin.originM.y === 0)) return c3dFindings.noSpacing(where);
  if ((type === 2 || type === 4) && !origin.isGiven) return c3dFindings.noOrigin(where);
  return undefined;
}

interface PlateContext {
  readonly layout: C3dLayout;
  readonly channels: readonly Channel[];
  readonly where: Where;
}

interface PlateShared extends PlateContext {
  readonly tables: PlateTables;
  readonly lengthToM: number;
}

/** The k-th plate (from 0), all but ZERO. */
function plateAt(k: number, { tables, lengthToM, channels, where }: PlateShared, out: Said): PlateDescription {
  const at: Where = { ...where, plate: k + 1 };
  const type = tables.types[k] ?? -1;
  const { positions, wrong } = channelsOfPlate(tables, k, { type, channelCount: channels.length });
  const place = platePlace(tables.corners, k, lengthToM, at, out);
  const origin = originOf(tables, k, { type, lengthToM, isTurned: place.isTurned }, at, out);
  const matrix = type === 4 ? matrixOf(tables, k, lengthToM) : undefined;
  const fault = faultOf({ type, place, wrong, hasMatrix: matrix !== undefined, origin }, channels.length, at);
  if (fault !== undefined) out.say(fault);
  const isComputed = fault?.severity !== "stop";
  const forceUnit = type === 4 ? "" : channels[positions[2] ?? -1]?.unit;
  return {
    index: k + 1,
    type,
    channels: positions,
    corners: place.corners,
    isPlaced: place.sides === undefined,
    originM: origin.originM,
    originAsWrittenM: origin.originAsWrittenM,
    ...(matrix && { matrix }),
    forceToN: forceUnitN(forceUnit ?? "") ?? 1,
    ...(isComputed
      ? momentUnitOf({ channels, positions, type, lengthToM, place }, at, out)
      : { momentToNm: lengthToM, momentUnit: "" }),
    lengthToM,
    sense: "unknown",
    ...(fault && { fault }),
    hasMoments: isComputed && type !== 0 && !(type === 3 && fault !== undefined),
  };
}

/**
 * The force plates of a file, in SI units where nothing is left to be computed from the samples.
 *
 * A plate that cannot be computed has a `fault` and keeps its channels; the others are not touched by it.
 * Whether a plate stores action or reaction, and whether its ZERO is taken, is settled by whoever computes the wrench.
 */
export function platesFrom(parameters: C3dParameters, context: PlateContext, out: Said): PlateDescription[] {
  const tables = plateTables(parameters, context.where, out);
  if (tables.count === 0) return [];
  const lengthToM = lengthToMFrom(parameters, context.where, out);
  const zero = zeroOf(parameters, context.layout);
  return Array.from({ length: tables.count }, (_, k) => {
    const plate = plateAt(k, { ...context, tables, lengthToM }, out);
    return zero === undefined ? plate : { ...plate, zero };
  });
}
