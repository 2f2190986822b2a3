import type { Channel, ChannelRole, Column, Where } from "@underfoot/domain";
import type { AnalogScaling } from "./c3d-analog.ts";
import { c3dFindings, type Said } from "./c3d-findings.ts";
import type { C3dLayout } from "./c3d-layout.ts";
import { type C3dParameters, countOf, countsOf, textsOf } from "./c3d-parameters.ts";

const WORD = 65_536;
const FEWEST_BITS = 8;

/** Beginnings of labels that tell what a channel carries; a guess in files of others (common practice, no source). */
const ROLES: readonly (readonly [RegExp, ChannelRole])[] = [
  [/trig|sync|ttl/i, "trigger"],
  [/sound|mic|audio|acoust/i, "sound"],
  [/^gap$/i, "gap"],
];

const roleFrom = (label: string): ChannelRole => ROLES.find(([pattern]) => pattern.test(label))?.[1] ?? "other";

function firstRepeated(labels: readonly string[]): string | undefined {
  const seen = new Set<string>();
  return labels.find((label) => label !== "" && (seen.has(label) || !seen.add(label)));
}

/** Raw numbers at the converter's ends, by ANALOG:BITS and by what the channel holds; the full 16 bits where they do not fit. */
function rawRange(column: Column, offset: number, scale: number, bits: number, isUnsigned: boolean): [number, number] {
  const full: [number, number] = isUnsigned ? [0, WORD - 1] : [-WORD / 2, WORD / 2 - 1];
  if (bits >= 16 || bits < FEWEST_BITS || scale === 0) return full;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < column.length; i++) {
    const raw = column[i]! / scale + offset;
    if (raw < low) low = raw;
    if (raw > high) high = raw;
  }
  const counts = 2 ** bits;
  const slack = 0.5;
  if (!isUnsigned && low >= -counts / 2 - slack && high <= counts / 2 - 1 + slack) return [-counts / 2, counts / 2 - 1];
  if (low >= -slack && high <= counts - 1 + slack) return [0, counts - 1];
  return full;
}

/**
 * The channels with label, unit, range and use.
 *
 * `range` is given for integer files. What a channel carries is told by its label: known in files of this product, a
 * guess in others, and asked for only where the channel belongs to no plate.
 */
export function channelsFrom(
  columns: readonly Column[],
  parameters: C3dParameters,
  {
    layout,
    scaling,
    isOwn,
    where,
  }: {
    readonly layout: C3dLayout;
    readonly scaling: AnalogScaling;
    readonly isOwn: boolean;
    readonly where: Where;
  },
  out: Said,
): Channel[] {
  const labels = textsOf(parameters, "ANALOG:LABELS");
  const units = textsOf(parameters, "ANALOG:UNITS");
  const bits = countOf(parameters, "ANALOG:BITS") ?? 16;
  const onPlates = new Set(countsOf(parameters, "FORCE_PLATFORM:CHANNEL") ?? []);
  const twice = firstRepeated(labels.slice(0, columns.length));
  if (twice !== undefined) out.say(c3dFindings.labelTwice(where, twice));
  return columns.map((values, c) => {
    const label = labels[c] || String(c + 1);
    const role = onPlates.has(c + 1) ? "other" : roleFrom(label);
    if (role !== "other" && !isOwn) out.guess(c3dFindings.channelRole({ ...where, channel: label }, label, role));
    const unit = (units.length === 1 ? units[0] : units[c]) ?? "";
    if (layout.isReal) return { label, unit, values, role };
    const [offset, scale] = [scaling.offsets[c]!, scaling.scales[c]!];
    const ends = rawRange(values, offset, scale, bits, scaling.isUnsigned).map((raw) => (raw - offset) * scale);
    return { label, unit, values, role, range: [Math.min(...ends), Math.max(...ends)] as const };
  });
}

/** In files of this product a channel `gap` is 1 where no plate had a sample, `gapK` where plate K had none: NaN again, in place. */
export function restoreGaps(columns: readonly Column[], parameters: C3dParameters): void {
  const labels = textsOf(parameters, "ANALOG:LABELS");
  const rows = parameters.byName.get("FORCE_PLATFORM:CHANNEL")?.dimensions[0] ?? 0;
  const numbers = countsOf(parameters, "FORCE_PLATFORM:CHANNEL") ?? [];
  labels.forEach((label, c) => {
    const match = /^gap(\d*)$/.exec(label);
    const gap = columns[c];
    if (match === null || gap === undefined) return;
    const plate = Number(match[1]);
    const own = match[1] === "" ? numbers : numbers.slice((plate - 1) * rows, plate * rows);
    for (const column of own.flatMap((number) => columns[number - 1] ?? [])) {
      for (let i = 0; i < column.length; i++) if (gap[i]! > 0.5) column[i] = Number.NaN;
    }
  });
}
