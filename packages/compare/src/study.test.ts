import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import type { ComparedShot, ShotSeries } from "./compared-shot.ts";
import { shotsOf } from "./hand-made-shots.ts";
import { type StudyOptions, studyOf } from "./study.ts";

const PUSH = "both.target.peak turf";
const CURVE = "both.target turf";

/** Invented players: levels far apart, all react by about `reaction`, shots scatter by 5. */
function players(count: number, reaction: number, o: { share?: number; bump?: number } = {}) {
  const stream = random(8, "study");
  const { share = 0, bump = 0 } = o;
  const shotsOfSide = (player: string, side: "a" | "b", mean: number): ComparedShot[] => {
    const lie = side === "b" && share !== 0 ? { pitchDeg: 4, slopeShare: share } : {};
    const values = Array.from({ length: 6 }, () => mean + 5 * stream.normal() + (side === "b" ? share : 0));
    return shotsOf(side, { [PUSH]: values }, { player, sessionId: player, ...lie }).map((shot) => {
      const height = stream.normal();
      const values = Float64Array.from(
        { length: 601 },
        (_, i) =>
          height + (side === "b" ? share + bump * Math.exp(-0.5 * ((i - 300) / 40) ** 2) : 0) + 0.3 * stream.normal(),
      );
      const series: ShotSeries = {
        values,
        ...(lie === undefined || share === 0 || side === "a" ? {} : { slopeShare: new Float64Array(601).fill(share) }),
        ...{ sigma: 0.3, sigmaOfLie: 0, sigmaOfSetUp: 0, firstMs: -800, rateHz: 500 },
      };
      return { ...shot, curves: new Map([[CURVE, series]]) };
    });
  };
  const names = Array.from({ length: count }, (_, k) => `P${k + 10}`);
  const levels = names.map(() => ({ level: 100 + 40 * stream.normal(), own: reaction + 3 * stream.normal() }));
  const a = names.flatMap((player, k) => shotsOfSide(player, "a", levels[k]?.level ?? 0));
  const b = names.flatMap((player, k) => shotsOfSide(player, "b", (levels[k]?.level ?? 0) + (levels[k]?.own ?? 0)));
  return { a: { name: "flat", shots: a }, b: { name: "up", shots: b } };
}
const studied = (of: ReturnType<typeof players>, more: Partial<StudyOptions> = {}) =>
  studyOf({ ...of, measures: [PUSH], axes: "turf", seed: 1, streams: random, ...more });

test("ten players: model and two-stage check agree, each player's own estimate is pulled toward the group", () => {
  const found = studied(players(10, 20));
  const [row] = found.measures;
  expect(row).toMatchObject({ status: "players", agrees: true, say: "beyond" });
  expect(row?.model?.value).toBeGreaterThan(15);
  expect(row?.model?.value).toBeLessThan(25);
  // Balanced cells: the model with a slope of each player's own is the two-stage check.
  expect(row?.model?.value).toBeCloseTo(row?.twoStage?.value ?? Number.NaN, 3);
  expect(found.cells).toHaveLength(10);
  expect(found.cells[0]).toEqual({ player: "P10", countA: 6, countB: 6 });
  const spread = (of: readonly number[]): number => Math.max(...of) - Math.min(...of);
  const own = row?.players.map((one) => one.own) ?? [];
  const pulled = row?.players.flatMap((one) => (one.pulled ? [one.pulled.value] : [])) ?? [];
  expect(pulled).toHaveLength(10);
  expect(spread(pulled)).toBeLessThan(spread(own));
});

test("the slope's share of every shot is taken off before players are compared", () => {
  const found = studied(players(8, 0, { share: 50 }));
  expect(found.isBetweenLies).toBe(true);
  expect(Math.abs(found.measures[0]?.model?.value ?? Number.NaN)).toBeLessThan(6);
});

test("the slope's share of the difference is a mean over players, however many shots each hit, and with it the raw difference", () => {
  const { a, b } = players(8, 20, { share: 50 });
  // Every player's own slope: 50, 51, ... 57 N; the first player hits one shot of B only, so a mean over shots would be another.
  const codes = [...new Set(b.shots.map(({ player }) => player))];
  const shots = b.shots
    .filter(({ player, shotId }) => player !== codes[0] || shotId.endsWith("-0"))
    .map((shot) => {
      const { value = 0, ...rest } = shot.measures.get(PUSH) ?? { sigma: 1, sigmaShared: 0 };
      const more = codes.indexOf(shot.player);
      return { ...shot, measures: new Map([[PUSH, { ...rest, value: value + more, slopeShare: 50 + more }]]) };
    });
  const [row] = studied({ a, b: { ...b, shots } }).measures;
  expect(row?.slopeShare).toBeCloseTo(53.5, 12);
  expect((row?.raw ?? 0) - (row?.model?.value ?? 0)).toBeCloseTo(53.5, 12);
  const few = studied({
    a: { ...a, shots: a.shots.filter(({ player }) => codes.indexOf(player) < 4) },
    b: { ...b, shots: shots.filter(({ player }) => codes.indexOf(player) < 4) },
  }).measures[0];
  expect(few?.slopeShare).toBeCloseTo(51.5, 12);
  const own = few?.players.map((one) => one.own) ?? [];
  expect(few?.raw).toBeCloseTo(own.reduce((sum, value) => sum + value, 0) / 4 + 51.5, 10);
  // Within one lie there is nothing to name, and both are one.
  const level = studied(players(8, 20)).measures[0];
  expect(level).toMatchObject({ slopeShare: 0, raw: level?.model?.value });
});

test("shots of which nobody gave the lie are counted", () => {
  const { a, b } = players(8, 20);
  const bare = ({ pitchDeg: _, rollDeg: __, ...shot }: ComparedShot): ComparedShot => shot;
  const found = studied({ a, b: { ...b, shots: b.shots.map(bare) } });
  expect(found.countLieUnknown).toBe(48);
  expect(studied({ a, b }).countLieUnknown).toBe(0);
});

test("four players: each by itself, nothing is said of players", () => {
  const found = studied(players(4, 20));
  expect(found.measures[0]).toMatchObject({ status: "each-player", say: "too-few" });
  expect(found.measures[0]?.players).toHaveLength(4);
  expect(found.measures[0]?.players[0]?.own).toBeGreaterThan(5);
});

test("curves by two stages, the player as unit", () => {
  const found = studied(players(8, 0, { bump: 30 }), { curves: [CURVE] });
  const [curve] = found.curves;
  expect(curve).toMatchObject({ status: "judged" });
  expect(curve?.players).toHaveLength(8);
  expect(curve?.stretches).toHaveLength(1);
  expect(Math.abs((curve?.stretches[0]?.atMs ?? 0) + 200)).toBeLessThan(30);
  expect(studied(players(5, 0, { bump: 30 }), { curves: [CURVE] }).curves[0]).toMatchObject({
    status: "too-few",
    stretches: [],
  });
});

test("several measures are one family: Holm over what is quoted", () => {
  const of = players(8, 20);
  const one = studied(of).measures[0];
  const two = studied(of, { measures: [PUSH, "lead.share.at.impact"] });
  expect(two.measures[0]?.adjustedP).toBeCloseTo(2 * (one?.quotedP ?? Number.NaN), 12);
  expect(two.measures[1]).toMatchObject({ status: "withheld", say: "too-few" });
});
