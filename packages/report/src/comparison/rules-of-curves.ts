import type { ComparedCurveRow, ComparedCurves } from "@underfoot/compare";
import type { CurveStretch } from "@underfoot/statistics";
import { signedMs } from "../time-text.ts";
import { countInput, differenceInput, estimateText, pInput, pText, shotCounts } from "./estimate-text.ts";
import { titleInside } from "./measure-words.ts";
import type { WordedRule } from "./worded-rule.ts";

interface CurveWords {
  readonly title: string;
  readonly unit: string;
}

/** A stretch of one curve beyond scatter. */
export interface StretchFacts {
  readonly curve: CurveWords;
  /** With the slope's share in it. */
  readonly stretch: CurveStretch & { readonly slopeShare: number };
  readonly nameB: string;
  readonly isExact: boolean;
  readonly countArrangements: number;
}

/** Where two mean curves differ, and by how much at most. */
export const STRETCH_RULE: WordedRule<StretchFacts> = {
  id: "curve-beyond",
  condition:
    "Five shots a side or more; a stretch in which the largest t over all curves and instants and the simultaneous interval both leave scatter (between lies: the slope’s share).",
  templates: [
    "From {from} to {to} ms {measure} is {higher|lower} in {B}, by up to {d} at {at} ms ({interval}).",
    "From {from} to {to} ms {measure} is {higher|lower} in {B} than the slope’s share of {share} gives, by up to {d} at {at} ms ({interval}).",
  ],
  maySay: () => true,
  filled: ({ curve, stretch, nameB, isExact, countArrangements }) => {
    const { slopeShare, difference, low, high, fromMs, toMs, atMs, p } = stretch;
    const freed = { value: difference - slopeShare, low: low - slopeShare, high: high - slopeShare };
    const { size, along } = estimateText(freed, curve.unit);
    const spread = (high - low) / 2;
    const share = estimateText({ value: slopeShare, low: slopeShare - spread, high: slopeShare + spread }, curve.unit);
    return {
      template: slopeShare === 0 ? 0 : 1,
      slots: {
        from: signedMs(fromMs),
        to: signedMs(toMs),
        at: signedMs(atMs),
        measure: titleInside(curve.title),
        "higher|lower": freed.value > 0 ? "higher" : "lower",
        B: nameB,
        d: size,
        interval: along,
        share: share.signed,
      },
      inputs: [
        differenceInput(`${curve.title}, largest difference`, freed, curve.unit),
        pInput(`p (${pText(p, { isExact, countArrangements })})`, p),
      ],
    };
  },
};

export interface ClusterFacts {
  readonly cluster: NonNullable<ComparedCurveRow["clusters"]>[number];
  readonly curve: ComparedCurveRow;
  readonly curves: ComparedCurves;
}

/** The second view: that curves differ, not where. */
export const CLUSTER_RULE: WordedRule<ClusterFacts> = {
  id: "curve-cluster",
  condition: "No stretch beyond scatter in this curve, p of the cluster’s mass at most 0.05. Says that, not where.",
  templates: ["Somewhere between about {from} and {to} ms {measure} differs (p {p}); the limits are not exact."],
  maySay: ({ cluster, curve, curves }) =>
    curves.status === "judged" && curve.stretches.length === 0 && cluster.p <= 0.05,
  filled: ({ cluster, curve, curves }) => ({
    slots: {
      from: signedMs(cluster.fromMs),
      to: signedMs(cluster.toMs),
      measure: titleInside(curve.title),
      p: pText(cluster.p, { isExact: curves.arrangements === "exact", countArrangements: curves.countArrangements }),
    },
    inputs: [pInput("p of the cluster’s mass", cluster.p)],
  }),
};

const WITHHELD: Readonly<Partial<Record<NonNullable<ComparedCurves["reason"]>, string>>> = {
  "lie-once": "a lie was visited once, so lie and time cannot be told apart",
  "order-confounded": "order and condition cannot be told apart here",
  "impact-estimated": "between lies an estimated impact may itself have moved; mark it, or use a trigger or the sound",
  "no-common-events": "the shots have too few events in common",
  dependent: "no session holds both sides",
  "no-scatter": "the curves do not vary",
};

/** What is said of all curves together where there is no stretch. */
export const CURVES_RULES: readonly WordedRule<{ readonly curves: ComparedCurves }>[] = [
  {
    id: "curves-too-few",
    condition: "Fewer than five shots a side have the curves.",
    templates: ["Curves of {shots}: too few to tell. Words need 5 of each."],
    maySay: ({ curves }) => curves.status === "too-few",
    filled: ({ curves: { n } }) => ({
      slots: { shots: shotCounts(n[0], n[1]) },
      inputs: [countInput("shots of A", n[0]), countInput("shots of B", n[1])],
    }),
  },
  {
    id: "curves-withheld",
    condition: "Order, lie, sessions or an estimated impact forbid a verdict.",
    templates: ["The curves are drawn without a verdict: {reason}."],
    maySay: ({ curves }) => curves.status === "withheld",
    filled: ({ curves: { reason = "incomplete" } }) => ({
      slots: { reason: WITHHELD[reason] ?? "some shots lack them" },
      inputs: [],
    }),
  },
  {
    id: "curves-unreachable",
    condition: "The smallest p that so many labellings can give exceeds the level.",
    templates: ["{shots} cannot show a difference between curves, however large."],
    maySay: ({ curves }) => curves.status === "judged" && curves.findings.includes("unreachable"),
    filled: ({ curves: { n, smallestP } }) => ({
      slots: { shots: shotCounts(n[0], n[1]) },
      inputs: [pInput("smallest p", smallestP)],
    }),
  },
  {
    id: "curve-within",
    condition: "No stretch in any curve that was looked at.",
    templates: [
      "At no instant do the curves differ beyond scatter.",
      "At no instant do the curves differ beyond scatter and the slope’s share.",
    ],
    maySay: ({ curves }) =>
      curves.status === "judged" &&
      !curves.findings.includes("unreachable") &&
      curves.curves.every(({ stretches }) => stretches.length === 0),
    filled: ({ curves }) => ({
      template: curves.curves.some(({ slopeShare }) => slopeShare.some((share) => share !== 0)) ? 1 : 0,
      slots: {},
      inputs: [countInput("curves", curves.curves.length), pInput("p of the largest difference", curves.p)],
    }),
  },
  {
    id: "unequal-scatter",
    condition: "The sides scatter differently in some curve: median ratio of their sds outside 0.67 to 1.5.",
    templates: ["The sides scatter differently in {count}: the interval decides there, not the labels alone."],
    maySay: ({ curves }) => curves.curves.some(({ findings }) => findings.includes("unequal-scatter")),
    filled: ({ curves }) => {
      const count = curves.curves.filter(({ findings }) => findings.includes("unequal-scatter")).length;
      return { slots: { count: count === 1 ? "1 curve" : `${count} curves` }, inputs: [countInput("curves", count)] };
    },
  },
  {
    id: "events-registered",
    condition: "Curves were brought to one time scale by their events.",
    templates: [
      "Timing is taken out of these curves: {events} lie at one place in all shots. Compare times as measures.",
    ],
    maySay: ({ curves }) => curves.registration.kind === "events" && curves.registration.events.length > 0,
    filled: ({ curves }) => ({ slots: { events: curves.registration.events.join(", ") }, inputs: [] }),
  },
];
