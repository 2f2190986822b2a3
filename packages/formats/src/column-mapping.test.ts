import { readFileSync } from "node:fs";
import { UnderfootError } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { columnMappingFromText, columnMappingText } from "./column-mapping.ts";
import { mappingFor, mappingMatches } from "./mapping-match.ts";

/** The example of docs/formats/text.md. */
const EXAMPLE = {
  underfoot: "column-mapping",
  version: 1,
  name: "two plates, newtons",
  match: { columns: ["t", "Fx L", "Fy L", "Fz L", "X L", "Y L", "trig"] },
  text: { encoding: "utf-8", delimiter: "\t", decimal: ".", headerRow: 5, dataRow: 6, missing: ["", "NaN"] },
  time: { column: "t", unit: "s" },
  plates: [
    {
      plate: "lead",
      gives: "force+cop",
      sense: "on-player",
      force: [
        { column: "Fx L", unit: "N", axis: "+x" },
        { column: "Fy L", unit: "N", axis: "+y" },
        { column: "Fz L", unit: "N", axis: "+z" },
      ],
      cop: [
        { column: "X L", unit: "mm", axis: "+x", from: "plate-centre" },
        { column: "Y L", unit: "mm", axis: "+y", from: "plate-centre" },
      ],
      freeMoment: null,
      matrix: null,
    },
  ],
  extra: [{ column: "trig", role: "trigger", unit: "V" }],
};

const read = (fields: object) => columnMappingFromText(JSON.stringify({ ...EXAMPLE, ...fields }), { file: "m.json" });
const plate = (fields: object) => read({ plates: [{ ...EXAMPLE.plates[0], ...fields }] });

function faultOf(action: () => unknown): UnderfootError {
  try {
    action();
  } catch (error) {
    if (error instanceof UnderfootError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

describe("columnMappingFromText", () => {
  it("reads the example, null standing for none", () => {
    const mapping = read({});
    expect(mapping.time).toEqual({ column: "t", unit: "s" });
    expect(mapping.plates[0]?.freeMoment).toBeUndefined();
    expect(mapping.plates[0]?.cop[0]).toEqual({ column: "X L", unit: "mm", axis: "+x", from: "plate-centre" });
    expect(read({ time: { rate: 500 } }).time).toEqual({ rateHz: 500 });
  });

  it("is the example that the documentation shows", () => {
    const text = readFileSync(new URL("../../../docs/formats/text.md", import.meta.url), "utf8");
    const [, json = ""] = /```json\n([\s\S]*?)```/.exec(text) ?? [];
    expect(JSON.parse(json)).toEqual(EXAMPLE);
  });

  it("writes what reads back the same, every field kept", () => {
    const full = plate({
      momentAbout: "lab",
      depth: 0.04,
      corners: [
        [0, 0, 0],
        [0.6, 0, 0],
        [0.6, 0.4, 0],
        [0, 0.4, 0],
      ],
      axes: ["+x", "-y", "-z"],
    });
    for (const mapping of [
      read({}),
      full,
      read({ up: "+y", time: { rate: 500 } }),
      plate({ size: [0.5, 0.4], centre: [1, 2, 0] }),
    ]) {
      expect(columnMappingFromText(columnMappingText(mapping))).toEqual(mapping);
    }
  });

  it.each([
    ["", "mapping-not-json"],
    ["{", "mapping-not-json"],
    ["3", "mapping-not-mapping"],
    ['{"underfoot":"shot"}', "mapping-not-mapping"],
    ['{"underfoot":"column-mapping","version":3}', "mapping-version"],
  ])("refuses %j with %s", (text, code) => {
    expect(faultOf(() => columnMappingFromText(text)).code).toBe(code);
  });

  it.each([
    [() => read({ time: {} }), "time.rate is missing; time needs a column and its unit, or a rate in Hz"],
    [() => read({ time: { column: "t" } }), "time.unit is missing"],
    [() => read({ time: { rate: 0 } }), "time.rate is 0; it must be greater than 0"],
    [() => read({ match: { columns: [1] } }), "match.columns is [1]; it must be a list of texts"],
    [() => read({ text: { decimal: ";" } }), 'text.decimal is ";"; it must be one of ".", ","'],
    [() => plate({ gives: "power" }), 'plates[0].gives is "power"'],
    [() => plate({ force: [] }), "plates[0].force is missing; it lists the force columns"],
    [() => plate({ cop: [] }), "plates[0].cop has 0 columns; it needs the two in the surface"],
    [() => plate({ gives: "force+moment" }), "plates[0].moment has 0 columns; it needs three"],
    [() => plate({ gives: "signals" }), "plates[0].signals is missing"],
    [() => plate({ gives: "signals", signals: [{ column: "a" }] }), "plates[0].matrix is missing"],
    [
      () => plate({ gives: "signals", signals: [{ column: "a" }], matrix: Array(6).fill([1, 2]) }),
      "plates[0].matrix has 2 columns for 1 signals",
    ],
    [() => plate({ matrix: [[1]] }), "plates[0].matrix is [[1]]; it must have six rows"],
    [() => plate({ axes: ["+x", "+y", "-z"] }), "plates[0].axes is"],
    [
      () => plate({ force: [{ column: "Fz L", unit: "kg", axis: "+z" }] }),
      'plates[0].force[0].unit is "kg"; it must be one of N, kN, kgf, lbf',
    ],
    [() => plate({ force: [{ column: "Fz L", unit: "mm", axis: "+z" }] }), 'plates[0].force[0].unit is "mm"'],
    [
      () =>
        plate({
          force: [
            { column: "a", unit: "N", axis: "+z" },
            { column: "b", unit: "N", axis: "-z" },
          ],
        }),
      "plates[0].force has two columns along z",
    ],
    [() => plate({ force: [{ column: "t", unit: "N", axis: "+z" }] }), 'column "t" is mapped twice'],
    [() => plate({ size: [60, 40] }), "plates[0].size is [60,40]; sides lie between 0.05 and 6 m"],
    [() => plate({ corners: [[0, 0, 0]] }), "plates[0].corners is [[0,0,0]]; it must be four points"],
    [
      () =>
        plate({
          corners: [
            [0, 0, 0],
            [1, 1, 0],
            [1, 0, 0],
            [0, 1, 0],
          ],
        }),
      "plates[0].corners are no rectangle",
    ],
  ])("says what is wrong with a field: %s", (action, sentence) => {
    const fault = faultOf(action);
    expect(fault.code).toBe("mapping-field");
    expect(fault.message).toContain(`m.json: ${sentence}`);
  });

  it("never guesses a unit", () => {
    const fault = faultOf(() => plate({ force: [{ column: "Fz L", axis: "+z" }] }));
    expect(fault.code).toBe("no-unit");
    expect(fault.where.column).toBe("Fz L");
  });
});

describe("mappingMatches and mappingFor", () => {
  const columns = EXAMPLE.match.columns;

  it("compare by name, whatever the order", () => {
    expect(mappingMatches(read({}), columns.toReversed())).toEqual({ isExact: true, missing: [], extra: [], share: 1 });
    const other = mappingMatches(read({}), [...columns.slice(1), "note"]);
    expect(other).toMatchObject({ isExact: false, missing: ["t"], extra: ["note"] });
    expect(other.share).toBeCloseTo(6 / 8, 12);
  });

  it("choose the exact mapping, else the one that shares most, never one that lacks a column", () => {
    const exact = read({ name: "exact" });
    const small = read({ name: "small", match: { columns: ["t"] }, extra: [] });
    expect(mappingFor([small, exact], columns)?.name).toBe("exact");
    expect(mappingFor([small], columns)?.name).toBe("small");
    expect(mappingFor([exact], columns.slice(1))).toBeUndefined();
  });
});
