import type {
  Board,
  ComparedShot,
  Comparison,
  Outcome,
  ShotAgainstShot,
  ShotAgainstUsual,
  Study,
  Usual,
} from "@underfoot/compare";
import type { PlayerAxes, ShotsAsked } from "@underfoot/domain";
import { type RecordingStore, sha256Of } from "../disk/recording-store.ts";
import { libraryFaults } from "../faults.ts";
import type { Workshop } from "../history/deed.ts";
import type { LibrarySettings } from "../records/library-settings.ts";
import { type AskedShot, askedShots } from "./asked-shots.ts";
import {
  type BoardAsk,
  boardOptions,
  type ComparisonAsk,
  comparisonOptions,
  type Design,
  type OutcomeAsk,
  outcomeOptions,
  type StudyAsk,
  studyOptions,
  type UsualAsk,
  usualOptions,
  viewOf,
} from "./compare-ask.ts";
import type { CompareAnswer, CompareWork, PackedGroup } from "./compare-work.ts";
import { comparedShot, type PackedShot, packedShots, type ShotSaid } from "./computed-shot.ts";
import { type ComputedShots, type ComputeOptions, computedShots } from "./computed-shots.ts";
import { groupName, groupNames } from "./group-name.ts";
import { askedColumns, hitSessions } from "./hit-sessions.ts";
import { latelyUsed } from "./lately-used.ts";
import { planOfSessions } from "./session-blocks.ts";
import { type ThreadPool, threadPool } from "./thread-pool.ts";

export type CompareOptions = Pick<ComputeOptions, "signal" | "onProgress">;

/** Two conditions, a shot against the usual of a condition, or two shots. */
export type ComparisonAnswer = Comparison | ShotAgainstUsual | ShotAgainstShot;

/**
 * Shots as comparisons want them, and what is real of their differences: computed and compared in threads of their own, kept in memory. All take
 * plain data; no shots on a side, shots of several players and unknown measures are refused with the sentences of the room compare.
 */
export interface Compare {
  /** In the order they were hit. `curves` are columns: "both.target turf". */
  shots(asked: ShotsAsked, options?: ComputeOptions): Promise<readonly ComparedShot[]>;
  /** B minus A, with the design that the sessions' plans give and what they asked of measures. */
  comparison(ask: ComparisonAsk, options?: CompareOptions): Promise<ComparisonAnswer>;
  /** Where the next shot of a condition will fall. */
  usual(ask: UsualAsk, options?: CompareOptions): Promise<Usual>;
  /** Intents by lies, each against the same intent on the flat. */
  board(ask: BoardAsk, options?: CompareOptions): Promise<Board>;
  /** Results of shots against measures. */
  outcome(ask: OutcomeAsk, options?: CompareOptions): Promise<Outcome>;
  /** Whether something holds across players. */
  study(ask: StudyAsk, options?: CompareOptions): Promise<Study>;
}

/** Comparisons of a library, and what its keeper does with them. */
interface Comparing {
  readonly door: Compare;
  /** Nothing of a person who was forgotten stays in memory. */
  readonly forget: () => void;
  readonly close: () => Promise<void>;
}

const MOST_ANSWERS = 24;

interface Gathered {
  readonly asked: readonly AskedShot[];
  readonly group: PackedGroup;
}

interface Asking {
  readonly a: ShotsAsked;
  readonly b: ShotsAsked;
}

/** Two sides under names that tell them apart. */
function namedApart(ask: Asking, a: Gathered, b: Gathered): { readonly a: PackedGroup; readonly b: PackedGroup } {
  const foundOf = (asked: ShotsAsked, side: Gathered) => ({ asked, shots: side.asked.map(({ said }) => said) });
  const [nameA, nameB] = groupNames(foundOf(ask.a, a), foundOf(ask.b, b));
  return { a: { ...a.group, name: nameA }, b: { ...b.group, name: nameB } };
}

/** Maps are written as their entries. */
const keyText = (value: unknown): string =>
  JSON.stringify(value, (_, item: unknown) => (item instanceof Map ? [...item] : item));

const saidOf = (groups: readonly Gathered[]): readonly ShotSaid[] =>
  groups.flatMap(({ asked }) => asked.map(({ said }) => said));

/** The condition of a shot within its session. */
function conditionOf({ shotId, sessionId, intent, lieName, club }: ShotSaid): ShotsAsked {
  if (sessionId === undefined) return { shotIds: [shotId] };
  return {
    sessionId,
    ...(intent === undefined ? {} : { intent }),
    ...(lieName === undefined ? {} : { lieName }),
    ...(club === undefined ? {} : { club }),
  };
}

const isOneShot = ({ shotIds }: ShotsAsked): boolean => shotIds?.length === 1;

interface Bench {
  readonly gathered: (asked: ShotsAsked, options: ComputeOptions, withConsent?: "study") => Promise<Gathered>;
  /** The answer to the same question about shots that are still the same is the one given before. */
  readonly answer: <W extends CompareWork & { readonly options: unknown }>(
    work: W,
    about: readonly Gathered[],
    options: CompareOptions,
  ) => Promise<CompareAnswer<W["kind"]>>;
}

function bench({ catalogue: { db } }: Workshop, settings: LibrarySettings, pool: ThreadPool, kept: ComputedShots) {
  const answers = latelyUsed<unknown>(MOST_ANSWERS, () => 1);
  const made: Bench = {
    gathered: async (asked, options, withConsent) => {
      const shots = await askedShots(db, asked, await settings.mechanics(), withConsent);
      const computed = await kept.of(shots, options);
      const said = shots.map((shot) => shot.said);
      return { asked: shots, group: { name: groupName({ asked, shots: said }), shots: packedShots(said, computed) } };
    },
    answer: async (work, about, { signal }) => {
      const shots = about.map(({ asked, group }) => [group.name, asked.map(({ said, key }) => [said, key])]);
      const key = sha256Of(keyText([work.kind, work.options, shots]));
      const found = answers.get(key) as CompareAnswer<typeof work.kind> | undefined;
      if (found !== undefined) return found;
      const done = await pool.ask(work, { signal });
      answers.set(key, done);
      return done;
    },
  };
  return { ...made, forget: answers.clear };
}

/** One shot with its condition in its session: the scatter it is seen against. */
async function shotAndCondition(
  { gathered }: Bench,
  asked: ShotsAsked,
  options: ComputeOptions,
): Promise<{ readonly own: Gathered; readonly shot: PackedShot; readonly condition: Gathered }> {
  const own = await gathered(asked, options);
  const [shot] = own.group.shots;
  if (shot === undefined) throw new RangeError("a shot that is there was not computed");
  return { own, shot, condition: await gathered(conditionOf(shot.said), options) };
}

async function comparisonAnswer(
  at: Bench,
  ask: ComparisonAsk,
  {
    options,
    design,
  }: { readonly options: ComputeOptions; readonly design: (groups: readonly Gathered[]) => Promise<Design> },
): Promise<ComparisonAnswer> {
  const [isShotA, isShotB] = [isOneShot(ask.a), isOneShot(ask.b)];
  if (isShotA && isShotB) {
    const a = await shotAndCondition(at, ask.a, options);
    const b = await shotAndCondition(at, ask.b, options);
    const groups = [a.condition.group, b.condition.group] as const;
    const work = { kind: "shot-pair", a: a.shot, b: b.shot, groups, options: usualOptions(ask) } as const;
    return at.answer(work, [a.own, b.own, a.condition, b.condition], options);
  }
  const a = await at.gathered(ask.a, options);
  const b = await at.gathered(ask.b, options);
  if (isShotA || isShotB) {
    const [one, group] = isShotA ? [a, b] : [b, a];
    const [shot] = one.group.shots;
    if (shot === undefined) throw new RangeError("a shot that is there was not computed");
    return at.answer(
      { kind: "shot-usual", shot, group: group.group, options: usualOptions(ask) },
      [one, group],
      options,
    );
  }
  const all = comparisonOptions(ask, await design([a, b]));
  return at.answer({ kind: "comparison", ...namedApart(ask, a, b), options: all }, [a, b], options);
}

export function compare(workshop: Workshop, store: RecordingStore, settings: LibrarySettings): Comparing {
  const { db } = workshop.catalogue;
  const pool = threadPool();
  const kept = computedShots(store, pool);
  const at = bench(workshop, settings, pool, kept);
  /** Plan and asked measures of the sessions these shots come from. */
  const designOf = async (groups: readonly Gathered[], axes: PlayerAxes): Promise<Design> => {
    const said = saidOf(groups);
    const sessions = await hitSessions(db, said);
    const plan = planOfSessions(sessions);
    return { asked: askedColumns(sessions, said, axes), ...(plan ? { plan } : {}) };
  };
  return {
    door: {
      shots: async (asked, options = {}) =>
        (await at.gathered(asked, options)).group.shots.map(({ said, computed }) => comparedShot(said, computed)),
      comparison: (ask, options = {}) => {
        const { axes, curves } = viewOf(ask);
        const design = (groups: readonly Gathered[]): Promise<Design> => designOf(groups, axes);
        return comparisonAnswer(at, ask, { options: { ...options, curves }, design });
      },
      usual: async (ask, options = {}) => {
        const of = await at.gathered(ask.of, { ...options, curves: viewOf(ask).curves });
        return at.answer({ kind: "usual", group: of.group, options: usualOptions(ask, ask.without) }, [of], options);
      },
      board: async (ask, options = {}) => {
        const curves = ask.curve === undefined ? [] : [ask.curve];
        const of = await at.gathered(ask.of, { ...options, curves: viewOf({ ...ask, curves }).curves });
        const sessions = await hitSessions(db, saidOf([of]));
        const plan = planOfSessions(sessions);
        const planned = sessions.flatMap((session) => session.plan?.conditions ?? []);
        const all = boardOptions(ask, { planned, ...(plan ? { plan } : {}) });
        return at.answer({ kind: "board", group: of.group, options: all }, [of], options);
      },
      outcome: async (ask, options = {}) => {
        const of = await at.gathered(ask.of, options);
        return at.answer({ kind: "outcome", group: of.group, options: outcomeOptions(ask) }, [of], options);
      },
      study: async (ask, options = {}) => {
        const compute = { ...options, curves: viewOf(ask).curves };
        const a = await at.gathered(ask.a, compute, "study");
        const b = await at.gathered(ask.b, compute, "study");
        for (const { group } of [a, b]) if (group.shots.length === 0) throw libraryFaults.noneAgreed(group.name);
        return at.answer({ kind: "study", ...namedApart(ask, a, b), options: studyOptions(ask) }, [a, b], options);
      },
    },
    forget: () => {
      kept.forget();
      at.forget();
    },
    close: () => pool.close(),
  };
}
