import type { ShotFacts } from "@underfoot/domain";
import { sidecarText } from "@underfoot/formats";
import type { ChangeMessage, HistoryShape, PlayerShape, ShotShape } from "@underfoot/protocol";
import { useMemo, useRef, useState } from "react";
import { type CallFault, call } from "../api/call.ts";
import { type Answered, useAnswer } from "../api/use-answer.ts";
import { type Deed, useDeed } from "../api/use-deed.ts";
import type { Entry, Mark, Source } from "./source.ts";
import { factsBefore, factsOfResults, isUndoneNext, storedFacts, storedSource, wishedFacts } from "./stored-shot.ts";

/** A shot of the library, what stands about it, and what can be done to it. */
export interface StoredShot {
  readonly shot: ShotShape;
  readonly source: Source;
  readonly entry: Entry;
  /** Without the marks made since it was opened; undefined where there are none. */
  readonly before: Entry | undefined;
  /** Everything said of it, an unconfirmed mark included; undefined where nobody said anything. */
  readonly facts: ShotFacts | undefined;
  /** How sentences speak of the player; undefined where nobody knows whose shot it is. */
  readonly pronoun: PlayerShape["pronoun"] | undefined;
  /** The latest first. */
  readonly history: readonly HistoryShape[];
  readonly canUndo: boolean;
  readonly isBusy: boolean;
  readonly fault: CallFault | undefined;
  readonly mark: (mark: Mark) => Promise<void>;
  readonly say: (facts: ShotFacts) => Promise<void>;
  /** Puts a refusal away, else takes back the last thing done to the shot. */
  readonly undo: () => Promise<void>;
  /** Any other change that answers with the shot as it is then. */
  readonly change: (work: () => Promise<ShotShape>) => Promise<void>;
  readonly undoEntry: (historyId: string) => Promise<void>;
}

const CONCERNS: readonly ChangeMessage["kind"][] = ["shot", "session", "player"];

export interface StoredShotAnswer extends Pick<Answered<ShotShape>, "fault" | "again" | "isBusy"> {
  readonly stored: StoredShot | undefined;
}

/** @param id  undefined: none (yet) */
export function useStoredShot(id: string | undefined): StoredShotAnswer {
  const ask = id === undefined ? undefined : { params: { id } };
  const answer = useAnswer("get /api/shots/{id}", ask, CONCERNS);
  const history = useAnswer("get /api/shots/{id}/history", ask, CONCERNS);
  const [wish, setWish] = useState<{ readonly id: string; readonly facts: ShotFacts }>();
  const deed = useDeed();
  // The last answer stays in view while the next is on its way: it may be of another shot.
  const shot = answer.answer?.id === id ? answer.answer : undefined;
  const facts = useMemo(() => (shot === undefined ? undefined : storedFacts(shot)), [shot]);
  const shown = wish !== undefined && wish.id === id ? wish.facts : facts;
  const inputs = useStoredInputs(shot, shown);
  const playerId = shot?.playerId;
  const player = useAnswer("get /api/players/{id}", playerId === undefined ? undefined : { params: { id: playerId } }, [
    "player",
  ]);
  const isBusy = answer.isBusy || player.isBusy;
  const entries = history.answer?.every(({ shotId }) => shotId === id) === true ? history.answer : [];
  if (shot === undefined || inputs === undefined) return { ...answer, isBusy, stored: undefined };
  const acts = storedActs({ shot, facts, deed, setWish, putShot: answer.put, putHistory: history.put });
  const stored: StoredShot = {
    ...{ shot, ...inputs, ...acts, facts: shown, history: entries, isBusy: deed.isBusy, fault: deed.fault },
    pronoun: player.answer?.id === playerId ? player.answer?.pronoun : undefined,
    canUndo: deed.fault !== undefined || entries.some(isUndoneNext),
  };
  return { ...answer, isBusy, stored };
}

/** What the results hang on; the same objects while nothing of it changes, whatever else is said of the shot. */
function useStoredInputs(
  shot: ShotShape | undefined,
  facts: ShotFacts | undefined,
): Pick<StoredShot, "source" | "entry" | "before"> | undefined {
  const sourceKey =
    shot && JSON.stringify([shot.id, shot.recordingSha256, shot.stretch, shot.fileName, shot.mapping ?? null]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the shot.
  const source = useMemo(() => (shot === undefined ? undefined : storedSource(shot)), [sourceKey]);
  const text = facts && sidecarText(factsOfResults(facts));
  // biome-ignore lint/correctness/useExhaustiveDependencies: the text stands for the facts.
  const entry = useMemo<Entry>(() => ({ marks: [], facts: facts && factsOfResults(facts) }), [text]);
  const opened = useRef<{ readonly id: string; readonly facts: ShotFacts | undefined }>(undefined);
  if (shot !== undefined && opened.current?.id !== shot.id) opened.current = { id: shot.id, facts: entry.facts };
  const openedFacts = opened.current?.facts;
  const before = useMemo<Entry | undefined>(() => {
    const without = entry.facts && openedFacts && factsBefore(entry.facts, openedFacts);
    return without && { marks: [], facts: without };
  }, [entry, openedFacts]);
  return source === undefined ? undefined : { source, entry, before };
}

interface StoredActsInput {
  readonly shot: ShotShape;
  readonly facts: ShotFacts | undefined;
  readonly deed: Deed;
  readonly setWish: (wish: { readonly id: string; readonly facts: ShotFacts } | undefined) => void;
  readonly putShot: (shot: ShotShape) => void;
  readonly putHistory: (history: HistoryShape[]) => void;
}

function storedActs({ shot, facts, deed, setWish, putShot, putHistory }: StoredActsInput) {
  const ofShot = { params: { id: shot.id } };
  const change: StoredShot["change"] = async (work) => {
    await deed.run(async () => {
      putShot(await work());
      putHistory(await call("get /api/shots/{id}/history", ofShot));
    });
  };
  const changeAs = async (wished: ShotFacts | undefined, work: () => Promise<ShotShape>): Promise<void> => {
    // Shown at once; it stays when the server confirms and goes when it refuses.
    if (wished !== undefined) setWish({ id: shot.id, facts: wished });
    await change(work);
    setWish(undefined);
  };
  return {
    change,
    mark: (mark: Mark) =>
      changeAs(facts && wishedFacts(facts, mark), () =>
        call("post /api/shots/{id}/marks", { ...ofShot, json: { marks: [mark] } }),
      ),
    say: (said: ShotFacts) =>
      changeAs(said, () => call("put /api/shots/{id}/facts", { ...ofShot, json: JSON.parse(sidecarText(said)) })),
    undo: async () => {
      if (deed.fault !== undefined) return deed.forget();
      await change(async () => {
        await call("post /api/shots/{id}/undo", ofShot);
        return call("get /api/shots/{id}", ofShot);
      });
    },
    undoEntry: (id: string) =>
      change(async () => {
        await call("post /api/history/{id}/undo", { params: { id } });
        return call("get /api/shots/{id}", ofShot);
      }),
  };
}
