import { describe, expect, it } from "vitest";
import { mappingProposal } from "./mapping-proposal.ts";
import { textSniff } from "./text-sniff.ts";

function proposal(columns: Readonly<Record<string, number>>) {
  const row = `${Object.values(columns).join("\t")}\n`;
  return mappingProposal(textSniff(new TextEncoder().encode(`${Object.keys(columns).join("\t")}\n${row.repeat(30)}`)));
}
const codes = (columns: Readonly<Record<string, number>>) => proposal(columns).questions.map(({ code }) => code);

describe("mappingProposal", () => {
  it("groups columns by side or number, and finds force, moment and CoP by name and unit", () => {
    const sided = proposal({
      "Fx L (N)": 1,
      "Fy L (N)": 2,
      "Fz L (N)": 700,
      "Fx R (N)": 1,
      "Fy R (N)": 2,
      "Fz R (N)": 700,
    });
    expect(sided.mapping.plates.map(({ plate, gives, force }) => [plate, gives, force.length])).toEqual([
      ["left", "force", 3],
      ["right", "force", 3],
    ]);
    expect(sided.mapping.up).toBe("+z");
    expect(sided.mapping.plates[0]?.force[0]).toEqual({ column: "Fx L (N)", unit: "N", axis: "+x" });
    const moments = proposal({
      Force_1_X: 1,
      Force_1_Y: 2,
      Force_1_Z: 700,
      Moment_1_X: 1,
      Moment_1_Y: 1,
      Moment_1_Z: 1,
    });
    expect(moments.mapping.plates[0]).toMatchObject({ plate: "1", gives: "force+moment" });
    const cop = proposal({ Fx: 1, Fy: 2, Fz: 700, CoPx: 3, CoPy: 4, Tz: 5 });
    expect(cop.mapping.plates[0]).toMatchObject({ gives: "force+cop", freeMoment: { column: "Tz", axis: "+z" } });
    expect(cop.mapping.plates[0]?.cop.map(({ column }) => column)).toEqual(["CoPx", "CoPy"]);
  });

  it("asks for what only a person can know, and makes up no unit and no rate", () => {
    expect(codes({ Fx: 1, Fy: 2, Fz: 700 })).toEqual(["ask-unit", "ask-up", "ask-sense", "ask-place", "ask-rate"]);
    const { mapping } = proposal({ Fx: 1, Fy: 2, Fz: 700 });
    expect(mapping.plates[0]?.force.map(({ unit }) => unit)).toEqual(["", "", ""]);
    expect(mapping.time).toEqual({ rateHz: Number.NaN });
    expect(codes({ "Ch 1 (V)": 1, "Ch 2 (V)": 2 })).toContain("ask-matrix");
    expect(codes({ alpha: 1, beta: 2 })).toEqual(["ask-columns", "ask-rate"]);
    expect(codes({ "GRF (N)": 700, n: 1 })).toContain("ask-axis");
  });
});
