import { UnderfootError, type Where } from "@underfoot/domain";

const listed = (names: readonly string[]): string => {
  const shown = names.slice(0, 8).map((name) => JSON.stringify(name));
  return `${shown.join(", ")}${names.length > 8 ? ` and ${names.length - 8} more` : ""}`;
};
const mappingOf = (where: Where): string => where.file ?? "The column mapping";

/** Every fault of a column mapping, by itself or held against a file. */
export const mappingFaults = {
  notJson: (why: string, where: Where, cause: unknown): UnderfootError =>
    new UnderfootError({
      code: "mapping-not-json",
      sentence: `${mappingOf(where)} is not JSON: ${why}.`,
      remedy: "Correct it at that place, or start from the example in docs/formats/text.md.",
      where,
      cause,
    }),
  notMapping: (found: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "mapping-not-mapping",
      sentence: `${mappingOf(where)} is no column mapping: its field "underfoot" is ${found}, not "column-mapping".`,
      remedy: 'Give the right file, or write "underfoot": "column-mapping" at its top.',
      where,
    }),
  version: (found: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "mapping-version",
      sentence: `${mappingOf(where)} has version ${found} of the column mapping; this Underfoot reads version 1.`,
      remedy: "Open it with a newer Underfoot, or write it again as version 1.",
      where,
    }),
  field: (sentences: readonly [string, ...string[]], where: Where): UnderfootError => {
    const [first, ...others] = sentences;
    const more = others.length > 0 ? ` It also has: ${others.slice(0, 9).join("; ")}.` : "";
    return new UnderfootError({
      code: "mapping-field",
      sentence: where.file === undefined ? `${first}.` : `${where.file}: ${first}.`,
      remedy: `Correct this field; docs/formats/text.md says what each one holds.${more}`,
      where,
    });
  },
  noUnit: (column: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "no-unit",
      sentence: `The mapping gives no unit for column ${JSON.stringify(column)}.`,
      remedy: "Write the unit in which this column is measured; it is never guessed.",
      where: { ...where, column },
    }),
  noVertical: (plate: number, up: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "no-vertical",
      sentence: `Plate ${plate} of the mapping has no force column along ${up}, which is up.`,
      remedy: 'Map the vertical force, or correct "up" in the mapping.',
      where: { ...where, plate },
    }),
  mismatch: (missing: readonly string[], extra: readonly string[], where: Where): UnderfootError =>
    new UnderfootError({
      code: "mapping-mismatch",
      sentence: `${where.file ?? "The file"} lacks ${missing.length === 1 ? "a column" : "columns"} of the mapping: ${listed(missing)}${
        extra.length > 0 ? `; it has ${listed(extra)} besides` : ""
      }.`,
      remedy: "Choose the mapping made for this kind of file, or map its columns anew.",
      where,
    }),
} as const;
