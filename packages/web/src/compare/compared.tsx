import type { PlayerShape } from "@underfoot/protocol";
import { type ReactElement, type ReactNode, useMemo, useState } from "react";
import { LongWait } from "../frame/long-wait.tsx";
import { useKeys } from "../frame/use-keys.ts";
import { useEscapeFromSentence } from "../shot/reading-view.tsx";
import { ruler as newRuler, type Ruler } from "../shot/ruler.ts";
import type { CountedShot } from "./choose/shot-counts.ts";
import { sideHeads } from "./choose/side-heads.ts";
import { sideText } from "./choose/side-query.ts";
import { askedWith, type CompareAsk, type kindOfAsk, swapped } from "./compare-address.ts";
import { RULER_KEYS, type RulerDeed, SIDES_KEYS, type SidesDeed } from "./compare-keys.ts";
import { ComparisonHead } from "./comparison-head.tsx";
import { comparisonWords } from "./comparison-words.ts";
import { type DrawnComparison, drawnComparison } from "./drawn-comparison.ts";
import { rulerMs, rulerTimeS } from "./pairs/pair-ruler.tsx";
import { ShownComparison } from "./shown-comparison.tsx";
import { useComparison } from "./use-comparison.ts";

export interface ComparedProps {
  readonly ask: CompareAsk;
  readonly kind: NonNullable<ReturnType<typeof kindOfAsk>>;
  readonly player: PlayerShape;
  /** Of the player; undefined while they are on their way. */
  readonly shots: readonly CountedShot[] | undefined;
  readonly onAsk: (ask: CompareAsk) => void;
  readonly choice: ReactNode;
}

/** Two sides, what is said of them, and the pictures that show it. */
export function Compared(props: ComparedProps): ReactElement {
  const { ask, kind, shots, onAsk, choice } = props;
  const [isPlanShown, setIsPlanShown] = useState(false);
  const heads = sideHeads(ask, shots ?? []);
  const canSwap = kind !== "shot-usual";
  const deeds = {
    swap: () => canSwap && onAsk(swapped(ask)),
    axes: () => onAsk(askedWith(ask, { axes: ask.axes === "turf" ? "level" : "turf" })),
    plan: () => setIsPlanShown(!isPlanShown),
  } satisfies Record<SidesDeed, () => void>;
  useKeys(SIDES_KEYS, deeds);
  useEscapeFromSentence();
  const sides = [ask.a, ask.b].map((side) => (side === undefined ? "" : sideText(side))).join(" ");
  return (
    <>
      <ComparisonHead
        {...heads}
        {...{ axes: ask.axes, canSwap, isPlanShown, choice }}
        onSwap={deeds.swap}
        onAxes={deeds.axes}
        onPlan={deeds.plan}
      />
      {/* Of other sides nothing stays: a picture must not stand under names that are not its own. */}
      <Answer key={sides} {...props} isPlanShown={isPlanShown} condition={heads.condition} />
    </>
  );
}

interface AnswerProps extends ComparedProps {
  readonly isPlanShown: boolean;
  /** Of single shots, in words. */
  readonly condition: string;
}

/** What the server answers for these two sides. */
function Answer({ ask, player, shots, isPlanShown, condition }: AnswerProps): ReactElement {
  const { compared, answered } = useComparison(ask, shots);
  const [ruler] = useState(() => newRuler((draw) => requestAnimationFrame(draw)));
  const drawn = useMemo(() => compared && drawnComparison(compared), [compared]);
  const words = useMemo(
    () => compared && comparisonWords(compared, player.pronoun, condition),
    [compared, player.pronoun, condition],
  );
  useKeys(RULER_KEYS, rulerDeeds(ruler, drawn));
  const isWithheld = answered.isStopped || (answered.fault !== undefined && !answered.isBusy);
  return (
    <div className="compared" aria-busy={answered.isBusy}>
      <LongWait answered={answered} words="Computing the shots and comparing them." deed="Compare" />
      {compared === undefined || drawn === undefined || words === undefined || isWithheld ? null : (
        <ShownComparison {...{ ask, compared, drawn, words, ruler, player, isPlanShown }} shots={shots ?? []} />
      )}
    </div>
  );
}

/** Steps of the ruler by points of the grid and to the neighbouring events. */
function rulerDeeds(ruler: Ruler, drawn: DrawnComparison | undefined): Record<RulerDeed, () => void> {
  const step = (points: number) => (): void => ruler.move(ruler.timeS() + points * ruler.limits().frameS);
  const times = (drawn?.events ?? []).map(({ ms }) => ms).sort((one, other) => one - other);
  const toEvent = (find: (now: number, near: number) => number | undefined) => (): void => {
    if (drawn === undefined) return;
    const ms = find(rulerMs(ruler, drawn.grid), drawn.grid.stepMs);
    if (ms !== undefined) ruler.move(rulerTimeS(ms, drawn.grid));
  };
  return {
    ...{ earlier: step(-1), later: step(1), tenEarlier: step(-10), tenLater: step(10) },
    previousEvent: toEvent((now, near) => times.findLast((ms) => ms < now - near)),
    nextEvent: toEvent((now, near) => times.find((ms) => ms > now + near)),
  };
}
