import { readFileSync } from "node:fs";
import { UnderfootError } from "@underfoot/domain";
import { Ajv2020 } from "ajv/dist/2020.js";
import {
  type Arbitrary,
  assert,
  constant,
  constantFrom,
  dictionary,
  double,
  integer,
  json,
  jsonValue,
  oneof,
  option,
  property,
  record,
  string,
  tuple,
  uniqueArray,
} from "fast-check";
import { describe, expect, it } from "vitest";
import { shotFactsFromSidecar } from "./sidecar.ts";
import { SIDECAR_SCHEMA } from "./sidecar-schema.ts";
import { sidecarText } from "./sidecar-text.ts";

// The outside judge: ajv, an independent implementation of JSON Schema 2020-12.
const validate = new Ajv2020({ allErrors: true, allowUnionTypes: true }).compile(SIDECAR_SCHEMA);

const number = double({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }).map((value) => value + 0);
const list = <T>(value: Arbitrary<T>, least: number, most: number) =>
  uniqueArray(value, { minLength: least, maxLength: most, comparator: () => false });
const numbers = (least: number, most: number) => list(number, least, most);
const someOf = (required: Record<string, Arbitrary<unknown>>, optional: Record<string, Arbitrary<unknown>>) =>
  tuple(
    record(required),
    record(optional, { requiredKeys: [] }),
    option(dictionary(string({ minLength: 8 }), jsonValue(), { maxKeys: 2, noNullPrototype: true }), { nil: {} }),
  ).map(([must, may, unknown]) => ({ ...unknown, ...must, ...may }));
const between = (min: number, max: number) => double({ noNaN: true, min, max }).map((value) => value + 0);
const positive = between(0.001, 100);

const plates = list(
  someOf(
    { plate: integer({ min: 1, max: 5 }), foot: constantFrom("lead", "trail", "both", "none") },
    {
      sense: constantFrom("on-player", "on-plate"),
      originSign: constantFrom("as-written", "turned"),
      type: integer({ min: 0, max: 21 }),
      zero: oneof(constant("none"), numbers(2, 2)),
      clock: someOf({ offset: number, drift: number, sd: number }, {}),
    },
  ),
  1,
  4,
);
const point = numbers(3, 3);
const sidecar = someOf(
  {
    underfoot: constant("shot"),
    version: constant(1),
    handed: constantFrom("right", "left"),
    target: numbers(3, 3).filter((target) => target.some((one) => one !== 0)),
    plates,
    keep: constantFrom("kept", "set-aside"),
  },
  {
    recording: someOf({ file: string() }, { sha256: constant("0123456789abcdef".repeat(4)) }),
    player: string(),
    slope: someOf(
      {
        pitch: between(-30, 30),
        roll: between(-30, 30),
        source: constantFrom("inclinometer", "stance", "assumed"),
        sd: positive,
      },
      {},
    ),
    feet: list(
      someOf(
        { foot: constantFrom("lead", "trail"), frame: constantFrom("lab", "plate"), outline: list(point, 3, 6) },
        { heel: point, toe: point },
      ),
      1,
      3,
    ),
    ball: point,
    mass: someOf({ kg: between(20, 250) }, { source: constantFrom("scale", "plates", "said"), sd: number }),
    pad: between(0, 0.5),
    latitude: between(-90, 90),
    height: between(-500, 9000),
    events: list(
      someOf(
        {
          event: constantFrom("address", "top", "impact"),
          t: number,
          source: constantFrom("marked", "signal", "estimated"),
        },
        { from: number, sd: positive },
      ),
      1,
      5,
    ),
    intent: string(),
    lie: string(),
    result: someOf({}, { strike: numbers(2, 2), carry: number, contact: constantFrom("clean", "fat") }),
    video: list(
      someOf(
        {
          file: string(),
          anchors: list(someOf({ video: number, plate: number, by: constantFrom("sound", "clap") }, {}), 1, 2),
        },
        {},
      ),
      0,
      2,
    ),
    note: string(),
  },
);

/** The same document with one value, anywhere, replaced by another. */
const replaced = tuple(
  sidecar,
  integer({ min: 0, max: 200 }),
  oneof(
    constant(null),
    constant(undefined),
    constant("x"),
    constant(-1),
    constant(0.5),
    constant([]),
    constant({}),
    constant(true),
    json(),
  ),
).map(([document, at, value]) => {
  let left = at % Math.max(1, countOf(document));
  const walk = (node: unknown): unknown => {
    if (left-- === 0) return value;
    if (Array.isArray(node)) return node.map(walk);
    if (typeof node !== "object" || node === null) return node;
    return Object.fromEntries(Object.entries(node).map(([key, inner]) => [key, walk(inner)]));
  };
  return walk(document);
});

function countOf(node: unknown): number {
  if (typeof node !== "object" || node === null) return 1;
  return Object.values(node).reduce((count: number, inner) => count + countOf(inner), 1);
}

function codeOf(text: string): string {
  try {
    shotFactsFromSidecar(text);
    return "read";
  } catch (error) {
    if (error instanceof UnderfootError) return error.code;
    throw error;
  }
}

describe("the published schema", () => {
  it("is the one in docs/formats", () => {
    const published = readFileSync(new URL("../../../docs/formats/shot-sidecar.schema.json", import.meta.url), "utf8");
    expect(JSON.parse(published)).toEqual(SIDECAR_SCHEMA);
  });

  it("accepts every sidecar made by its rules, and the reader reads it", () => {
    assert(
      property(sidecar, (document) => {
        const text = JSON.stringify(document);
        expect(validate(JSON.parse(text)), JSON.stringify(validate.errors)).toBe(true);
        expect(codeOf(text)).toBe("read");
      }),
    );
  });

  it("and the reader agree on every sidecar with one wrong value", () => {
    let refused = 0;
    assert(
      property(replaced, (document) => {
        const text = JSON.stringify(document) ?? "null";
        const parsed = JSON.parse(text);
        const isZeroTarget = Array.isArray(parsed?.target) && parsed.target.every((one: unknown) => one === 0);
        if (isZeroTarget) return;
        const isValid = validate(parsed);
        if (!isValid) refused++;
        expect(codeOf(text) === "read", JSON.stringify(validate.errors)).toBe(isValid);
      }),
      { numRuns: 1000 },
    );
    expect(refused).toBeGreaterThan(100);
  });

  it("is kept by what sidecarText writes", () => {
    assert(
      property(sidecar, (document) => {
        expect(validate(JSON.parse(sidecarText(shotFactsFromSidecar(JSON.stringify(document)).facts)))).toBe(true);
      }),
    );
  });
});

describe("sidecarText after shotFactsFromSidecar", () => {
  it("gives back every field, known or not", () => {
    assert(
      property(sidecar, (document) => {
        const source = JSON.parse(JSON.stringify(document));
        expect(JSON.parse(sidecarText(shotFactsFromSidecar(JSON.stringify(source)).facts))).toEqual(source);
      }),
    );
  });
});
