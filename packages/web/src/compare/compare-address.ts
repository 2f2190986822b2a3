import { CURVES } from "@underfoot/compare";
import type { PlayerAxes } from "@underfoot/domain";
import { type SideQuery, sideFromText, sideText } from "./choose/side-query.ts";

/** How curves are brought to one time scale, and which of their two views is looked at. */
type Registration = "impact" | "events";
type CurveView = "stretches" | "clusters";
/** The short list of measures, or every one of the catalogue. */
type MeasureList = "few" | "all";

/** The pairs that fall beside each other until others are chosen; on a phone the first two. */
const FIRST_CURVES = ["both.target", "lead.share", "both.speedTarget"] as const;

/** What the page is asked to compare, and how it is looked at. */
export interface CompareAsk {
  /** Absent: nothing chosen yet. */
  readonly a: SideQuery | undefined;
  readonly b: SideQuery | undefined;
  /** Parts of the address that are no side; they are said, never guessed at. */
  readonly unread: readonly string[];
  readonly axes: PlayerAxes;
  readonly registration: Registration;
  readonly view: CurveView;
  readonly measures: MeasureList;
  /** Curves by name, one a pair. */
  readonly curves: readonly string[];
  /** Ways in which this very comparison was looked at so far, the present one among them. Each is a look. */
  readonly looked: readonly string[];
}

type Query = Readonly<Record<string, string>>;

const oneOf = <T extends string>(word: string | undefined, words: readonly [T, ...T[]]): T =>
  words.find((known) => known === word) ?? words[0];

type How = Pick<CompareAsk, "registration" | "view" | "measures" | "curves">;

const areFirst = (curves: readonly string[]): boolean => curves.join() === FIRST_CURVES.join();

/** One look: the order of the pairs makes no other. */
function lookOf({ registration, view, measures, curves }: How): string {
  const others = areFirst(curves) ? [] : [curves.toSorted().join("+")];
  return [registration, view, measures, ...others].join("~");
}

/** Known curves, each once; the first ones where none is named. */
function curvesOf(text: string | undefined): readonly string[] {
  const named = [...new Set((text ?? "").split(","))].filter((name) => CURVES.some(({ id }) => id === name));
  return named.length === 0 ? FIRST_CURVES : named.slice(0, FIRST_CURVES.length);
}

/** What an address asks for. What is left out: turf axes, time from impact, stretches, the short list of measures. */
export function askFromQuery(query: Query): CompareAsk {
  const sides = (["a", "b"] as const).map((name) =>
    query[name] === undefined ? undefined : sideFromText(query[name]),
  );
  const how = {
    registration: oneOf(query["registration"], ["impact", "events"]),
    view: oneOf(query["view"], ["stretches", "clusters"]),
    measures: oneOf(query["measures"], ["few", "all"]),
    curves: curvesOf(query["curves"]),
  };
  const before = (query["looked"] ?? "").split(",").filter((look) => look !== "");
  return {
    a: sides[0],
    b: sides[1],
    unread: (["a", "b"] as const).filter((name, k) => query[name] !== undefined && sides[k] === undefined),
    axes: oneOf(query["axes"], ["turf", "level"]),
    ...how,
    looked: [...new Set([...before, lookOf(how)])],
  };
}

/** The query of an address. Other ways of looking at the same two sides add to the looks; other sides begin anew. */
export function queryFromAsk(ask: CompareAsk): Record<string, string | undefined> {
  const { a, b, axes, registration, view, measures, curves } = ask;
  const looked = [...new Set([...ask.looked, lookOf(ask)])];
  return {
    a: a && sideText(a),
    b: b && sideText(b),
    axes,
    registration: registration === "impact" ? undefined : registration,
    view: view === "stretches" ? undefined : view,
    measures: measures === "few" ? undefined : measures,
    curves: areFirst(curves) ? undefined : curves.join(","),
    looked: looked.length > 1 ? looked.join(",") : undefined,
  };
}

/** The same looked at in another way. */
export function askedWith(ask: CompareAsk, how: Partial<How & Pick<CompareAsk, "axes">>): CompareAsk {
  return { ...ask, ...how };
}

/** Two sides, looked at for the first time. */
export function askedOf(ask: CompareAsk, a: SideQuery | undefined, b: SideQuery | undefined): CompareAsk {
  return { ...ask, a, b, unread: [], looked: [] };
}

/** A and B the other way about: no new look. */
export function swapped(ask: CompareAsk): CompareAsk {
  return { ...ask, a: ask.b, b: ask.a };
}

/**
 * What is compared: two conditions, a shot with what is usual, or two shots; undefined where a side is missing or they do not go together.
 * A shot with what is usual stands behind it, whichever way about they are written.
 */
export function kindOfAsk({ a, b }: Pick<CompareAsk, "a" | "b">): "conditions" | "shot-usual" | "shots" | undefined {
  if (a === undefined || b === undefined) return undefined;
  const kinds = new Set([a.kind, b.kind]);
  if (a.kind === b.kind) return a.kind === "shots" ? "conditions" : a.kind === "shot" ? "shots" : undefined;
  if (!kinds.has("shot")) return undefined;
  const [shot, other] = a.kind === "shot" ? [a, b] : [b, a];
  const isOwn = other.kind !== "usual" || (shot.kind === "shot" && shot.shotId === other.shotId);
  return isOwn ? "shot-usual" : undefined;
}
