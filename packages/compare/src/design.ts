import { isOrderConfounded } from "@underfoot/statistics";
import type { ComparedShot } from "./compared-shot.ts";
import type { Notice } from "./notices.ts";
import { inOrderHit, lieOf } from "./shots-in-order.ts";

/** How the order of the shots was drawn, and the block, row or visit each belongs to. */
export interface ComparisonPlan {
  readonly order: "free" | "blocked" | "balanced" | "split" | "as-given";
  /** By shot. A shot that is not here stands outside the plan: its label could not have been drawn otherwise. */
  readonly blockOf: ReadonlyMap<string, number>;
}

/**
 * What may have been labelled otherwise: any shot, shots within a block (or session), pairs, or whole visits to a lie.
 * `none`: nothing, the plan or the sessions forbid a verdict.
 */
export type DesignKind = "free" | "blocked" | "paired" | "visits" | "none";

/** The shots of a comparison in the order they were hit, and what may be exchanged. */
export interface Design {
  readonly kind: DesignKind;
  readonly shots: readonly ComparedShot[];
  /** 0 for A, 1 for B, one entry a shot. */
  readonly groups: Uint8Array<ArrayBuffer>;
  /** Exchangeable within; undefined where free. */
  readonly blocks: Int32Array<ArrayBuffer> | undefined;
  /** Place of each shot's session, in the order of days. */
  readonly sessions: Int32Array<ArrayBuffer>;
  readonly countSessions: number;
  /** Place of each shot's lie, and its visit: a new number whenever a lie is laid again. */
  readonly lies: Int32Array<ArrayBuffer>;
  readonly visits: Int32Array<ArrayBuffer>;
  readonly isBetweenLies: boolean;
  readonly isBetweenSessions: boolean;
  readonly withheldFor: readonly ("lie-once" | "order-confounded")[];
  readonly notices: readonly Notice[];
}

/** From so many visits to each side on, whole visits are permuted against each other. */
const VISITS_TO_PERMUTE = 4;
/** Fewer complete pairs than this: the shots are compared within blocks instead (own choice). */
const LEAST_PAIRS = 5;

const places = (names: readonly string[]): Int32Array<ArrayBuffer> => {
  const known = [...new Set(names)];
  return Int32Array.from(names, (name) => known.indexOf(name));
};

/** A new number whenever session or lie changes from shot to shot, or the block of a plan that comes in visits. */
function visitsOf(shots: readonly ComparedShot[], plan: ComparisonPlan | undefined): Int32Array<ArrayBuffer> {
  const name = (shot: ComparedShot): string =>
    [shot.sessionId, lieOf(shot), plan?.order === "split" ? plan.blockOf.get(shot.shotId) : ""].join("|");
  let visit = -1;
  let before: string | undefined;
  return Int32Array.from(shots, (shot) => {
    const here = name(shot);
    if (here !== before) visit++;
    before = here;
    return visit;
  });
}

interface Labelled {
  readonly shots: readonly ComparedShot[];
  readonly groups: Uint8Array<ArrayBuffer>;
}

function labelled(a: readonly ComparedShot[], b: readonly ComparedShot[]): Labelled {
  const ofB = new Set(b);
  const shots = inOrderHit([...a, ...b]);
  return { shots, groups: Uint8Array.from(shots, (shot) => (ofB.has(shot) ? 1 : 0)) };
}

/** `one-sided`: no shot counts on one side, so nothing lies between days or lies. */
type SessionKind = "one" | "between" | "several" | "not-shared" | "one-sided";

/** The sides' sessions: shots of sessions with one side only leave where other sessions have both. */
function bySession(all: Labelled): {
  readonly kept: Labelled;
  readonly kind: SessionKind;
  readonly countLeft: readonly [number, number];
} {
  const sessionOf = ({ sessionId, day }: ComparedShot): string => sessionId ?? day;
  const sides = [0, 1].map((g) => new Set(all.shots.filter((_, k) => all.groups[k] === g).map(sessionOf)));
  const [ofA, ofB] = sides as [Set<string>, Set<string>];
  const shared = [...ofA].filter((one) => ofB.has(one));
  if (ofA.size === 0 || ofB.size === 0) return { kept: all, kind: "one-sided", countLeft: [0, 0] };
  if (shared.length === 0) {
    const isTwoDays = ofA.size <= 1 && ofB.size <= 1;
    return { kept: all, kind: isTwoDays ? "between" : "not-shared", countLeft: [0, 0] };
  }
  const isKept = all.shots.map((shot) => shared.includes(sessionOf(shot)));
  const left = [0, 1].map((g) => isKept.filter((one, k) => !one && all.groups[k] === g).length);
  return {
    kept: { shots: all.shots.filter((_, k) => isKept[k]), groups: all.groups.filter((_, k) => isKept[k]) },
    kind: shared.length === 1 && isKept.every(Boolean) ? "one" : "several",
    countLeft: [left[0] ?? 0, left[1] ?? 0],
  };
}

function factNotices(a: readonly ComparedShot[], b: readonly ComparedShot[]): Notice[] {
  const facts = [
    ["different-clubs", ({ club }: ComparedShot) => club],
    ["different-shoes", ({ shoes }: ComparedShot) => shoes],
    ["different-layouts", ({ layout }: ComparedShot) => layout],
  ] as const;
  return facts.flatMap(([code, of]): Notice[] => {
    const sides = [a, b].map((shots) => [...new Set(shots.map((shot) => of(shot) ?? "not said"))].sort());
    const [ofA, ofB] = sides as [string[], string[]];
    const isSame = ofA.length === 1 && ofB.length === 1 && ofA[0] === ofB[0];
    return isSame || ofA.length === 0 || ofB.length === 0 ? [] : [{ code, a: ofA, b: ofB }];
  });
}

/** Blocks as the plan has them; a shot outside the plan is a block by itself, so that its label stays. */
function plannedBlocks(shots: readonly ComparedShot[], plan: ComparisonPlan): Int32Array<ArrayBuffer> {
  let alone = Math.max(-1, ...plan.blockOf.values());
  return places(shots.map(({ shotId, sessionId }) => `${sessionId} ${plan.blockOf.get(shotId) ?? ++alone}`));
}

const isDrawnInBlocks = (plan: ComparisonPlan | undefined): boolean =>
  plan?.order === "blocked" || plan?.order === "balanced";

/** Shots of complete pairs where every block holds one of each at most; undefined where they are no pairs. */
function pairedShots({ shots, groups }: Labelled, blocks: Int32Array): readonly number[] | undefined {
  const byBlock = new Map<number, number[]>();
  shots.forEach((_, k) => void byBlock.set(blocks[k]!, [...(byBlock.get(blocks[k]!) ?? []), k]));
  const all = [...byBlock.values()];
  const countOf = (block: readonly number[], g: number): number => block.filter((k) => groups[k] === g).length;
  if (all.some((block) => countOf(block, 0) > 1 || countOf(block, 1) > 1)) return undefined;
  const complete = all.filter((block) => block.length === 2);
  return complete.length < LEAST_PAIRS ? undefined : complete.flat().sort((i, j) => i - j);
}

/**
 * The design that is found: from the plan where there is one, else from the order of the shots.
 *
 * @param a        shots that count, of the reference
 * @param purpose  in a study a lie that was visited once withholds the verdict; in a lesson it is said
 */
export function designOf(
  a: readonly ComparedShot[],
  b: readonly ComparedShot[],
  { plan, purpose }: { readonly plan?: ComparisonPlan | undefined; readonly purpose: "lesson" | "study" },
): Design {
  const { kept, kind: sessionKind, countLeft } = bySession(labelled(a, b));
  const isBetweenLies = sessionKind !== "one-sided" && new Set(kept.shots.map(lieOf)).size > 1;
  const lies = places(kept.shots.map(lieOf));
  const visits = visitsOf(kept.shots, plan);
  const made = exchanged(kept, { plan, sessionKind, isBetweenLies, visits });
  const chosen = made.chosen ?? kept.shots.map((_, k) => k);
  const pick = <T extends Uint8Array<ArrayBuffer> | Int32Array<ArrayBuffer>>(of: T): T =>
    of.filter((_, k) => chosen.includes(k)) as T;
  const groups = pick(kept.groups);
  const isConfounded = sessionKind === "one" && !isBetweenLies && isOrderConfounded(groups);
  const once =
    isBetweenLies && made.kind !== "visits" && made.kind !== "blocked" && made.kind !== "paired"
      ? visitedOnce(kept, visits)
      : [];
  const sessions = places(kept.shots.map(({ sessionId, day }) => sessionId ?? day));
  return {
    kind: sessionKind === "not-shared" ? "none" : made.kind,
    shots: chosen.map((k) => kept.shots[k]!),
    groups,
    blocks: made.blocks && pick(made.blocks),
    sessions: pick(sessions),
    countSessions: new Set(sessions).size,
    lies: pick(lies),
    visits: pick(visits),
    isBetweenLies,
    isBetweenSessions: sessionKind === "between" || sessionKind === "not-shared",
    withheldFor: [
      ...(isConfounded ? (["order-confounded"] as const) : []),
      ...(once.length > 0 && purpose === "study" ? (["lie-once"] as const) : []),
    ],
    notices: [
      ...factNotices(a, b),
      ...lieNotices(kept, isBetweenLies),
      ...(isConfounded ? [{ code: "order-confounded", first: groups[0] === 0 ? "a" : "b" } as const] : []),
      ...(once.length > 0 ? [{ code: "lie-once", sides: once } as const] : []),
      ...sessionNotices(sessionKind, new Set(sessions).size, countLeft),
    ],
  };
}

function sessionNotices(
  kind: SessionKind,
  countSessions: number,
  [countA, countB]: readonly [number, number],
): Notice[] {
  if (kind === "between") return [{ code: "between-sessions" }];
  if (kind === "not-shared") return [{ code: "sessions-not-shared" }];
  return kind === "several" ? [{ code: "several-sessions", countSessions, countA, countB }] : [];
}

/** An inclinometer good to 0.2 degrees does not tell lies apart that lie closer, degrees: 2.5 of its sigmas, as in the slope check. */
const TOLD_APART_DEG = 0.5;

/** Whether shots stand on lies that an inclinometer tells apart. Those it cannot are still freed of their own slope's share each. */
function isSpread(shots: readonly ComparedShot[]): boolean {
  const range = (angles: readonly (number | undefined)[]): number => {
    const known = angles.filter((angle) => angle !== undefined);
    return known.length === 0 ? 0 : Math.max(...known) - Math.min(...known);
  };
  const [pitch, roll] = [shots.map(({ pitchDeg }) => pitchDeg), shots.map(({ rollDeg }) => rollDeg)];
  const names = new Set(shots.map(({ lieName }) => lieName));
  return range(pitch) > TOLD_APART_DEG || range(roll) > TOLD_APART_DEG || names.size > 1;
}

function lieNotices({ shots, groups }: Labelled, isBetweenLies: boolean): Notice[] {
  const unknown = [0, 1].map(
    (g) =>
      shots.filter((shot, k) => groups[k] === g && shot.pitchDeg === undefined && shot.rollDeg === undefined).length,
  );
  const [countA = 0, countB = 0] = unknown;
  const several = (["a", "b"] as const).filter((_, g) => isSpread(shots.filter((_shot, k) => groups[k] === g)));
  return [
    ...(isBetweenLies ? [{ code: "between-lies" } as const] : []),
    ...(several.length > 0 ? [{ code: "several-lies", sides: several } as const] : []),
    ...(countA + countB > 0 ? [{ code: "lie-unknown", countA, countB } as const] : []),
  ];
}

/** Sides whose shots all come from one visit. */
function visitedOnce({ groups }: Labelled, visits: Int32Array): readonly ("a" | "b")[] {
  const count = [0, 1].map((g) => new Set(visits.filter((_, k) => groups[k] === g)).size);
  return [...(count[0] === 1 ? (["a"] as const) : []), ...(count[1] === 1 ? (["b"] as const) : [])];
}

interface Exchanged {
  readonly kind: DesignKind;
  readonly blocks?: Int32Array<ArrayBuffer>;
  /** Shots that count, where not all do. */
  readonly chosen?: readonly number[];
}

/** What may be exchanged, for shots that are left after the sessions are settled. */
function exchanged(
  kept: Labelled,
  o: {
    readonly plan: ComparisonPlan | undefined;
    readonly sessionKind: SessionKind;
    readonly isBetweenLies: boolean;
    readonly visits: Int32Array<ArrayBuffer>;
  },
): Exchanged {
  if (o.plan !== undefined && isDrawnInBlocks(o.plan)) {
    const blocks = plannedBlocks(kept.shots, o.plan);
    const chosen = pairedShots(kept, blocks);
    return chosen === undefined ? { kind: "blocked", blocks } : { kind: "paired", blocks, chosen };
  }
  if (o.isBetweenLies && o.sessionKind === "one") {
    const ofSide = [0, 1].map((g) => new Set(o.visits.filter((_, k) => kept.groups[k] === g)));
    const isMixed = [...(ofSide[0] ?? [])].some((visit) => ofSide[1]?.has(visit));
    if (!isMixed && ofSide.every(({ size }) => size >= VISITS_TO_PERMUTE)) return { kind: "visits" };
  }
  if (o.plan?.order === "split" && !o.isBetweenLies)
    return { kind: "blocked", blocks: plannedBlocks(kept.shots, o.plan) };
  if (o.sessionKind === "several") {
    const blocks = places(kept.shots.map(({ sessionId, day }) => sessionId ?? day));
    return { kind: "blocked", blocks };
  }
  return { kind: "free" };
}
