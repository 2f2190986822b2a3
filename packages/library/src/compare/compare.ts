import { type ComparedShot, type Comparison, type ComparisonOptions, curveColumn } from "@underfoot/compare";
import type { PlayerAxes, ShotsAsked } from "@underfoot/domain";
import type { RecordingStore } from "../disk/recording-store.ts";
import { sha256Of } from "../disk/recording-store.ts";
import type { Workshop } from "../history/deed.ts";
import type { LibrarySettings } from "../records/library-settings.ts";
import { type AskedShot, askedShots } from "./asked-shots.ts";
import type { CompareAnswer, CompareWork, PackedGroup } from "./compare-work.ts";
import { comparedShot, packedShots } from "./computed-shot.ts";
import { type ComputeOptions, computedShots } from "./computed-shots.ts";
import { groupName } from "./group-name.ts";
import { askedColumns, hitSessions, measureColumn } from "./hit-sessions.ts";
import { latelyUsed } from "./lately-used.ts";
import { planOfSessions } from "./session-blocks.ts";
import { threadPool } from "./thread-pool.ts";

/** What every question may say. */
interface ViewAsk {
  /** turf where left out. */
  readonly axes?: PlayerAxes | undefined;
  /** Ids or columns; left out: every measure of the catalogue. */
  readonly measures?: readonly string[] | undefined;
  /** Names or columns of curves; left out: none. */
  readonly curves?: readonly string[] | undefined;
  readonly registration?: "impact" | "events" | undefined;
  /** The same seed gives the same answer; 1 where left out. */
  readonly seed?: number | undefined;
  /** How often these shots were looked at, this time included; 1 where left out. */
  readonly times?: number | undefined;
}

/** Condition against condition: A is the reference. */
export interface ComparisonAsk extends ViewAsk {
  readonly a: ShotsAsked;
  readonly b: ShotsAsked;
  readonly withClusters?: boolean | undefined;
  /** Measures named before the session. */
  readonly primary?: readonly string[] | undefined;
  /** Smallest difference that would matter, set before, by measure. */
  readonly margins?: Readonly<Record<string, number>> | undefined;
  readonly purpose?: "lesson" | "study" | undefined;
  /** Looks that were planned at equal steps. */
  readonly isPlannedLook?: boolean | undefined;
}

export type CompareOptions = Pick<ComputeOptions, "signal" | "onProgress">;

/** Shots as comparisons want them, and what is real of their differences: in threads of their own, kept in memory. */
export interface Compare {
  /** In the order they were hit. */
  shots(asked: ShotsAsked, options?: ComputeOptions): Promise<readonly ComparedShot[]>;
  /** B minus A, with the design that the sessions' plans give and what they asked of measures. */
  comparison(ask: ComparisonAsk, options?: CompareOptions): Promise<Comparison>;
}

const DEFAULT_SEED = 1;
const MOST_ANSWERS = 24;

interface Gathered {
  readonly asked: readonly AskedShot[];
  readonly group: PackedGroup;
}

/** Two sides that are asked for by the same words get a letter each. */
function namedApart(a: PackedGroup, b: PackedGroup): readonly [PackedGroup, PackedGroup] {
  if (a.name !== b.name) return [a, b];
  return [
    { ...a, name: `${a.name}, A` },
    { ...b, name: `${b.name}, B` },
  ];
}

/** Columns in the axes asked for. */
function viewOf(ask: ViewAsk) {
  const { axes = "turf", measures, curves = [], registration = "impact", seed = DEFAULT_SEED, times = 1 } = ask;
  return {
    ...{ axes, registration, seed, times },
    measures: measures?.map((name) => measureColumn(name, axes)),
    curves: curves.map((name) => curveColumn(name, axes)),
  };
}

function comparisonOptions(ask: ComparisonAsk, design: Design): WorkOptions<"comparison"> {
  const { primary = [], margins = {}, withClusters = false, purpose = "lesson", isPlannedLook = false } = ask;
  const { times, ...view } = viewOf(ask);
  return {
    ...view,
    ...design,
    ...{ withClusters, purpose },
    primary: primary.map((name) => measureColumn(name, view.axes)),
    margins: new Map(Object.entries(margins).map(([name, margin]) => [measureColumn(name, view.axes), margin])),
    looks: { times, kind: isPlannedLook ? "planned" : "unplanned" },
  };
}

type WorkOptions<K> = Extract<CompareWork, { readonly kind: K; readonly options: unknown }>["options"];
type Design = Pick<ComparisonOptions, "asked" | "plan">;

/** Maps are written as their entries. */
const keyText = (value: unknown): string =>
  JSON.stringify(value, (_, item: unknown) => (item instanceof Map ? [...item] : item));

/** Comparisons of a library, and what its keeper does with them. */
interface Comparing {
  readonly door: Compare;
  /** Nothing of a person who was forgotten stays in memory. */
  readonly forget: () => void;
  readonly close: () => Promise<void>;
}

export function compare(workshop: Workshop, store: RecordingStore, settings: LibrarySettings): Comparing {
  const { db } = workshop.catalogue;
  const pool = threadPool();
  const kept = computedShots(store, pool);
  const answers = latelyUsed<unknown>(MOST_ANSWERS, () => 1);

  const gathered = async (asked: ShotsAsked, options: ComputeOptions): Promise<Gathered> => {
    const shots = await askedShots(db, asked, await settings.mechanics());
    const computed = await kept.of(shots, options);
    const said = shots.map((shot) => shot.said);
    return { asked: shots, group: { name: groupName(asked, said), shots: packedShots(said, computed) } };
  };
  /** The answer to the same question about shots that are still the same is the one given before. */
  const answer = async <W extends CompareWork & { readonly options: unknown }>(
    work: W,
    about: readonly Gathered[],
    { signal }: CompareOptions,
  ): Promise<CompareAnswer<W["kind"]>> => {
    const shots = about.map(({ asked, group }) => [group.name, asked.map(({ said, key }) => [said, key])]);
    const key = sha256Of(keyText([work.kind, work.options, shots]));
    const found = answers.get(key) as CompareAnswer<W["kind"]> | undefined;
    if (found !== undefined) return found;
    const made = await pool.ask(work, { signal });
    answers.set(key, made);
    return made;
  };
  /** Plan and asked measures of the sessions these shots come from. */
  const designOf = async (groups: readonly Gathered[], axes: PlayerAxes): Promise<Design> => {
    const said = groups.flatMap(({ asked }) => asked.map((shot) => shot.said));
    const sessions = await hitSessions(db, said);
    const plan = planOfSessions(sessions);
    return { asked: askedColumns(sessions, said, axes), ...(plan ? { plan } : {}) };
  };
  return {
    door: {
      shots: async (asked, options = {}) =>
        (await gathered(asked, options)).group.shots.map(({ said, computed }) => comparedShot(said, computed)),
      comparison: async (ask, options = {}) => {
        const { curves, axes } = viewOf(ask);
        const a = await gathered(ask.a, { ...options, curves });
        const b = await gathered(ask.b, { ...options, curves });
        const [groupA, groupB] = namedApart(a.group, b.group);
        const all = comparisonOptions(ask, await designOf([a, b], axes));
        return answer({ kind: "comparison", a: groupA, b: groupB, options: all }, [a, b], options);
      },
    },
    forget: () => {
      kept.forget();
      answers.clear();
    },
    close: () => pool.close(),
  };
}
