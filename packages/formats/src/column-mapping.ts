import { plateFrame, type Where } from "@underfoot/domain";
import {
  type ColumnMapping,
  type ExtraColumn,
  LAB_AXES,
  type LabAxis,
  type MappedColumn,
  type MappedPlate,
  type Numbers3,
  PLATE_GIVES,
} from "./column-mapping-type.ts";
import { isJsonObject, isNumbers, type JsonFields, jsonFields, jsonShown } from "./json-fields.ts";
import { jsonText } from "./json-text.ts";
import { letterOf, vectorOfAxis } from "./lab-axes.ts";
import { mappingFaults } from "./mapping-faults.ts";
import { usedColumns } from "./mapping-match.ts";
import { present } from "./present.ts";
import { DELIMITERS } from "./text-fields.ts";
import type { TextLayout } from "./text-sniff.ts";
import { TEXT_UNITS, textUnit, type UnitQuantity } from "./text-units.ts";

/** Sides of a plate, m (as for C3D corners). */
const LEAST_SIDE_M = 0.05;
const MOST_SIDE_M = 6;

/**
 * A column mapping from its JSON text (version 1, docs/formats/text.md).
 *
 * @param where  the mapping's own file, for sentences
 * @throws UnderfootError mapping-not-json, mapping-not-mapping, mapping-version, mapping-field, no-unit
 */
export function columnMappingFromText(text: string, where: Where = {}): ColumnMapping {
  let root: unknown;
  try {
    root = JSON.parse(text.startsWith("\uFEFF") ? text.slice(1) : text);
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    throw mappingFaults.notJson(text.trim() === "" ? "it is empty" : cause.message.replace(/\s+/g, " "), where, cause);
  }
  if (!isJsonObject(root)) throw mappingFaults.notMapping("missing", where);
  if (root["underfoot"] !== "column-mapping") throw mappingFaults.notMapping(jsonShown(root["underfoot"]), where);
  if (root["version"] !== 1) throw mappingFaults.version(jsonShown(root["version"]), where);
  const faults: string[] = [];
  const unitless: string[] = [];
  const mapping = mappingFrom(jsonFields(withoutNulls(root), "", faults), faults, unitless);
  repeatedColumns(mapping).forEach((name) => {
    faults.push(`column ${jsonShown(name)} is mapped twice; each column has one meaning`);
  });
  const [missing] = unitless;
  if (missing !== undefined) throw mappingFaults.noUnit(missing, where);
  const [first, ...others] = faults;
  if (first !== undefined) throw mappingFaults.field([first, ...others], where);
  return mapping;
}

/** null stands for "there is none", as in `"matrix": null`. */
function withoutNulls(object: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  const cleaned = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(cleaned);
    return isJsonObject(value) ? withoutNulls(value) : value;
  };
  return Object.fromEntries(
    Object.entries(object).flatMap(([name, value]) => (value === null ? [] : [[name, cleaned(value)] as const])),
  );
}

function mappingFrom(fields: JsonFields, faults: string[], unitless: string[]): ColumnMapping {
  fields.need("name", "match", "time", "plates");
  const match = fields.object("match");
  match?.need("columns");
  return present<ColumnMapping>({
    name: fields.text("name") ?? "",
    match: { columns: match === undefined ? [] : (texts(match, "columns") ?? []) },
    text: layoutFrom(fields.object("text")),
    time: timeFrom(fields.object("time")),
    up: fields.oneOf("up", LAB_AXES),
    plates: (fields.objects("plates", 0, 8) ?? []).map((plate) => plateFrom(plate, faults, unitless)),
    extra: (fields.objects("extra") ?? []).map(extraFrom),
  });
}

function texts(fields: JsonFields, name: string): readonly string[] | undefined {
  const value = fields.raw(name);
  if (value === undefined) return undefined;
  if (Array.isArray(value) && value.every((one) => typeof one === "string")) return value;
  fields.fault(name, `is ${jsonShown(value)}; it must be a list of texts`);
  return undefined;
}

function layoutFrom(fields: JsonFields | undefined): TextLayout {
  if (fields === undefined) return {};
  return present<TextLayout>({
    encoding: fields.oneOf("encoding", ["utf-8", "windows-1252", "utf-16le", "utf-16be"]),
    delimiter: fields.oneOf("delimiter", [...DELIMITERS, ""]),
    decimal: fields.oneOf("decimal", [".", ","]),
    thousands: fields.oneOf("thousands", ["", ".", ","]),
    headerRow: fields.number("headerRow", { least: 1, isWhole: true }),
    dataRow: fields.number("dataRow", { least: 1, isWhole: true }),
    missing: texts(fields, "missing"),
  });
}

function timeFrom(fields: JsonFields | undefined): ColumnMapping["time"] {
  const rateHz = fields?.number("rate", { above: 0 });
  if (fields === undefined || rateHz !== undefined) return { rateHz: rateHz ?? 1 };
  if (fields.raw("column") === undefined)
    fields.fault("rate", "is missing; time needs a column and its unit, or a rate in Hz");
  else fields.need("unit");
  return { column: fields.text("column") ?? "", unit: fields.oneOf("unit", ["s", "ms", "us"]) ?? "s" };
}

function extraFrom(fields: JsonFields): ExtraColumn {
  fields.need("column", "role");
  return {
    column: fields.text("column") ?? "",
    role: fields.oneOf("role", ["trigger", "sound", "gap", "other"]) ?? "other",
    unit: fields.text("unit") ?? "",
  };
}

function plateFrom(fields: JsonFields, faults: string[], unitless: string[]): MappedPlate {
  fields.need("gives");
  const columns = (name: string, quantity: UnitQuantity): readonly MappedColumn[] =>
    distinctAxes(
      fields,
      name,
      (fields.objects(name) ?? []).map((one) => columnFrom(one, quantity, unitless)),
    );
  const free = fields.object("freeMoment");
  const plate = present<MappedPlate>({
    plate: typeof fields.raw("plate") === "number" ? `${fields.raw("plate")}` : (fields.text("plate") ?? ""),
    gives: fields.oneOf("gives", PLATE_GIVES) ?? "force",
    sense: fields.oneOf("sense", ["on-player", "on-plate"]),
    force: columns("force", "force"),
    moment: columns("moment", "moment"),
    cop: columns("cop", "length"),
    freeMoment: free && columnFrom(free, "moment", unitless),
    momentAbout: fields.oneOf("momentAbout", ["plate-centre", "lab"]),
    signals: (fields.objects("signals", 1, 64) ?? []).map((one) => {
      one.need("column");
      return { column: one.text("column") ?? "", unit: one.text("unit") ?? "" };
    }),
    matrix: matrixFrom(fields),
    axes: axesFrom(fields),
    depthM: fields.number("depth", { least: 0, most: 1 }),
    cornersM: cornersFrom(fields),
    sizeM: pair(fields),
    centreM: triple(fields.numbers("centre", 3, 3)),
  });
  faults.push(...lackingIn(plate).map((sentence) => `${fields.path}.${sentence}`));
  return plate;
}

function columnFrom(fields: JsonFields, quantity: UnitQuantity, unitless: string[]): MappedColumn {
  fields.need("column", "axis");
  const column = fields.text("column") ?? "";
  const unit = fields.text("unit") ?? "";
  if (unit === "") unitless.push(column);
  else if (textUnit(unit)?.quantity !== quantity) {
    const known = TEXT_UNITS.filter((one) => one.quantity === quantity).map(({ symbol }) => symbol);
    fields.fault("unit", `is ${jsonShown(unit)}; it must be one of ${known.join(", ")}`);
  }
  return present<MappedColumn>({
    column,
    unit,
    axis: fields.oneOf("axis", LAB_AXES) ?? "+z",
    from: fields.oneOf("from", ["plate-centre", "lab"]),
  });
}

function distinctAxes(fields: JsonFields, name: string, columns: readonly MappedColumn[]): readonly MappedColumn[] {
  const letters = columns.map(({ axis }) => letterOf(axis));
  const twice = letters.find((letter, k) => letters.indexOf(letter) < k);
  if (twice !== undefined) fields.fault(name, `has two columns along ${twice}; it may have one`);
  return columns;
}

function matrixFrom(fields: JsonFields): MappedPlate["matrix"] {
  const value = fields.raw("matrix");
  if (value === undefined) return undefined;
  const width = Array.isArray(value) && Array.isArray(value[0]) ? value[0].length : 0;
  if (Array.isArray(value) && value.length === 6 && width > 0 && value.every((row) => isNumbers(row, width, width)))
    return value;
  fields.fault("matrix", `is ${jsonShown(value)}; it must have six rows Fx Fy Fz Mx My Mz of equal length`);
  return undefined;
}

function axesFrom(fields: JsonFields): MappedPlate["axes"] {
  const names = texts(fields, "axes");
  if (names === undefined) return undefined;
  const [x, y, z] = names.map((name) => LAB_AXES.find((axis) => axis === name));
  const isRightHanded = (a: LabAxis, b: LabAxis, c: LabAxis): boolean => {
    const [u, v, w] = [vectorOfAxis(a), vectorOfAxis(b), vectorOfAxis(c)];
    return u.x * (v.y * w.z - v.z * w.y) + u.y * (v.z * w.x - v.x * w.z) + u.z * (v.x * w.y - v.y * w.x) === 1;
  };
  if (names.length === 3 && x !== undefined && y !== undefined && z !== undefined && isRightHanded(x, y, z))
    return [x, y, z];
  fields.fault("axes", `is ${jsonShown(names)}; it must be three laboratory axes that make a right-handed frame`);
  return undefined;
}

const triple = (numbers: readonly number[] | undefined): Numbers3 | undefined =>
  numbers && [numbers[0] ?? 0, numbers[1] ?? 0, numbers[2] ?? 0];

function pair(fields: JsonFields): MappedPlate["sizeM"] {
  const numbers = fields.numbers("size", 2, 2);
  if (numbers === undefined) return undefined;
  if (numbers.some((side) => side < LEAST_SIDE_M || side > MOST_SIDE_M)) {
    fields.fault("size", `is ${jsonShown(numbers)}; sides lie between ${LEAST_SIDE_M} and ${MOST_SIDE_M} m`);
  }
  return [numbers[0] ?? 0, numbers[1] ?? 0];
}

function cornersFrom(fields: JsonFields): MappedPlate["cornersM"] {
  const value = fields.raw("corners");
  if (value === undefined) return undefined;
  if (!Array.isArray(value) || value.length !== 4 || !value.every((one) => isNumbers(one, 3, 3))) {
    fields.fault("corners", `is ${jsonShown(value)}; it must be four points of three numbers in m`);
    return undefined;
  }
  const [c1, c2, c3, c4] = value.map((one: readonly number[]): Numbers3 => triple(one) ?? [0, 0, 0]);
  if (c1 === undefined || c2 === undefined || c3 === undefined || c4 === undefined) return undefined;
  const [p1, p2, p3, p4] = [c1, c2, c3, c4].map(([x, y, z]) => ({ x, y, z }));
  const { sizeM, x, y } = plateFrame([p1!, p2!, p3!, p4!]);
  const isPlate =
    [...sizeM, x.x, y.x].every(Number.isFinite) && sizeM.every((side) => side >= LEAST_SIDE_M && side <= MOST_SIDE_M);
  const mid = (a: Numbers3, b: Numbers3): Numbers3 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
  const [m, n] = [mid(c1, c3), mid(c2, c4)];
  if (!isPlate || Math.hypot(m[0] - n[0], m[1] - n[1], m[2] - n[2]) > 0.01) {
    fields.fault(
      "corners",
      `are no rectangle with sides of ${LEAST_SIDE_M} to ${MOST_SIDE_M} m; give them one after the other around the plate`,
    );
  }
  return [c1, c2, c3, c4];
}

/** What a plate lacks for what it is said to give. */
function lackingIn({ gives, force, moment, cop, signals, matrix }: MappedPlate): string[] {
  if (gives === "signals") {
    if (signals.length === 0) return ["signals is missing; it lists the columns that the matrix works on"];
    if (matrix === undefined) return ["matrix is missing; without it no force is computed from signals"];
    const width = matrix[0]?.length ?? 0;
    return width === signals.length ? [] : [`matrix has ${width} columns for ${signals.length} signals`];
  }
  if (force.length === 0) return ["force is missing; it lists the force columns"];
  if (gives === "force+moment" && moment.length < 3) return [`moment has ${moment.length} columns; it needs three`];
  return gives === "force+cop" && cop.length < 2
    ? [`cop has ${cop.length} columns; it needs the two in the surface`]
    : [];
}

function repeatedColumns(mapping: ColumnMapping): readonly string[] {
  const all = [
    ...("column" in mapping.time ? [mapping.time.column] : []),
    ...mapping.plates.flatMap((plate) => usedColumns({ ...mapping, time: { rateHz: 1 }, extra: [], plates: [plate] })),
    ...mapping.extra.map(({ column }) => column),
  ];
  return [...new Set(all.filter((name, k) => all.indexOf(name) < k))];
}

/**
 * A column mapping as JSON text, ending with a line end; read again it is the same.
 *
 * @throws UnderfootError as the reader does, where the mapping is not one; a draft may still have holes
 */
export function columnMappingText(
  mapping: ColumnMapping,
  { isDraft = false }: { readonly isDraft?: boolean } = {},
): string {
  const { name, match, text, time, up, plates, extra } = mapping;
  const fields = {
    ...{ underfoot: "column-mapping", version: 1, name, match, text },
    time: "rateHz" in time ? { rate: time.rateHz } : time,
    ...{ up, plates: plates.map(plateFields), extra },
  };
  const written = `${jsonText(JSON.parse(JSON.stringify(fields)))}\n`;
  if (!isDraft) columnMappingFromText(written);
  return written;
}

function plateFields(plate: MappedPlate): Readonly<Record<string, unknown>> {
  const { depthM, cornersM, sizeM, centreM, signals, ...others } = plate;
  return {
    ...others,
    ...(signals.length > 0 ? { signals } : {}),
    ...{ depth: depthM, corners: cornersM, size: sizeM, centre: centreM },
  };
}
