import type { ColumnMapping, LabAxis, MappedColumn, MappedPlate, UnitQuantity } from "@underfoot/formats";
import { TEXT_UNITS } from "@underfoot/formats";

/** What a plate's column can mean, besides which plate and axis. */
const PART_WORDS = {
  F: "force",
  M: "moment",
  P: "pressure",
  T: "free moment",
} as const;
type PartLetter = keyof typeof PART_WORDS;

/** What a person says of one column. */
export type ColumnMeaning =
  | { readonly kind: "ignored" }
  | { readonly kind: "time"; readonly unit: string }
  | { readonly kind: "trigger" | "sound"; readonly unit: string }
  | {
      readonly kind: "plate";
      /** From 1. */
      readonly plate: number;
      readonly part: PartLetter;
      readonly axis: LabAxis;
      /** Empty while nobody has said it. */
      readonly unit: string;
    };

const MOST_PLATES = 4;
const LETTERS = ["x", "y", "z"] as const;

/** The choice that stands for a meaning in the list of choices: "ignored", "time", "1 F x". */
export function choiceOf(meaning: ColumnMeaning): string {
  return meaning.kind === "plate" ? `${meaning.plate} ${meaning.part} ${meaning.axis[1]}` : meaning.kind;
}

/** Every choice for a column: those of no plate, and those of each plate that is there and one more. */
export function meaningChoices(mapping: ColumnMapping): readonly {
  readonly group: string;
  readonly choices: readonly (readonly [string, string])[];
}[] {
  const plates = Math.min(MOST_PLATES, mapping.plates.length + 1);
  return [
    {
      group: "No plate",
      choices: [
        ["ignored", "not used"],
        ["time", "time"],
        ["trigger", "trigger"],
        ["sound", "sound"],
      ],
    },
    ...Array.from({ length: plates }, (_, k) => ({
      group: `Plate ${k + 1}`,
      choices: (Object.keys(PART_WORDS) as PartLetter[]).flatMap((part) =>
        LETTERS.map(
          (letter) => [`${k + 1} ${part} ${letter}`, `plate ${k + 1} ${PART_WORDS[part]} ${letter}`] as const,
        ),
      ),
    })),
  ];
}

/** The meaning behind a choice; sign and unit stay as far as they still fit. */
export function meaningFromChoice(choice: string, before: ColumnMeaning): ColumnMeaning {
  const [, plate, part, letter] = /^(\d) ([FMPT]) ([xyz])$/.exec(choice) ?? [];
  const unit = "unit" in before ? before.unit : "";
  if (plate !== undefined) {
    const sign = before.kind === "plate" ? before.axis[0] : "+";
    const meaning = {
      kind: "plate",
      plate: Number(plate),
      part: part as PartLetter,
      axis: `${sign}${letter}` as LabAxis,
    } as const;
    return { ...meaning, unit: unitsFor({ ...meaning, unit }).includes(unit) ? unit : "" };
  }
  if (choice === "time") return { kind: "time", unit: unitsFor({ kind: "time", unit }).includes(unit) ? unit : "s" };
  return choice === "trigger" || choice === "sound" ? { kind: choice, unit } : { kind: "ignored" };
}

/** The units that a meaning may have; none where it needs none. */
export function unitsFor(meaning: ColumnMeaning): readonly string[] {
  const quantity = quantityOf(meaning);
  return TEXT_UNITS.filter((unit) => unit.quantity === quantity).map(({ symbol }) => symbol);
}

function quantityOf(meaning: ColumnMeaning): UnitQuantity | undefined {
  if (meaning.kind === "time") return "time";
  if (meaning.kind !== "plate") return undefined;
  return { F: "force", M: "moment", P: "length", T: "moment" }[meaning.part] as UnitQuantity;
}

/** What a mapping says of a column. */
export function meaningOf(mapping: ColumnMapping, column: string): ColumnMeaning {
  if ("column" in mapping.time && mapping.time.column === column) return { kind: "time", unit: mapping.time.unit };
  const extra = mapping.extra.find((one) => one.column === column);
  if (extra?.role === "trigger" || extra?.role === "sound") return { kind: extra.role, unit: extra.unit };
  for (const [k, plate] of mapping.plates.entries()) {
    for (const [part, columns] of partsOf(plate)) {
      const found = columns.find((one) => one.column === column);
      if (found) return { kind: "plate", plate: k + 1, part, axis: found.axis, unit: found.unit };
    }
  }
  return { kind: "ignored" };
}

const partsOf = ({
  force,
  moment,
  cop,
  freeMoment,
}: MappedPlate): readonly (readonly [PartLetter, readonly MappedColumn[]])[] => [
  ["F", force],
  ["M", moment],
  ["P", cop],
  ["T", freeMoment === undefined ? [] : [freeMoment]],
];

/**
 * The mapping after a person said what one column means. Another column that had the same meaning has none any more; where
 * the time column is taken away, `rateHz` counts instead.
 */
export function withMeaning(
  mapping: ColumnMapping,
  column: string,
  meaning: ColumnMeaning,
  { rateHz }: { readonly rateHz: number },
): ColumnMapping {
  const bare = withoutColumn(mapping, column, rateHz);
  switch (meaning.kind) {
    case "ignored":
      return bare;
    case "time":
      return { ...bare, time: { column, unit: meaning.unit === "ms" || meaning.unit === "us" ? meaning.unit : "s" } };
    case "trigger":
    case "sound":
      return { ...bare, extra: [...bare.extra, { column, role: meaning.kind, unit: meaning.unit }] };
    case "plate": {
      const plates = Array.from(
        { length: Math.max(bare.plates.length, meaning.plate) },
        (_, k): MappedPlate => bare.plates[k] ?? emptyPlate(k + 1),
      );
      return {
        ...bare,
        plates: plates.map((plate, k) => (k + 1 === meaning.plate ? withPart(plate, column, meaning) : plate)),
      };
    }
  }
}

const emptyPlate = (number: number): MappedPlate => ({
  plate: `${number}`,
  gives: "force",
  force: [],
  moment: [],
  cop: [],
  signals: [],
});

function withPart(
  plate: MappedPlate,
  column: string,
  { part, axis, unit }: Extract<ColumnMeaning, { kind: "plate" }>,
): MappedPlate {
  const mapped: MappedColumn = { column, unit, axis };
  const added = (columns: readonly MappedColumn[]): readonly MappedColumn[] => [
    ...columns.filter((one) => one.axis[1] !== axis[1]),
    { ...copFrom(columns), ...mapped },
  ];
  if (part === "F") return settled({ ...plate, force: added(plate.force) });
  if (part === "M") return settled({ ...plate, moment: added(plate.moment) });
  if (part === "P") return settled({ ...plate, cop: added(plate.cop) });
  return settled({ ...plate, freeMoment: mapped });
}

/** A further pressure column is counted from where the first one is. */
const copFrom = ([first]: readonly MappedColumn[]): Pick<MappedColumn, "from"> =>
  first?.from === undefined ? {} : { from: first.from };

function withoutColumn(mapping: ColumnMapping, column: string, rateHz: number): ColumnMapping {
  const others = (columns: readonly MappedColumn[]): readonly MappedColumn[] =>
    columns.filter((one) => one.column !== column);
  const plates = mapping.plates.map((plate) => {
    const { freeMoment, ...rest } = plate;
    const kept = freeMoment === undefined || freeMoment.column === column ? {} : { freeMoment };
    return settled({
      ...rest,
      ...kept,
      force: others(plate.force),
      moment: others(plate.moment),
      cop: others(plate.cop),
      signals: plate.signals.filter((one) => one.column !== column),
    });
  });
  const last = plates.findLastIndex(hasColumns);
  const isTime = "column" in mapping.time && mapping.time.column === column;
  return {
    ...mapping,
    time: isTime ? { rateHz } : mapping.time,
    plates: plates.slice(0, last + 1),
    extra: mapping.extra.filter((one) => one.column !== column),
  };
}

const hasColumns = (plate: MappedPlate): boolean =>
  plate.signals.length > 0 || partsOf(plate).some(([, columns]) => columns.length > 0);

/** What a plate gives follows from its columns: pressure goes before moments, for both say where the force acts. */
function settled(plate: MappedPlate): MappedPlate {
  if (plate.signals.length > 0 && plate.matrix !== undefined) return { ...plate, gives: "signals" };
  const gives = plate.cop.length > 0 ? "force+cop" : plate.moment.length > 0 ? "force+moment" : "force";
  return { ...plate, gives };
}

/** The mapping with one plate's own facts changed: sense, size, centre, what places and moments are counted from. */
export function withPlateFacts(
  mapping: ColumnMapping,
  number: number,
  change: (plate: MappedPlate) => MappedPlate,
): ColumnMapping {
  return { ...mapping, plates: mapping.plates.map((plate, k) => (k + 1 === number ? change(plate) : plate)) };
}

/**
 * The mapping with the unit of one column; every column of the same kind of quantity on a plate that has no unit yet gets
 * it too, for a file hardly ever mixes them.
 */
export function withUnit(mapping: ColumnMapping, column: string, unit: string): ColumnMapping {
  const meaning = meaningOf(mapping, column);
  if (meaning.kind !== "plate")
    return "unit" in meaning ? withMeaning(mapping, column, { ...meaning, unit }, RATELESS) : mapping;
  const said = (one: MappedColumn, part: PartLetter): MappedColumn =>
    one.column === column || (one.unit === "" && quantityOf({ ...meaning, part }) === quantityOf(meaning))
      ? { ...one, unit }
      : one;
  const plates = mapping.plates.map((plate) => ({
    ...plate,
    force: plate.force.map((one) => said(one, "F")),
    moment: plate.moment.map((one) => said(one, "M")),
    cop: plate.cop.map((one) => said(one, "P")),
    ...(plate.freeMoment === undefined ? {} : { freeMoment: said(plate.freeMoment, "T") }),
  }));
  return { ...mapping, plates };
}

/** Not asked for: the time column stays. */
const RATELESS = { rateHz: Number.NaN };
