import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const BIN = join(import.meta.dirname, "..", "bin", "underfoot.js");
let folder: string;

function underfoot(...words: string[]): { code: number; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [BIN, ...words], {
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  return { code: status ?? -1, out: stdout, err: stderr };
}
const at = (name: string): string => join(folder, name);

/** A failing input is one sentence with a remedy, never a trace of our stack. */
function expectOneSentence(text: string): void {
  expect(text).not.toMatch(/\n\s+at /);
  expect(text).not.toMatch(/our fault/);
  expect(text.trim()).not.toBe("");
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "underfoot-command-"));
  const made = underfoot(
    "simulate",
    "--out",
    at("shots"),
    "--shots",
    "4",
    "--players",
    "2",
    "--seed",
    "5",
    "--lies",
    "flat,5/0",
  );
  expect(made.err).toBe("");
  expect(made.code).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true }));

describe("usage", () => {
  test("help names every command and exits 0; nothing at all exits 2", () => {
    const help = underfoot("--help");
    expect(help.code).toBe(0);
    const names = [
      ...["inspect", "signals", "measure", "simulate", "serve", "demo"],
      ...["import", "list", "recompute", "backup", "restore", "verify", "forget"],
    ];
    for (const name of names) {
      expect(help.out).toContain(name);
      const one = underfoot(name, "--help");
      expect(one.code).toBe(0);
      expect(one.out).toContain(`underfoot ${name}`);
    }
    expect(underfoot().code).toBe(2);
  });

  test.each([
    ["an unknown command", ["juggle"]],
    ["an unknown option", ["inspect", "--fast", "a.c3d"]],
    ["no file", ["measure"]],
    ["a format there is not", ["inspect", "a.c3d", "--format", "xml"]],
    ["signals without a frame", ["signals", "a.c3d"]],
    ["a filter that is no number", ["signals", "a.c3d", "--frame", "lab", "--filter", "soft"]],
    ["CSV of two files without a folder", ["signals", "a.c3d", "b.c3d", "--frame", "lab"]],
    ["a lie there is not", ["simulate", "--out", "x", "--lies", "moon"]],
    ["a fault there is not", ["simulate", "--out", "x", "--faults", "gremlins"]],
    ["half a shot", ["simulate", "--out", "x", "--shots", "0.5"]],
  ])("%s is one sentence and exit code 2", (_, words) => {
    const { code, out, err } = underfoot(...words);
    expect(code).toBe(2);
    expect(out).toBe("");
    expectOneSentence(err);
  });
});

describe("simulate", () => {
  test("writes a recording and a sidecar a shot, and the truth", () => {
    const names = readdirSync(at("shots"));
    expect(names.filter((name) => name.endsWith(".c3d"))).toHaveLength(4);
    expect(names.filter((name) => name.endsWith(".shot.json"))).toHaveLength(4);
    const truth = JSON.parse(readFileSync(at("shots/truth.json"), "utf8"));
    expect(truth.shots).toHaveLength(4);
    expect(truth.shots[0].truth.events.impact).toBeGreaterThan(truth.shots[0].truth.events.top);
  });

  test("the same seed gives the same bytes, and a folder with something in it is left alone", () => {
    expect(
      underfoot("simulate", "--out", at("again"), "--shots", "4", "--players", "2", "--seed", "5", "--lies", "flat,5/0")
        .code,
    ).toBe(0);
    for (const name of readdirSync(at("shots")))
      expect(readFileSync(join(at("again"), name)).equals(readFileSync(join(at("shots"), name))), name).toBe(true);
    const again = underfoot("simulate", "--out", at("again"));
    expect(again.code).toBe(1);
    expectOneSentence(again.err);
  });
});

describe("measure", () => {
  test("finds the sidecar by itself and agrees with the truth within 4 sigma", () => {
    const { code, out } = underfoot("measure", at("shots/shot-001.c3d"), at("shots/shot-002.c3d"), "--format", "json");
    expect(code).toBe(0);
    const entries = JSON.parse(out);
    expect(entries.map((entry: { status: string }) => entry.status)).toEqual(["ok", "ok"]);
    const truths = JSON.parse(readFileSync(at("shots/truth.json"), "utf8")).shots;
    for (const [k, entry] of entries.entries()) {
      expect(entry.provenance.sourceSha256).toMatch(/^[0-9a-f]{64}$/);
      expect(entry.events.map((event: { event: string }) => event.event)).toEqual([
        "address",
        "start",
        "top",
        "delivery",
        "impact",
        "finish",
      ]);
      const speed = entry.measures.find(
        (one: { id: string; axes: string }) => one.id === "both.speedTarget.at.impact" && one.axes === "turf",
      );
      const true_ = truths[k].truth.measures.find(
        (one: { id: string; axes: string }) => one.id === "both.speedTarget.at.impact" && one.axes === "turf",
      );
      expect(Math.abs(speed.value - true_.value)).toBeLessThan(4 * speed.sigma);
    }
  });

  test("without a sidecar: loads, pressure and weight, and a sentence on what is missing", () => {
    writeFileSync(at("alone.c3d"), readFileSync(at("shots/shot-001.c3d")));
    const { code, out } = underfoot("measure", at("alone.c3d"), "--format", "json");
    expect(code).toBe(0);
    const [entry] = JSON.parse(out);
    expect(entry.sentence).toContain("which way the target is");
    expect(entry.measures.map((one: { id: string }) => one.id)).toContain("both.weight.mean");
  });

  test("an answer for people and a table of numbers", () => {
    expect(underfoot("measure", at("shots/shot-001.c3d")).out).toContain("N");
    const { out } = underfoot("measure", at("shots/shot-001.c3d"), "--format", "csv");
    expect(out.split("\n").length).toBeGreaterThan(100);
  });
});

describe("signals", () => {
  test("laboratory columns by name, missing empty, one row a sample", () => {
    const { out, code } = underfoot("signals", at("shots/shot-001.c3d"), "--frame", "lab");
    expect(code).toBe(0);
    const [head = "", ...rows] = out.trimEnd().split("\n");
    expect(head.split(",").slice(0, 11)).toEqual([
      "time_ms",
      "p1_fx_n",
      "p1_fy_n",
      "p1_fz_n",
      "p1_mx_nm",
      "p1_my_nm",
      "p1_mz_nm",
      "p1_cop_x_m",
      "p1_cop_y_m",
      "p1_cop_z_m",
      "p1_free_moment_nm",
    ]);
    expect(rows).toHaveLength(6000);
  });

  test("turf axes need a sidecar, and say so", () => {
    const { code, err } = underfoot("signals", at("alone.c3d"), "--frame", "turf");
    expect(code).toBe(1);
    expectOneSentence(err);
    const turf = underfoot(
      "signals",
      at("shots/shot-001.c3d"),
      at("shots/shot-003.c3d"),
      "--frame",
      "level",
      "--filter",
      "default",
      "--out-dir",
      at("signals"),
    );
    expect(turf.code).toBe(0);
    expect(readFileSync(at("signals/shot-001.level.csv"), "utf8").split("\n")[0]).toContain("com_speed_target_m_per_s");
  });
});

describe("bad input is one clear sentence, and the other files go on", () => {
  const good = (): Buffer => readFileSync(at("shots/shot-001.c3d"));
  const inputs: readonly (readonly [string, () => Uint8Array | string])[] = [
    ["empty.c3d", () => ""],
    ["header-only.c3d", () => good().subarray(0, 512)],
    ["cut-in-parameters.c3d", () => good().subarray(0, 700)],
    ["notes.c3d", () => "Shot 7: thin, left.\nShot 8: better.\n"],
    ["picture.c3d", () => Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13])],
  ];

  test.each(inputs)("%s", (name, bytes) => {
    writeFileSync(at(name), bytes());
    for (const command of [["inspect"], ["measure"], ["signals", "--frame", "lab"]]) {
      const { code, err, out } = underfoot(...command, at(name));
      expect(code, `${command} ${out}`).toBe(1);
      expectOneSentence(err + out);
    }
  });

  test("a file that is not there, a folder and a truncated recording among good ones", () => {
    writeFileSync(at("truncated.c3d"), good().subarray(0, 200_000));
    const { code, out } = underfoot(
      "inspect",
      at("gone.c3d"),
      folder,
      at("truncated.c3d"),
      at("shots/shot-002.c3d"),
      "--format",
      "json",
    );
    expect(code).toBe(1);
    const entries = JSON.parse(out);
    expect(entries.map((entry: { status: string }) => entry.status)).toEqual(["error", "error", "ok", "ok"]);
    expect(entries[0].code).toBe("file-not-found");
    expect(entries[2].findings.map((finding: { code: string }) => finding.code)).toContain("truncated");
  });

  test("bits flipped anywhere never end in a trace", () => {
    const bytes = Buffer.from(good());
    for (let k = 0; k < 40; k++) bytes[(k * 7919) % bytes.length]! ^= 1 << (k % 8);
    writeFileSync(at("flipped.c3d"), bytes);
    expectOneSentence(`${underfoot("measure", at("flipped.c3d"), "--sidecar", at("shots/shot-001.shot.json")).out}.`);
  });

  test.each([
    ["not JSON", "{ handed", "sidecar"],
    [
      "a hand there is not",
      '{"underfoot":"shot","version":1,"handed":"both","target":[1,0,0],"plates":[{"plate":1,"foot":"lead"}]}',
      "handed",
    ],
    [
      "a plate there is not",
      '{"underfoot":"shot","version":1,"handed":"right","target":[1,0,0],"plates":[{"plate":7,"foot":"lead"}]}',
      "7",
    ],
    [
      "a target along the plates' normal",
      '{"underfoot":"shot","version":1,"handed":"right","target":[0,0,1],"plates":[{"plate":1,"foot":"lead"},{"plate":2,"foot":"trail"}]}',
      "target",
    ],
  ])("a sidecar with %s", (_, text, word) => {
    writeFileSync(at("wrong.shot.json"), text);
    const { code, out, err } = underfoot("measure", at("alone.c3d"), "--sidecar", at("wrong.shot.json"));
    expect(code).toBe(1);
    expectOneSentence(out + err);
    expect(out + err).toContain(word);
  });
});

describe("delimited text", () => {
  test("a draft of a mapping, filled in, brings the recording in", () => {
    const rows = Array.from({ length: 600 }, (_, i) => `${(i / 500).toFixed(3)};${5 + (i % 3)};-2;${700 + (i % 5)}`);
    writeFileSync(at("stand.csv"), `Time [s];Fx;Fy;Fz\n${rows.join("\n")}\n`);
    const draft = underfoot("inspect", at("stand.csv"), "--propose-mapping");
    expect(draft.code).toBe(0);
    expect(draft.err).toContain("unit");
    const mapping = JSON.parse(draft.out);
    for (const force of mapping.plates[0].force) force.unit = "N";
    writeFileSync(at("stand.mapping.json"), JSON.stringify(mapping));
    const [entry] = JSON.parse(
      underfoot("inspect", at("stand.csv"), "--mapping", at("stand.mapping.json"), "--format", "json").out,
    );
    expect(entry.status).toBe("ok");
    expect(entry.rateHz).toBe(500);
    expect(entry.plates[0].forceN.lab.z.mean).toBeCloseTo(702, 6);
  });

  test("without a mapping it is looked at, and no force is made up", () => {
    const [entry] = JSON.parse(underfoot("inspect", at("stand.csv"), "--format", "json").out);
    expect(entry.plates).toEqual([]);
    expect(entry.findings.map((finding: { code: string }) => finding.code)).toContain("no-mapping");
  });
});

describe("faults in the recording are findings, not failures", () => {
  test.each([
    ["clip", "saturated"],
    ["gap", "gap"],
    ["nan", "gap"],
    ["swapped", "lead-trail-swapped"],
  ])("%s", (fault, code) => {
    const out = at(`fault-${fault}`);
    expect(underfoot("simulate", "--out", out, "--shots", "1", "--seed", "3", "--faults", fault).code).toBe(0);
    const measured = underfoot("measure", join(out, "shot-001.c3d"), "--format", "json");
    const [entry] = JSON.parse(measured.out);
    expect(entry.findings.map((finding: { code: string }) => finding.code).join(" ")).toContain(code);
    expectOneSentence(`${measured.err}.`);
  });
});
