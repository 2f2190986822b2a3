import type { PlayerAxes } from "@underfoot/domain";
import type { ShotEvent } from "@underfoot/mechanics";
import { type ReactElement, useEffect, useMemo, useReducer, useRef, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { DropZone } from "../frame/drop-zone.tsx";
import { Frame } from "../frame/frame.tsx";
import { goTo, type Place, placeHref } from "../frame/place.ts";
import type { Theme } from "../frame/theme.ts";
import { useKeys } from "../frame/use-keys.ts";
import { droppedFiles, type RefusedFile } from "./dropped-files.ts";
import { OpenShot } from "./open-shot.tsx";
import type { FilesChange, OpenedFiles } from "./opened-files.ts";
import { openedFromLibrary, useOpenedFile } from "./opened-shot.ts";
import type { Outcomes } from "./outcomes.ts";
import { labelShot } from "./result-row.tsx";
import type { Ruler } from "./ruler.ts";
import { SHOT_KEYS, type ShotDeed } from "./shot-keys.ts";
import { stripFromFiles, stripFromLines } from "./strip-shots.ts";
import { useAsked } from "./use-asked.ts";
import { useOutcome } from "./use-outcome.ts";
import { useShotList } from "./use-shot-list.ts";
import { useStoredShot } from "./use-stored-shot.ts";

export interface ShotScreenProps {
  readonly outcomes: Outcomes;
  readonly ruler: Ruler;
  readonly place: Place;
  readonly theme: Theme;
  readonly onTheme: () => void;
  /** Dropped to be looked at; they outlive the screen. */
  readonly files: OpenedFiles;
  readonly onFilesChange: (change: FilesChange) => void;
}

/** One shot of the library, or of a dropped file that the address names: what happened when. */
export function ShotScreen(props: ShotScreenProps): ReactElement {
  const { outcomes, ruler, place, theme, onTheme, files } = props;
  const latest = useLatestShot(place);
  const answer = useStoredShot(place.id);
  const { stored } = answer;
  const file = useOpenedFile(files, place.query["file"], props.onFilesChange);
  const opened = file ?? (stored && openedFromLibrary(stored));
  const lines = useShotList(stored?.shot, place.query["from"]);
  const strip = useMemo(() => [...stripFromLines(lines), ...stripFromFiles(files.sources)], [lines, files.sources]);
  const [axes, setAxes] = useState<PlayerAxes>("turf");
  const [isMarking, setIsMarking] = useState(false);
  const [attempt, tryAgain] = useReducer((count: number) => count + 1, 0);
  const note = useRef<HTMLDivElement>(null);
  const { asked, askedBefore } = useAsked(opened);
  const shown = useOutcome(outcomes, asked, attempt);
  const before = useOutcome(outcomes, askedBefore, attempt);
  const shot = shown.outcome?.status === "ok" ? shown.outcome : undefined;
  const open = (id: string): void => {
    setIsMarking(false);
    const isFile = files.sources.some((source) => source.id === id);
    goTo(placeHref("shot", isFile ? place.id : id, { from: place.query["from"], file: isFile ? id : undefined }));
  };
  const { refused, onFiles } = useDrops(props, () => setIsMarking(false));
  const openBeside = (step: 1 | -1) => (): void => {
    const beside = strip[strip.findIndex(({ id }) => id === opened?.source.id) + step];
    if (beside !== undefined) open(beside.id);
  };
  const label = (word: "kept" | "mishit" | "set-aside") => () => {
    if (opened?.stored?.facts !== undefined) void labelShot(opened.stored, word);
  };
  const deeds: Readonly<Record<ShotDeed, () => void>> = {
    ...rulerDeeds(ruler, shot?.shot.events ?? []),
    ...{ previousShot: openBeside(-1), nextShot: openBeside(1) },
    ...{ keep: label("kept"), mishit: label("mishit"), setAside: label("set-aside") },
    note: () => note.current?.querySelector("input")?.focus(),
    mark: () => setIsMarking(shot !== undefined),
    undo: () => opened?.canUndo === true && opened.onUndo(),
    axes: () => setAxes(axes === "turf" ? "level" : "turf"),
  };
  useKeys(SHOT_KEYS, deeds);
  const isAsking = file === undefined && (latest.isBusy || answer.isBusy || stored?.isBusy === true);
  const fault = file === undefined ? (latest.fault ?? answer.fault) : undefined;
  const inputs = { opened, shown, before: before.outcome, strip, refused, axes, ruler, isMarking, note, isAsking };
  const acts = {
    onAxes: deeds.axes,
    onMarking: setIsMarking,
    onOpen: open,
    onStop: outcomes.stop,
    onTryAgain: tryAgain,
  };
  const isWaiting = opened !== undefined && asked === undefined;
  return (
    <Frame
      keys={SHOT_KEYS}
      isBusy={shown.isBusy || isAsking || isWaiting}
      shown={shot}
      {...{ place, theme, onTheme, onFiles }}
    >
      <OpenShot {...inputs} {...acts} fault={fault} onAskAgain={answer.again} />
      <DropZone onFiles={onFiles} />
    </Frame>
  );
}

/** Where the address names no shot, the latest is looked for and the address says which it is from then on. */
function useLatestShot(place: Place) {
  const latest = useAnswer("get /api/shots", place.id === undefined ? { query: { limit: 1 } } : undefined, ["shot"]);
  const id = latest.answer?.rows[0]?.id;
  useEffect(() => {
    if (place.id === undefined && id !== undefined) goTo(placeHref("shot", id, place.query), "replace");
  }, [place, id]);
  return latest;
}

/** Files dropped on the screen: the first of them is opened. */
function useDrops({ place, onFilesChange }: ShotScreenProps, onDrop: () => void) {
  const [refused, setRefused] = useState<readonly RefusedFile[]>([]);
  const onFiles = (dropped: readonly File[]): void => {
    const { sources, refused: without } = droppedFiles(dropped);
    onDrop();
    setRefused(without);
    if (sources[0] === undefined) return;
    onFilesChange({ kind: "added", sources });
    goTo(placeHref("shot", place.id, { ...place.query, file: sources[0].id }));
  };
  return { refused, onFiles };
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
