import { streamFaults } from "./stream-faults.ts";

interface NumberRange {
  readonly least?: number;
  readonly most?: number;
  readonly isWhole?: boolean;
}

/** Reads the fields of one JSON object; whatever is not as asked for throws `stream-field`. JSON's null counts as absent. */
export interface MessageFields {
  has(name: string): boolean;
  text(name: string): string;
  number(name: string, range?: NumberRange): number;
  /** A tick count: a whole number, or its digits as a text where it is over 2^53. */
  ticks(name: string): bigint;
  oneOf<T extends string>(name: string, words: readonly T[]): T;
  numbers(name: string, count: number): readonly number[];
  list(name: string, shortest: number, longest: number): readonly unknown[];
  object(name: string): MessageFields;
  objects(name: string, shortest: number, longest: number): readonly MessageFields[];
  fault(name: string, sentence: string): Error;
}

type JsonObject = Readonly<Record<string, unknown>>;

export const isJsonObject = (value: unknown): value is JsonObject =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const isNumber = (value: unknown): value is number => typeof value === "number" && Number.isFinite(value);
const MOST_TEXT = 1000;
const DIGITS = /^\d{1,20}$/;

/** The fields of `object`; `type` and `path` stand in the sentences. */
export function messageFields(object: JsonObject, type: string, path = ""): MessageFields {
  const pathOf = (name: string): string => (path === "" ? name : `${path}.${name}`);
  const raw = (name: string): unknown => (Object.hasOwn(object, name) ? (object[name] ?? undefined) : undefined);
  const fault = (name: string, sentence: string): Error => streamFaults.field(type, pathOf(name), sentence);
  const wanted = (name: string, what: string): Error =>
    fault(name, raw(name) === undefined ? `is missing; it is ${what}` : `is not ${what}`);
  const list = (name: string, shortest: number, longest: number): readonly unknown[] => {
    const value = raw(name);
    if (!Array.isArray(value)) throw wanted(name, "a list");
    if (value.length >= shortest && value.length <= longest) return value;
    throw fault(name, `has ${value.length} entries; it has ${shortest} to ${longest}`);
  };
  const fieldsOf = (value: unknown, name: string): MessageFields => {
    if (!isJsonObject(value)) throw fault(name, "is not an object");
    return messageFields(value, type, pathOf(name));
  };
  return {
    fault,
    list,
    has: (name) => raw(name) !== undefined,
    text(name) {
      const value = raw(name);
      if (typeof value === "string" && value.length <= MOST_TEXT) return value;
      throw wanted(name, `a text of at most ${MOST_TEXT} characters`);
    },
    number(name, { least = -Number.MAX_VALUE, most = Number.MAX_VALUE, isWhole = false } = {}) {
      const value = raw(name);
      if (!isNumber(value)) throw wanted(name, "a number");
      if (isWhole && !Number.isSafeInteger(value)) throw fault(name, `is ${value}; it is a whole number below 2^53`);
      if (value < least || value > most) throw fault(name, `is ${value}; it lies between ${least} and ${most}`);
      return value;
    },
    ticks(name) {
      const value = raw(name);
      const isCount =
        typeof value === "string" ? DIGITS.test(value) : Number.isSafeInteger(value) && Number(value) >= 0;
      const ticks = isCount ? BigInt(value as string | number) : -1n;
      if (ticks >= 0n && ticks < 1n << 64n) return ticks;
      throw wanted(name, "a count of ticks below 2^64 (over 2^53 its digits in quotes)");
    },
    oneOf(name, words) {
      const value = raw(name);
      const word = words.find((one) => one === value);
      if (word === undefined) throw wanted(name, `one of ${words.join(" ")}`);
      return word;
    },
    numbers(name, count) {
      const values = list(name, count, count);
      if (values.every(isNumber)) return values;
      throw fault(name, "holds something that is not a number");
    },
    object: (name) => fieldsOf(raw(name), name),
    objects: (name, shortest, longest) => list(name, shortest, longest).map((one, k) => fieldsOf(one, `${name}[${k}]`)),
  };
}
