import type { Finding } from "@underfoot/domain";
import type { ColumnMapping, LabAxis, MappedColumn, MappedPlate, PlateGives } from "./column-mapping-type.ts";
import { type ColumnHint, columnHint } from "./column-tokens.ts";
import { mappingQuestions as asks } from "./mapping-findings.ts";
import type { TextSniff } from "./text-sniff.ts";
import { textUnit } from "./text-units.ts";

/** A draft for the user to complete: never applied by itself. */
export interface MappingProposal {
  /** Units that nothing says are "", a rate that nothing says is NaN: both are refused until they are filled in. */
  readonly mapping: ColumnMapping;
  /** What has to be asked, each with the columns in question. */
  readonly questions: readonly Finding[];
}

/**
 * A draft of a column mapping from what names and units hint at (force, moment, CoP, x y z, left, right, 1, 2), and the
 * questions that only a person can answer: units, axes, place, sense, rate.
 */
export function mappingProposal(sniff: TextSniff): MappingProposal {
  const hints = sniff.columns.filter(({ kind }) => kind === "number").map(columnHint);
  const groups = [...new Set(hints.filter(({ quantity }) => quantity === "force").map(({ plate }) => plate))];
  const up = steadyAxis(hints);
  const plates = groups.map((name, k) =>
    proposedPlate(
      name || `${k + 1}`,
      hints.filter(({ plate }) => plate === name),
      up,
    ),
  );
  const { time, rateHz } = proposedTime(sniff);
  const mapping: ColumnMapping = {
    name: "",
    match: { columns: sniff.columns.map(({ name }) => name) },
    text: { delimiter: sniff.delimiter.value, ...sniff.style.value, missing: sniff.missing.value },
    time: time ?? { rateHz },
    ...(up === undefined ? {} : { up }),
    plates,
    extra: [],
  };
  return { mapping, questions: questionsOf(mapping, hints, up) };
}

function proposedTime({ time, offers }: TextSniff): {
  time?: { column: string; unit: "s" | "ms" | "us" };
  rateHz: number;
} {
  if (time !== undefined)
    return { time: { column: time.value.column, unit: time.value.unit }, rateHz: time.value.rateHz };
  const rates = [...new Set(offers.ratesHz.map(({ rateHz }) => rateHz))];
  return { rateHz: rates.length === 1 ? (rates[0] ?? Number.NaN) : Number.NaN };
}

/** The axis whose forces are largest over the first rows; undefined where there is no load or only one axis unnamed. */
function steadyAxis(hints: readonly ColumnHint[]): LabAxis | undefined {
  const totals = new Map<LabAxis, number>();
  for (const { quantity, letter, column } of hints) {
    if (quantity !== "force" || letter === undefined) continue;
    const values = column.first.filter((value) => !Number.isNaN(value));
    const mean = values.reduce((total, value) => total + value, 0) / Math.max(1, values.length);
    totals.set(`+${letter}`, (totals.get(`+${letter}`) ?? 0) + mean);
  }
  const [largest] = [...totals].sort(([, a], [, b]) => Math.abs(b) - Math.abs(a));
  return largest !== undefined && largest[1] !== 0 ? largest[0] : undefined;
}

function proposedPlate(name: string, hints: readonly ColumnHint[], up: LabAxis | undefined): MappedPlate {
  const of = (quantity: ColumnHint["quantity"]) => hints.filter((hint) => hint.quantity === quantity);
  const mapped = (hint: ColumnHint): MappedColumn => ({
    column: hint.column.name,
    unit: textUnit(hint.column.unit)?.symbol ?? "",
    axis: hint.letter === undefined ? (up ?? "+z") : `+${hint.letter}`,
  });
  const moments = of("moment");
  // A letter alone beside a force, as X1 beside FX1, may be a CoP.
  const places = [...of("cop"), ...hints.filter(({ quantity, letter }) => quantity === "none" && letter !== undefined)];
  const cop = places.filter(({ letter }) => up === undefined || letter !== up[1]).slice(0, 2);
  const gives: PlateGives = cop.length === 2 ? "force+cop" : moments.length >= 3 ? "force+moment" : "force";
  // One moment beside a CoP can only be the free one, whatever its letter.
  const [only] = moments;
  const free = gives === "force+cop" && moments.length === 1 && only !== undefined ? mapped(only) : undefined;
  return {
    plate: name,
    gives,
    force: distinct(of("force").map(mapped)),
    moment: gives === "force+moment" ? distinct(moments.map(mapped)) : [],
    cop: gives === "force+cop" ? distinct(cop.map(mapped)) : [],
    ...(free === undefined ? {} : { freeMoment: { ...free, axis: up ?? free.axis } }),
    signals: [],
  };
}

/** The first column of each direction. */
function distinct(columns: readonly MappedColumn[]): readonly MappedColumn[] {
  return columns.filter(({ axis }, k) => columns.findIndex((other) => other.axis === axis) === k);
}

function questionsOf(
  { plates, time }: ColumnMapping,
  hints: readonly ColumnHint[],
  up: LabAxis | undefined,
): Finding[] {
  const columns = plates.flatMap(({ force, moment, cop, freeMoment }) => [
    ...[...force, ...moment, ...cop],
    ...(freeMoment === undefined ? [] : [freeMoment]),
  ]);
  const unitless = columns.filter(({ unit }) => unit === "").map(({ column }) => column);
  const axisless = hints.filter(({ quantity, letter }) => quantity === "force" && letter === undefined);
  const signals = hints.filter(({ quantity }) => quantity === "signal");
  const out: Finding[] = [];
  if (plates.length === 0) out.push(asks.columns(hints.map(({ column }) => column.name)));
  if (signals.length > 0) out.push(asks.matrix(signals.map(({ column }) => column.name)));
  if (unitless.length > 0) out.push(asks.units(unitless));
  if (axisless.length > 0) out.push(asks.axes(axisless.map(({ column }) => column.name)));
  if (plates.length > 0) out.push(up === undefined ? asks.up() : asks.upProposed(up), asks.sense(), asks.place());
  if (plates.some(({ gives }) => gives === "force+moment")) out.push(asks.momentPoint());
  if (plates.some(({ gives }) => gives === "force+cop")) out.push(asks.copOrigin());
  if ("rateHz" in time && Number.isNaN(time.rateHz)) out.push(asks.rate());
  return out;
}
