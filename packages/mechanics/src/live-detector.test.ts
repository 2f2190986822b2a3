import { random } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { type DetectorBlock, detectorStart, detectorStep, detectorStop, type ShotCut } from "./live-detector.ts";
import type { PlayerWrench } from "./shot.ts";

const RATE_HZ = 500;
const WEIGHT_N = 780;

/** What a body does at one time, from first principles: load, where it is, what it pushes and turns. */
interface Moment {
  readonly loadN: number;
  readonly leadShare: number;
  readonly targetN: number;
  readonly aheadN: number;
  readonly turnNm: number;
}

/** A part of a stream: how long, and what happens t seconds into it. */
interface Part {
  readonly lengthS: number;
  readonly at: (t: number) => Partial<Moment>;
  readonly impactS?: number;
}

/** Quiet sway: three incommensurate sines. */
function sway(t: number): Moment {
  const s =
    Math.sin(2 * Math.PI * 0.13 * t) + Math.sin(2 * Math.PI * 0.31 * t + 1) + Math.sin(2 * Math.PI * 0.67 * t + 2);
  return { loadN: WEIGHT_N, leadShare: 0.55 + 0.004 * s, targetN: 1.2 * s, aheadN: 0.8 * s, turnNm: 0.25 * s };
}

/** A pulse of size 1 on |u| < 1 with area 32/35. */
const pulse = (u: number): number => (Math.abs(u) < 1 ? (1 - u * u) ** 3 : 0);

const stand = (lengthS: number): Part => ({ lengthS, at: () => ({}) });

/** Nobody on the plates. */
const away = (lengthS: number): Part => ({ lengthS, at: () => ({ loadN: 0, targetN: 0, aheadN: 0, turnNm: 0 }) });

/** Steps on with one foot, then the other, and settles. */
const stepOn: Part = {
  lengthS: 1.5,
  at: (t) => ({
    loadN: WEIGHT_N * Math.min(1, Math.max(0, t / 0.6)) * (1 + 0.1 * Math.exp(-t) * Math.sin(12 * t)),
    leadShare: t < 0.3 ? 0.95 : 0.95 - 0.4 * Math.min(1, (t - 0.3) / 0.5),
    turnNm: 6 * pulse((t - 0.4) / 0.3) - 5 * pulse((t - 0.8) / 0.3),
  }),
};

const stepOff: Part = {
  lengthS: 1.2,
  at: (t) => ({
    loadN: WEIGHT_N * Math.max(0, 1 - t / 0.8),
    leadShare: 0.55 + 0.4 * Math.min(1, t / 0.4),
    turnNm: -6 * pulse((t - 0.3) / 0.3) + 4 * pulse((t - 0.7) / 0.3),
  }),
};

/** From foot to foot by 12 % of the load. */
const rock = (lengthS: number, frequencyHz: number): Part => ({
  lengthS,
  at: (t) => {
    const phase = Math.sin(2 * Math.PI * frequencyHz * t);
    return { leadShare: 0.55 + 0.12 * phase, targetN: 20 * phase, turnNm: 1.5 * phase };
  },
});

/** A small turn away and back, `spinNms` of angular momentum at most. */
const waggle = (spinNms: number): Part => ({
  lengthS: 1.6,
  at: (t) => ({
    turnNm: sway(t).turnNm + (spinNms / 0.36) * (-pulse((t - 0.45) / 0.4) + pulse((t - 1.05) / 0.4)),
    leadShare: 0.55 - 0.03 * pulse((t - 0.75) / 0.7),
  }),
});

/**
 * A shot of 0.75 s back and 0.32 s down: angular momentum away from the target and back to zero at the top (0.8 s), then
 * toward it until impact and back to zero. `size` 1 turns with about 18 N m at its peak.
 */
function shot(size: number, impactS?: number): Part {
  const spinAwayNms = 1.5 * size;
  const spinTowardNms = 3 * size;
  const area = 32 / 35;
  const lobe = (t: number, centre: number, width: number, spin: number): number =>
    (spin / (area * width)) * pulse((t - centre) / width);
  return {
    lengthS: 2.5,
    ...(impactS === undefined ? {} : { impactS }),
    at: (t) => ({
      turnNm:
        lobe(t, 0.3, 0.25, -spinAwayNms) +
        lobe(t, 0.66, 0.2, spinAwayNms) +
        lobe(t, 0.98, 0.17, spinTowardNms) +
        lobe(t, 1.4, 0.25, -spinTowardNms),
      loadN: WEIGHT_N * (1 - 0.05 * size * pulse((t - 0.8) / 0.2) + 0.12 * size * pulse((t - 1.05) / 0.15)),
      targetN: -30 * size * pulse((t - 0.4) / 0.3) + 70 * size * pulse((t - 0.95) / 0.2),
      leadShare: 0.55 + 0.25 * Math.min(1, Math.max(0, (t - 0.7) / 0.5)) * size,
    }),
  };
}

interface Stream {
  readonly lead: PlayerWrench;
  readonly trail: PlayerWrench;
  readonly count: number;
  readonly impactAt: readonly number[];
}

/**
 * The two player wrenches of a stream: the feet 0.4 m apart along the target, 0.1 m and 0.14 m ahead, forces shared as
 * the load, so that the couple is zero and the turn is the sum of two equal free moments. Noise of 0.5 N, 0.1 N m.
 */
function streamOf(parts: readonly Part[], rateHz = RATE_HZ): Stream {
  const count = parts.reduce((sum, part) => sum + Math.round(part.lengthS * rateHz), 0);
  const columns = (): PlayerWrench => ({
    targetN: new Float64Array(count),
    aheadN: new Float64Array(count),
    upN: new Float64Array(count),
    bTargetNm: new Float64Array(count),
    bAheadNm: new Float64Array(count),
    turnNm: new Float64Array(count),
  });
  const feet = [
    { wrench: columns(), copTargetM: 0.2, copAheadM: 0.1 },
    { wrench: columns(), copTargetM: -0.2, copAheadM: 0.14 },
  ] as const;
  const dice = random(11, "detector");
  const impactAt: number[] = [];
  let i = 0;
  for (const part of parts) {
    const first = i;
    if (part.impactS !== undefined) impactAt.push(first + Math.round(part.impactS * rateHz));
    for (; i < first + Math.round(part.lengthS * rateHz); i++) {
      const moment = { ...sway(i / rateHz), ...part.at((i - first) / rateHz) };
      feet.forEach(({ wrench, copTargetM, copAheadM }, foot) => {
        const share = foot === 0 ? moment.leadShare : 1 - moment.leadShare;
        const upN = share * moment.loadN + 0.5 * dice.normal();
        const targetN = share * moment.targetN + 0.5 * dice.normal();
        const aheadN = share * moment.aheadN + 0.5 * dice.normal();
        wrench.upN[i] = upN;
        wrench.targetN[i] = targetN;
        wrench.aheadN[i] = aheadN;
        wrench.bTargetNm[i] = copTargetM * upN + 0.1 * dice.normal();
        wrench.bAheadNm[i] = copAheadM * upN + 0.1 * dice.normal();
        wrench.turnNm[i] = copAheadM * targetN - copTargetM * aheadN + moment.turnNm / 2 + 0.1 * dice.normal();
      });
    }
  }
  return { lead: feet[0].wrench, trail: feet[1].wrench, count, impactAt };
}

function blockOf({ lead, trail, impactAt }: Stream, first: number, end: number): DetectorBlock {
  const part = (wrench: PlayerWrench): PlayerWrench => ({
    targetN: wrench.targetN.slice(first, end),
    aheadN: wrench.aheadN.slice(first, end),
    upN: wrench.upN.slice(first, end),
    bTargetNm: wrench.bTargetNm.slice(first, end),
    bAheadNm: wrench.bAheadNm.slice(first, end),
    turnNm: wrench.turnNm.slice(first, end),
  });
  const here = impactAt.filter((at) => at >= first && at < end).map((at) => at - first);
  return { lead: part(lead), trail: part(trail), impactAt: here };
}

/** Runs a stream through in blocks of the given lengths, over and over. */
function found(stream: Stream, lengths: readonly number[] = [5], rateHz = RATE_HZ): ShotCut[] {
  let state = detectorStart({ rateHz });
  const cuts: ShotCut[] = [];
  for (let first = 0, k = 0; first < stream.count; k++) {
    const end = Math.min(stream.count, first + lengths[k % lengths.length]!);
    const step = detectorStep(state, blockOf(stream, first, end));
    state = step.state;
    cuts.push(...step.cuts);
    first = end;
  }
  return cuts;
}

describe("what is a shot", () => {
  test("a shot between two stances is found once and cut with what came before it", () => {
    const cuts = found(streamOf([stand(4), shot(1), stand(3)]));
    expect(cuts).toHaveLength(1);
    const { first, end, foundBy, isComplete } = cuts[0]!;
    expect([foundBy, isComplete]).toEqual(["turn", true]);
    // Motion starts at 4.05 s; 3 s and a little before that, and all of the shot (over at 5.7 s) plus the post-roll.
    expect(first / RATE_HZ).toBeGreaterThan(0.9);
    expect(first / RATE_HZ).toBeLessThan(1.6);
    expect(end / RATE_HZ).toBeGreaterThan(6.2);
    expect(end / RATE_HZ).toBeLessThan(8.6);
  });

  test.each([0.5, 0.7, 1.4])("a shot of %d of the usual turn is found too", (size) => {
    expect(found(streamOf([stand(4), shot(size), stand(3), shot(size), stand(3)]))).toHaveLength(2);
  });

  test("a chip too gentle for its turn is found by the trigger", () => {
    expect(found(streamOf([stand(4), shot(0.2), stand(4)]))).toEqual([]);
    const cuts = found(streamOf([stand(4), shot(0.2, 1.1), stand(4)]));
    expect(cuts.map((cut) => cut.foundBy)).toEqual(["impact"]);
  });

  test("a trigger while the player stands still or is away is no shot", () => {
    const knock: Part = { ...stand(3), impactS: 1 };
    expect(found(streamOf([stand(3), knock, stand(2)]))).toEqual([]);
    expect(found(streamOf([{ ...away(3), impactS: 1 }, stand(3)]))).toEqual([]);
  });

  test("standing, rocking, waggles, stepping on and off are none", () => {
    const idle = [
      ...[away(2), stepOn, stand(3), rock(8, 0.5), stand(1), rock(6, 0.8), stand(1.5), rock(6, 1.1), stand(2)],
      ...[waggle(0.2), stand(0.3), waggle(0.4), stand(1), waggle(0.6), stand(2), stepOff, away(3), stepOn, stand(4)],
    ];
    expect(found(streamOf(idle))).toEqual([]);
  });

  test("a shot after a waggle is found, and the waggle is in the cut", () => {
    const cuts = found(
      streamOf([away(1), stepOn, stand(3), waggle(0.5), stand(0.7), shot(1), stand(2), stepOff, away(2)]),
    );
    expect(cuts).toHaveLength(1);
    expect(cuts[0]!.first / RATE_HZ).toBeLessThan(5.5 + 0.6);
  });

  test("turning toward the target first is no shot", () => {
    const backward = shot(1);
    const reversed: Part = { ...backward, at: (t) => ({ turnNm: -(backward.at(t).turnNm ?? 0) * 0.5 }) };
    const cuts = found(streamOf([stand(4), { ...reversed, lengthS: 1.12 }, stand(4)]));
    expect(cuts).toEqual([]);
  });

  test("a player who leaves the plates in mid-motion leaves no shot", () => {
    expect(found(streamOf([stand(4), { ...shot(1), lengthS: 0.6 }, away(3)]))).toEqual([]);
  });
});

test("forty shots in a row: none missed, doubled or false", () => {
  const parts = [away(1), stepOn];
  for (let k = 0; k < 40; k++) {
    parts.push(stand(2 + (k % 3)));
    if (k % 2 === 0) parts.push(waggle(0.2 + 0.1 * (k % 4)), stand(0.8));
    if (k % 5 === 0) parts.push(rock(3, 0.7), stand(1.5));
    parts.push(shot(0.5 + (k % 10) / 10), stand(2));
    if (k % 7 === 0) parts.push(stepOff, away(2), stepOn);
  }
  expect(found(streamOf(parts))).toHaveLength(40);
});

describe("the length of the blocks does not matter", () => {
  const parts = [away(1), stepOn, stand(3), waggle(0.5), stand(1), shot(0.7), stand(2), rock(3, 0.8), shot(1.2, 1.1)];
  test.each([500, 600, 1000, 1024])("at %d Hz", (rateHz) => {
    const stream = streamOf([...parts, stand(3)], rateHz);
    const wanted = found(stream, [1], rateHz);
    expect(wanted.length).toBeGreaterThanOrEqual(1);
    for (const lengths of [[2], [7], [10], [20], [3, 11, 1, 20, 5], [stream.count]]) {
      expect(found(stream, lengths, rateHz)).toEqual(wanted);
    }
  });
});

test("a step leaves the state before it as it was", () => {
  const stream = streamOf([stand(1)]);
  const before = detectorStart({ rateHz: RATE_HZ });
  const copy = structuredClone(before);
  const { state } = detectorStep(before, blockOf(stream, 0, 300));
  expect(before).toEqual(copy);
  const kept = structuredClone(state);
  detectorStep(state, blockOf(stream, 300, 400));
  expect(state).toEqual(kept);
  expect(detectorStep(state, blockOf(stream, 300, 300)).state).toEqual(kept);
});

test("lost samples are left out, and a lost block repeats what was before", () => {
  const stream = streamOf([stand(4), shot(1), stand(3)]);
  for (const [first, end] of [
    [1000, 1003],
    [2900, 2912],
  ] as const) {
    for (const wrench of [stream.lead, stream.trail]) {
      for (const column of Object.values(wrench) as Float64Array[]) column.fill(Number.NaN, first, end);
    }
  }
  expect(found(stream)).toHaveLength(1);
  const silent = streamOf([stand(0.1)]);
  silent.lead.upN.fill(Number.NaN);
  expect(found(silent)).toEqual([]);
});

test("plates without moments find flagged shots only", () => {
  const withoutMoments = (impactS: number | undefined): ShotCut[] => {
    const stream = streamOf([stand(4), shot(1, impactS), stand(3)]);
    for (const { bTargetNm, bAheadNm, turnNm } of [stream.lead, stream.trail]) {
      for (const column of [bTargetNm, bAheadNm, turnNm]) column.fill(Number.NaN);
    }
    return found(stream);
  };
  expect(withoutMoments(undefined)).toEqual([]);
  expect(withoutMoments(1.1).map((cut) => cut.foundBy)).toEqual(["impact"]);
});

test("a stream that ends in the shot gives it up to there", () => {
  const run = (parts: readonly Part[]): readonly ShotCut[] => {
    const stream = streamOf(parts);
    const { state, cuts } = detectorStep(detectorStart({ rateHz: RATE_HZ }), blockOf(stream, 0, stream.count));
    expect(cuts).toEqual([]);
    return detectorStop(state);
  };
  const inShot = run([stand(4), { ...shot(1), lengthS: 1.3 }]);
  expect(inShot).toEqual([{ first: expect.any(Number), end: 5.3 * RATE_HZ, foundBy: "turn", isComplete: false }]);
  expect(run([stand(4)])).toEqual([]);
});

test("a cut never starts before the stream", () => {
  const [cut] = found(streamOf([stand(1.5), shot(1), stand(3)]));
  expect(cut!.first).toBe(0);
});

test.each([0, 100, 199, Number.NaN])("%d Hz is refused", (rateHz) => {
  expect(() => detectorStart({ rateHz })).toThrow(RangeError);
});
