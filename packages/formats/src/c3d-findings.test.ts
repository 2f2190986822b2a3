import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Finding, UnderfootError } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { c3dFindings, said } from "./c3d-findings.ts";
import { c3dFaults } from "./faults.ts";

type Say = (...args: unknown[]) => Finding & UnderfootError;
const page = readFileSync(join(import.meta.dirname, "../../../docs/formats/c3d.md"), "utf8");
const [errorRows = "", findingRows = ""] = page.split("## What may be said")[1]!.split("Findings (");
const codesIn = (table: string): string[] =>
  table
    .split("\n")
    .flatMap((line) =>
      line.startsWith("| `") ? [...line.split("|")[1]!.matchAll(/`([a-z0-9-]+)`/g)].map(([, code]) => code!) : [],
    );
const where = { file: "S-17.c3d", plate: 2 };
const findings = Object.entries(c3dFindings).map(
  ([name, say]) => [name, (say as unknown as Say)(where, 1, 2, 3)] as const,
);
const faults = Object.entries(c3dFaults).map(([name, say]) => [name, (say as unknown as Say)(where, 1, 2, 3)] as const);

describe("what a C3D file can make us say", () => {
  test("the page lists every code and no other", () => {
    expect(new Set(codesIn(findingRows))).toEqual(new Set(findings.map(([, { code }]) => code)));
    expect(new Set(codesIn(errorRows))).toEqual(new Set(faults.map(([, { code }]) => code)));
  });

  test.each(findings)("%s: one sentence, one remedy, where", (_, finding) => {
    expect(finding.sentence).toMatch(/^[A-Z0-9].*\.$/);
    expect(finding.remedy).toMatch(/^[A-Z].*\.$/);
    expect(finding.where).toEqual(where);
  });

  test.each(faults)("%s: one sentence with the file's name, one remedy", (_, fault) => {
    expect(fault.message).toMatch(/^S-17\.c3d .*\.$/);
    expect(fault.remedy).toMatch(/^[A-Z].*\.$/);
  });

  test("a guess is a finding too", () => {
    const out = said();
    out.say(c3dFindings.noAnalog({}));
    out.guess(c3dFindings.cornerOrder({ plate: 1 }));
    expect(out.findings.map(({ code }) => code)).toEqual(["fp-no-analog", "corner-order"]);
    expect(out.guesses).toEqual([out.findings[1]]);
  });
});
