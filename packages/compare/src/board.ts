import { INTENTS, type PlayerAxes } from "@underfoot/domain";
import { holm, type Looks, type Streams, type UsualBand, usualBand, type Withheld } from "@underfoot/statistics";
import { type BoardLie, boardLieOf, boardLies } from "./board-lies.ts";
import { columnValues, meanOfKnown } from "./column-values.ts";
import { type ComparedCurveRow, comparedCurves } from "./compared-curves.ts";
import type { ComparedLabel, ComparedShot } from "./compared-shot.ts";
import { type ComparisonPlan, designOf } from "./design.ts";
import { differenceOf, familyP, type JudgeOptions, judgementOf } from "./judged-family.ts";
import { type MeanEvents, meanEvents } from "./mean-events.ts";
import type { Judgement, RowOfMeasure } from "./measure-row.ts";
import type { Notice } from "./notices.ts";
import { registrationOf } from "./registered-shots.ts";
import { rowOf } from "./row-of-measure.ts";
import { checkedPlayer, countedShots } from "./shots-in-order.ts";
import { bandShots, type UsualCurve, usualCurve } from "./usual.ts";

/** Below 5 kept shots nothing is said. */
const LEAST_FOR_WORDS = 5;

/** A cell against the same intent on the flat. */
export interface AgainstFlat extends Judgement {
  /** Cell minus flat, with the slope's share in it. */
  readonly raw: Judgement["freed"];
  readonly slopeShare: number;
  /** Where the cell's mean must lie to be within scatter: flat's mean and the slope's share in the middle; NaN where not known. */
  readonly allowedLow: number;
  readonly allowedHigh: number;
  readonly notices: readonly Notice[];
}

/** One intent on one lie. */
export interface BoardCell {
  readonly intent: string;
  readonly lie: string;
  /** `not-hit`: no shot; `only-mishits`: none that counts; `too-few`: fewer than 5 that count. */
  readonly state: "ok" | "not-hit" | "too-few" | "only-mishits";
  readonly tally: Readonly<Record<ComparedLabel, number>>;
  readonly shotIds: readonly string[];
  /** Of the measure: how many values, and their mean; NaN where there is none. */
  readonly n: number;
  readonly mean: number;
  readonly values: readonly number[];
  readonly usual: UsualBand | Withheld;
  /** Mean of what gravity alone explains here; 0 where nothing. */
  readonly slopeShare: number;
  /** Of the shots that count, ms from impact. */
  readonly eventsMs: MeanEvents;
  /** Of the curve of the board, where it was asked for and shots have it. */
  readonly curve?: UsualCurve;
  /** Absent on the flat, and where either has no shots that count. */
  readonly againstFlat?: AgainstFlat;
  /** The cell's curve against the flat's: a picture; its stretches are not given, since the cells' curves are no family. */
  readonly curveAgainstFlat?: ComparedCurveRow;
  readonly strikes: readonly {
    readonly shotId: string;
    readonly label: ComparedLabel;
    readonly strikeMm?: readonly [number, number];
    readonly contact?: string;
  }[];
}

/** Intents down, lies across from down to up, one measure on one scale. */
export interface Board extends RowOfMeasure {
  readonly kind: "board";
  readonly intents: readonly string[];
  readonly lies: readonly BoardLie[];
  readonly cells: readonly BoardCell[];
  /** Clubs of the shots: more than one is to be said. */
  readonly clubs: readonly string[];
  readonly grid: { readonly kind: "impact" | "events"; readonly firstMs: number; readonly stepMs: number };
  readonly looks: Looks;
  readonly levelOfOne: number;
  readonly seed: number;
}

export interface BoardOptions {
  /** Of one player. */
  readonly shots: readonly ComparedShot[];
  readonly measure: string;
  readonly curve?: string | undefined;
  readonly axes: PlayerAxes;
  readonly registration?: "impact" | "events";
  readonly plan?: ComparisonPlan | undefined;
  readonly purpose?: "lesson" | "study";
  /** Intents and lies that a plan asks for and that may have no shot yet. */
  readonly planned?: readonly { readonly intent: string; readonly lieName: string }[];
  readonly times?: number;
  readonly seed: number;
  readonly streams: Streams;
}

function intentsOf({ shots, planned = [] }: BoardOptions): readonly string[] {
  const all = new Set([
    ...shots.flatMap(({ intent }) => (intent === undefined ? [] : [intent])),
    ...planned.map(({ intent }) => intent),
  ]);
  const place = (intent: string): number => {
    const at = (INTENTS as readonly string[]).indexOf(intent);
    return at < 0 ? INTENTS.length : at;
  };
  return [...all].toSorted((one, other) => place(one) - place(other) || (one < other ? -1 : 1));
}

function bareCell(o: BoardOptions, intent: string, lie: BoardLie, looks: Looks): BoardCell {
  const shots = o.shots.filter((shot) => shot.intent === intent && boardLieOf(shot) === lie.key);
  const counted = bandShots({ name: intent, shots });
  const countOf = (label: ComparedLabel): number => shots.filter((shot) => shot.label === label).length;
  const values = counted.map(({ measures }) => measures.get(o.measure)?.value ?? Number.NaN);
  const share = meanOfKnown(counted.map(({ measures }) => measures.get(o.measure)?.slopeShare ?? 0));
  const state =
    shots.length === 0
      ? "not-hit"
      : counted.length === 0
        ? "only-mishits"
        : counted.length < LEAST_FOR_WORDS
          ? "too-few"
          : "ok";
  const curved = o.curve === undefined ? [] : counted.filter(({ curves }) => curves?.has(o.curve ?? ""));
  const registration = curved.length === 0 ? undefined : registrationOf(curved, o.registration ?? "impact");
  const curve = registration === undefined ? undefined : usualCurve(curved, o.curve ?? "", registration);
  const { band: _, ...usual } = curve ?? { band: undefined };
  return {
    ...{ intent, lie: lie.key, state, values },
    tally: {
      ...{ kept: countOf("kept"), mishit: countOf("mishit") },
      ...{ "set-aside": countOf("set-aside"), invalid: countOf("invalid") },
    },
    shotIds: shots.map(({ shotId }) => shotId),
    n: values.filter((value) => !Number.isNaN(value)).length,
    mean: meanOfKnown(values),
    usual: usualBand(values, { looks }),
    eventsMs: meanEvents(counted),
    slopeShare: Number.isNaN(share) ? 0 : share,
    ...(curve === undefined ? {} : { curve: usual as UsualCurve }),
    strikes: shots.flatMap(({ shotId, label, result }) => {
      const { strikeMm, contact } = result ?? {};
      if (strikeMm === undefined && contact === undefined) return [];
      return [{ shotId, label, ...(strikeMm ? { strikeMm } : {}), ...(contact ? { contact } : {}) }];
    }),
  };
}

/** The board: every cell by itself, and against the same intent on the flat in one family over the cells (Holm). */
export function boardOf(o: BoardOptions): Board {
  checkedPlayer(o.shots);
  const [intents, lies] = [intentsOf(o), boardLies(o.shots, o.planned)];
  const flat = lies.filter(({ isFlat }) => isFlat).toSorted((one, other) => steepness(one) - steepness(other))[0];
  const countPairs = flat === undefined ? 0 : intents.length * (lies.length - 1);
  const looks: Looks = { countMeasures: 1, countPairs: Math.max(1, countPairs), times: o.times ?? 1 };
  const bare = intents.flatMap((intent) => lies.map((lie) => bareCell(o, intent, lie, looks)));
  const kind = o.registration ?? "impact";
  const clubs = [...new Set(o.shots.flatMap(({ club }) => (club === undefined ? [] : [club])))].sort();
  return {
    kind: "board",
    ...rowOf(o.measure),
    intents,
    lies,
    cells: flat === undefined ? bare : againstFlat(bare, flat, o, looks),
    clubs,
    grid: { kind, firstMs: -700, stepMs: 2 },
    looks,
    levelOfOne: 0.95,
    seed: o.seed,
  };
}

const steepness = ({ pitchDeg = 0, rollDeg = 0 }: BoardLie): number => Math.hypot(pitchDeg, rollDeg);

function againstFlat(cells: readonly BoardCell[], flat: BoardLie, o: BoardOptions, looks: Looks): readonly BoardCell[] {
  const { plan, purpose = "lesson" } = o;
  const shotsOf = (cell: BoardCell): readonly ComparedShot[] =>
    countedShots(o.shots.filter(({ shotId }) => cell.shotIds.includes(shotId)));
  const judged = cells.map((cell) => {
    const other = cells.find(({ intent, lie }) => intent === cell.intent && lie === flat.key);
    if (cell.lie === flat.key || other === undefined || other.n === 0 || cell.n === 0) return undefined;
    const design = designOf(shotsOf(other), shotsOf(cell), { plan, purpose });
    const options: JudgeOptions = {
      ...{ seed: o.seed, streams: o.streams, looks, isPlannedLook: false, margins: new Map() },
      nameA: `${cell.intent} ${flat.key}`,
      nameB: `${cell.intent} ${cell.lie}`,
    };
    const values = columnValues(design, o.measure);
    const [found] = familyP(design, [o.measure], { columns: [values], options, family: "board" });
    return found === undefined ? undefined : { design, options, values, found, flatMean: other.mean, other };
  });
  const known = judged.flatMap((one, k) => (one === undefined || Number.isNaN(one.found.p) ? [] : [k]));
  const adjusted = holm(known.map((k) => judged[k]!.found.p));
  return cells.map((cell, k) => {
    const one = judged[k];
    if (one === undefined) return cell;
    const place = known.indexOf(k);
    const found =
      place < 0
        ? one.found
        : {
            ...one.found,
            adjustedP: adjusted[place]!,
            adjustedBy: "holm" as const,
            smallestP: Math.min(1, one.found.smallestP * known.length),
          };
    const judgement = judgementOf(one.design, o.measure, { ...one, found });
    const slopeShare = one.design.isBetweenLies ? cell.slopeShare - one.other.slopeShare : 0;
    const { freed } = judgement;
    const half = freed.kind === "withheld" ? Number.NaN : (freed.high - freed.low) / 2;
    const curves = o.curve === undefined ? [] : curvesAgainst(one, o, looks);
    return {
      ...cell,
      againstFlat: {
        ...judgement,
        raw: differenceOf(one.design, one.values.withShare, { looks, nullDifference: slopeShare }),
        slopeShare,
        allowedLow: one.flatMean + slopeShare - half,
        allowedHigh: one.flatMean + slopeShare + half,
        notices: one.design.notices,
      },
      ...(curves[0] === undefined ? {} : { curveAgainstFlat: curves[0] }),
    };
  });
}

function curvesAgainst(
  one: { readonly design: ReturnType<typeof designOf>; readonly options: JudgeOptions },
  o: BoardOptions,
  looks: Looks,
): readonly ComparedCurveRow[] {
  const side = (g: number): readonly ComparedShot[] => one.design.shots.filter((_, k) => one.design.groups[k] === g);
  const { plan, purpose = "lesson" } = o;
  const asked = { columns: [o.curve ?? ""], registration: o.registration ?? "impact" };
  const { curves } = comparedCurves(side(0), side(1), asked, { ...one.options, looks, plan, purpose });
  return curves.map((curve) => ({ ...curve, stretches: [] }));
}
