import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import type { ComparedShot } from "./compared-shot.ts";
import { shotsOf } from "./hand-made-shots.ts";
import { type OutcomeOptions, outcomeOf } from "./outcome.ts";

const TOE = "lead.heelToe.at.delivery";
const OTHER = "both.turn.peak";
const count = 14;
const stream = random(6, "outcome");
const toe = Array.from({ length: count }, () => 50 + 10 * stream.normal());
const other = Array.from({ length: count }, () => 15 + stream.normal());

/** Strikes that follow the pressure toward the toes, and say nothing of the torque. */
const shots = (facts: Parameters<typeof shotsOf>[2] = {}): ComparedShot[] =>
  shotsOf("low", { [TOE]: toe, [OTHER]: other }, facts).map((shot, k) => ({
    ...shot,
    result: { strikeMm: [-0.5 * ((toe[k] ?? 0) - 50) + 0.4 * ((k % 3) - 1), 0], carryM: 20 + k },
  }));
const asked = (of: readonly ComparedShot[], more: Partial<OutcomeOptions> = {}) =>
  outcomeOf({
    group: { name: "low", shots: of },
    ...{ measures: [TOE, OTHER], outcome: "strikeToe", seed: 1, streams: random },
    ...more,
  });

test("a measure that goes with the strike may be said, one that does not may not", () => {
  const found = asked(shots());
  expect(found).toMatchObject({ unit: "mm", n: count, countUnknown: 0 });
  expect(found.measures.map(({ say }) => say)).toEqual(["link", "no-clear-link"]);
  const [first] = found.measures;
  expect(first?.correlation).toMatchObject({ kind: "rank-correlation", method: "spearman" });
  if (first?.correlation === undefined || first.correlation.kind === "withheld") throw new RangeError("withheld");
  expect(first.correlation.value).toBeLessThan(-0.9);
  expect(first.correlation.high).toBeLessThan(0);
  expect(first.adjustedP).toBeGreaterThanOrEqual(first.p);
  expect(first.points).toHaveLength(count);
});

test("what was asked for does not pose as a cause: shots are permuted within conditions only", () => {
  // Two intents far apart in both, nothing within either.
  const within = Array.from({ length: count }, (_, k) => (k * 5) % 7);
  const of = (intent: string, lift: number): ComparedShot[] =>
    shotsOf(intent, { [TOE]: within.map((one) => one + lift) }).map((shot, k) => ({
      ...shot,
      result: { strikeMm: [((k * 3) % 5) + lift, 0] },
    }));
  const found = asked([...of("low", 0), ...of("highest", 100)], { measures: [TOE] });
  expect(found.conditions).toHaveLength(2);
  expect(found.measures[0]).toMatchObject({ say: "no-clear-link", correlation: { method: "spearman-stratified" } });
  const pooled = asked(
    [...of("low", 0), ...of("low", 100)].map((shot, k) => ({ ...shot, shotId: `${k}` })),
    {
      measures: [TOE],
    },
  );
  expect(pooled.measures[0]?.say).toBe("link");
});

test("carry and start line are never pooled across lies", () => {
  const two = [...shots(), ...shots({ pitchDeg: 4 }).map((shot) => ({ ...shot, shotId: `up-${shot.shotId}` }))];
  expect(asked(two, { outcome: "carry" })).toMatchObject({
    withheld: "several-lies",
    measures: [{ say: "too-few" }, {}],
  });
  expect(asked(two).withheld).toBeUndefined();
});

test("mishits: odds and area, mishit shots counted, those set aside not", () => {
  const labels = toe.map(
    (value, k) => (k === 0 ? "set-aside" : value > 52 ? "mishit" : "kept") as ComparedShot["label"],
  );
  const found = asked(shots({ labels }), { outcome: "mishit" });
  expect(found.n).toBe(count - 1);
  expect(found.measures[0]).toMatchObject({
    say: "link",
    mishit: { kind: "mishit-model" },
    area: { value: 1, high: 1 },
  });
  expect(found.measures[1]?.say).toBe("no-clear-link");
});

test("few shots, or none with a known result: nothing is said", () => {
  expect(asked(shots().slice(0, 6)).measures[0]).toMatchObject({ say: "too-few", correlation: { kind: "withheld" } });
  const unknown = asked(shots().map(({ result: _, ...shot }) => shot));
  expect(unknown).toMatchObject({ n: 0, countUnknown: count });
  expect(unknown.measures[0]?.adjustedP).toBeNaN();
});
