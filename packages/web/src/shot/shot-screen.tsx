import type { PlayerAxes } from "@underfoot/domain";
import type { ShotEvent } from "@underfoot/mechanics";
import { type ReactElement, useCallback, useEffect, useMemo, useReducer, useState } from "react";
import { DropZone } from "../frame/drop-zone.tsx";
import { Frame } from "../frame/frame.tsx";
import type { Place } from "../frame/place.ts";
import type { Theme } from "../frame/theme.ts";
import { useKeys } from "../frame/use-keys.ts";
import { droppedFiles, type RefusedFile } from "./dropped-files.ts";
import { OpenShot } from "./open-shot.tsx";
import { type Outcomes, UnreadSource } from "./outcomes.ts";
import type { Ruler } from "./ruler.ts";
import { servedShots } from "./served-shots.ts";
import { canUndo, EMPTY_SESSION, entryOf, neighbourId, type SessionChange, sessionAfter } from "./session.ts";
import { SHOT_KEYS, type ShotDeed } from "./shot-keys.ts";
import { useOutcome } from "./use-outcome.ts";

export interface ShotScreenProps {
  readonly outcomes: Outcomes;
  readonly ruler: Ruler;
  readonly place: Place;
  readonly theme: Theme;
  readonly onTheme: () => void;
}

/** What became of the server's recordings: asked for, there, or not to be had. */
type ServedState = "asked" | "there" | "none";

export function ShotScreen({ outcomes, ruler, place, theme, onTheme: cycleTheme }: ShotScreenProps): ReactElement {
  const [session, change] = useReducer(sessionAfter, EMPTY_SESSION);
  const served = useServedShots(change);
  const [refused, setRefused] = useState<readonly RefusedFile[]>([]);
  const [axes, setAxes] = useState<PlayerAxes>("turf");
  const [isMarking, setIsMarking] = useState(false);
  const [attempt, tryAgain] = useReducer((count: number) => count + 1, 0);
  const onFiles = useCallback((files: readonly File[]) => {
    const dropped = droppedFiles(files);
    setRefused(dropped.refused);
    setIsMarking(false);
    if (dropped.sources.length > 0) change({ kind: "added", sources: dropped.sources, isOpened: true });
  }, []);
  const source = session.sources.find((candidate) => candidate.id === session.openId);
  const entry = entryOf(session, session.openId);
  const unmarked = useMemo(() => ({ ...entry, marks: [] }), [entry]);
  const shown = useOutcome(outcomes, source, entry, attempt);
  const before = useOutcome(outcomes, entry.marks.length > 0 ? source : undefined, unmarked, attempt);
  const shot = shown.outcome?.status === "ok" ? shown.outcome : undefined;
  const open = (id: string | undefined): void => {
    setIsMarking(false);
    if (id !== undefined) change({ kind: "opened", id });
  };
  const deeds: Readonly<Record<ShotDeed, () => void>> = {
    ...rulerDeeds(ruler, shot?.shot.events ?? []),
    previousShot: () => open(neighbourId(session, -1)),
    nextShot: () => open(neighbourId(session, 1)),
    mark: () => setIsMarking(shot !== undefined),
    undo: () => change({ kind: "undone" }),
    axes: () => setAxes(axes === "turf" ? "level" : "turf"),
    keep: () => undefined,
    mishit: () => undefined,
    setAside: () => undefined,
    note: () => undefined,
  };
  useKeys(SHOT_KEYS, deeds);
  const inputs = { session, source, shown, before: before.outcome, served, refused, axes, ruler, isMarking };
  const acts = { onAxes: deeds.axes, onMarking: setIsMarking, onUndo: deeds.undo, onOpen: open, onChange: change };
  return (
    <Frame
      keys={SHOT_KEYS}
      isBusy={shown.isBusy || served === "asked"}
      {...{ place, shown: shot, theme, onFiles }}
      onTheme={cycleTheme}
    >
      <OpenShot {...inputs} {...acts} canUndo={canUndo(session)} onStop={outcomes.stop} onTryAgain={tryAgain} />
      <DropZone onFiles={onFiles} />
    </Frame>
  );
}

/** The recordings of the server, if one serves this page. */
function useServedShots(change: (change: SessionChange) => void): ServedState {
  const [served, setServed] = useState<ServedState>("asked");
  useEffect(() => {
    void servedShots().then(
      (sources) => {
        change({ kind: "added", sources, isOpened: false });
        setServed(sources.length > 0 ? "there" : "none");
      },
      (fault: unknown) => {
        if (!(fault instanceof UnreadSource)) throw fault;
        setServed("none");
      },
    );
  }, [change]);
  return served;
}

/** Steps of the ruler by frames and to the neighbouring events. */
function rulerDeeds(ruler: Ruler, events: readonly ShotEvent[]) {
  const step = (frames: number) => (): void => ruler.move(ruler.timeS() + frames * ruler.limits().frameS);
  const times = events.map((event) => event.timeS).sort((a, b) => a - b);
  const half = (): number => ruler.limits().frameS / 2;
  const toEvent = (timeS: number | undefined): void => {
    if (timeS !== undefined) ruler.move(timeS);
  };
  return {
    earlier: step(-1),
    later: step(1),
    tenEarlier: step(-10),
    tenLater: step(10),
    previousEvent: () => toEvent(times.findLast((timeS) => timeS < ruler.timeS() - half())),
    nextEvent: () => toEvent(times.find((timeS) => timeS > ruler.timeS() + half())),
  };
}
