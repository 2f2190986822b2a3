/** Reads JSON objects field by field, collecting one sentence per fault, and gives back what nobody asked for. */
export interface JsonFields {
  readonly path: string;
  /** Records a fault for each of these fields that is missing. */
  need(...names: readonly string[]): void;
  text(name: string): string | undefined;
  flag(name: string): boolean | undefined;
  number(name: string, range?: NumberRange): number | undefined;
  oneOf<T extends string>(name: string, words: readonly T[]): T | undefined;
  /** An array of numbers of a length between the two given. */
  numbers(name: string, shortest: number, longest: number): readonly number[] | undefined;
  object(name: string): JsonFields | undefined;
  objects(name: string, shortest?: number, longest?: number): readonly JsonFields[] | undefined;
  /** The value itself; counts as asked for. */
  raw(name: string): unknown;
  fault(name: string, sentence: string): void;
  /** The fields that were never asked for. */
  rest(): readonly (readonly [string, unknown])[];
}

interface NumberRange {
  readonly least?: number;
  readonly most?: number;
  readonly above?: number;
  readonly isWhole?: boolean;
}

/** How a value is named in a sentence, at most 40 characters. */
export function jsonShown(value: unknown): string {
  const shown = value === undefined ? "missing" : JSON.stringify(value);
  return shown.length > 40 ? `${shown.slice(0, 37)}...` : shown;
}

export function isJsonObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** A list of finite numbers of a length between the two given. */
export function isNumbers(value: unknown, shortest: number, longest: number): value is readonly number[] {
  return (
    Array.isArray(value) &&
    value.length >= shortest &&
    value.length <= longest &&
    value.every((one) => typeof one === "number" && Number.isFinite(one))
  );
}

function rangeFault(value: number, { least, most, above, isWhole }: NumberRange): string | undefined {
  if (isWhole === true && !Number.isInteger(value)) return "it must be a whole number";
  const isOut =
    (least !== undefined && value < least) ||
    (most !== undefined && value > most) ||
    (above !== undefined && value <= above);
  if (!isOut) return undefined;
  if (least !== undefined && most !== undefined) return `it must lie between ${least} and ${most}`;
  if (above !== undefined) return `it must be greater than ${above}`;
  return least === undefined ? `it must be at most ${most}` : `it must be at least ${least}`;
}

const lengthWords = (shortest: number, longest: number, what: string): string =>
  longest === Number.POSITIVE_INFINITY
    ? `at least ${shortest} ${what}`
    : shortest === longest
      ? `${shortest} ${what}`
      : `${shortest} to ${longest} ${what}`;

/**
 * The fields of one JSON object. `path` stands before every name in a sentence ("slope.pitch"); sentences go to `faults`.
 * A field of the wrong kind reads as undefined, and its fault is recorded: whoever reads checks `faults` at the end.
 */
export function jsonFields(object: Readonly<Record<string, unknown>>, path: string, faults: string[]): JsonFields {
  const asked = new Set<string>();
  const pathOf = (name: string): string => (path === "" ? name : `${path}.${name}`);
  const fault = (name: string, sentence: string): void => {
    faults.push(`${pathOf(name)} ${sentence}`);
  };
  const raw = (name: string): unknown => {
    asked.add(name);
    return Object.hasOwn(object, name) ? object[name] : undefined;
  };
  /** The value where `is` holds; else undefined, with a fault unless the field is absent. */
  const read = <T>(name: string, is: (value: unknown) => value is T, expected: string): T | undefined => {
    const value = raw(name);
    if (value === undefined || is(value)) return value;
    fault(name, `is ${jsonShown(value)}; it must be ${expected}`);
    return undefined;
  };
  return {
    path,
    need(...names) {
      for (const name of names) if (raw(name) === undefined) fault(name, "is missing");
    },
    text: (name) => read(name, (value) => typeof value === "string", "a text in quotes"),
    flag: (name) => read(name, (value) => typeof value === "boolean", "true or false"),
    number(name, range = {}) {
      const value = read(name, (one): one is number => typeof one === "number" && Number.isFinite(one), "a number");
      const wrong = value === undefined ? undefined : rangeFault(value, range);
      if (wrong !== undefined) fault(name, `is ${value}; ${wrong}`);
      return value;
    },
    oneOf: <T extends string>(name: string, words: readonly T[]) =>
      read(
        name,
        (value): value is T => words.some((word) => word === value),
        `one of ${words.map((word) => `"${word}"`).join(", ")}`,
      ),
    numbers: (name, shortest, longest) =>
      read(
        name,
        (value) => isNumbers(value, shortest, longest),
        `a list of ${lengthWords(shortest, longest, "numbers")}`,
      ),
    object(name) {
      const value = read(name, isJsonObject, "an object in braces");
      return value === undefined ? undefined : jsonFields(value, pathOf(name), faults);
    },
    objects(name, shortest = 0, longest = Number.POSITIVE_INFINITY) {
      const value = read(name, (one): one is readonly unknown[] => Array.isArray(one), "a list in square brackets");
      if (value === undefined) return undefined;
      if (value.length < shortest || value.length > longest) {
        fault(name, `has ${value.length} entries; it must have ${lengthWords(shortest, longest, "of them")}`);
      }
      return value.flatMap((one, k) => {
        const at = `${pathOf(name)}[${k}]`;
        if (isJsonObject(one)) return [jsonFields(one, at, faults)];
        faults.push(`${at} is ${jsonShown(one)}; it must be an object in braces`);
        return [];
      });
    },
    raw,
    fault,
    rest: () => Object.entries(object).filter(([name]) => !asked.has(name)),
  };
}
