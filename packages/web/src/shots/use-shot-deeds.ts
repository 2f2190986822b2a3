import { dayText } from "@underfoot/report";
import { useRef, useState } from "react";
import { call } from "../api/call.ts";
import { type ChangedShot, deedOnShots, type RefusedShot } from "./deed-on-shots.ts";
import { countText, LABEL_WORDS } from "./fact-words.ts";

export interface NamedShot {
  readonly id: string;
  /** For a sentence about it. */
  readonly words: string;
}

/** What was done last; it stays until the next or until it is put away. */
interface LastDeed {
  readonly sentence: string;
  readonly changed: readonly (ChangedShot & NamedShot)[];
  readonly refused: readonly (RefusedShot & NamedShot)[];
}

export interface ShotDeeds {
  readonly running: { readonly words: string; readonly done: number; readonly total: number } | undefined;
  readonly last: LastDeed | undefined;
  readonly label: (label: "kept" | "set-aside") => void;
  readonly move: (sessionId: string, day: string) => void;
  readonly undo: () => void;
  readonly stop: () => void;
  readonly forget: () => void;
}

interface Work {
  /** "Setting aside", while it runs. */
  readonly doing: string;
  /** "3 shots set aside." once it is done. */
  readonly said: (count: string) => string;
  readonly doTo: (id: string) => Promise<unknown>;
}

const shotCount = (count: number): string => `${countText(count)} ${count === 1 ? "shot" : "shots"}`;

const latestOf = async (id: string): Promise<string | undefined> =>
  (await call("get /api/shots/{id}/history", { params: { id } }))[0]?.id;

/** Does the same to all chosen shots, with progress, a stop and an undo. */
export function useShotDeeds(chosen: readonly NamedShot[]): ShotDeeds {
  const [running, setRunning] = useState<ShotDeeds["running"]>();
  const [last, setLast] = useState<LastDeed>();
  const isStopped = useRef(false);
  const run = async (shots: readonly NamedShot[], { doing, said, doTo }: Work): Promise<void> => {
    isStopped.current = false;
    setLast(undefined);
    setRunning({ words: doing, done: 0, total: shots.length });
    const { changed, refused } = await deedOnShots(
      shots.map(({ id }) => id),
      {
        ...{ doTo, latestOf },
        onProgress: (done) => setRunning({ words: doing, done, total: shots.length }),
        isStopped: () => isStopped.current,
      },
    );
    const words = new Map(shots.map((shot) => [shot.id, shot.words]));
    const named = <T extends { readonly id: string }>(list: readonly T[]) =>
      list.map((one) => ({ ...one, words: words.get(one.id) ?? "" }));
    const unchanged = changed.length + refused.length < shots.length && !isStopped.current;
    const rest = isStopped.current ? " Stopped." : unchanged ? " The others were so already." : "";
    setLast({
      sentence: `${said(shotCount(changed.length))}${rest}`,
      changed: named(changed),
      refused: named(refused),
    });
    setRunning(undefined);
  };
  const undo = async (): Promise<void> => {
    if (last === undefined) return;
    const entries = new Map(last.changed.map(({ id, historyId }) => [id, historyId]));
    await run(last.changed, {
      doing: "Taking back",
      said: (count) => `Taken back: ${count} as before.`,
      doTo: (id) => call("post /api/history/{id}/undo", { params: { id: entries.get(id) ?? "" } }),
    });
  };
  return {
    ...{ running, last },
    label: (label) =>
      void run(chosen, {
        doing: label === "kept" ? "Keeping" : "Setting aside",
        said: (count) => `${count} ${LABEL_WORDS[label]}.`,
        doTo: (id) => call("put /api/shots/{id}/label", { params: { id }, json: { label } }),
      }),
    move: (sessionId, day) =>
      void run(chosen, {
        doing: "Moving",
        said: (count) => `${count} moved to the session of ${dayText(day)}.`,
        doTo: (id) => call("put /api/shots/{id}/session", { params: { id }, json: { sessionId } }),
      }),
    undo: () => void undo(),
    stop: () => {
      isStopped.current = true;
    },
    forget: () => setLast(undefined),
  };
}
