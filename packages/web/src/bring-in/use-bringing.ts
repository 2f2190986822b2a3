import { useCallback, useEffect, useRef, useState } from "react";
import { call } from "../api/call.ts";
import { type BringProgress, type BringTask, bringAll, joinedProgress, type SendRecording } from "./bringing.ts";
import type { FileProblem } from "./file-groups.ts";

export interface Bringing {
  /** Undefined before anything was asked. */
  readonly progress: BringProgress | undefined;
  /** `problems`: files of the same folder that are known to be unreadable, told of beside those that are found. */
  readonly bring: (
    tasks: readonly BringTask[],
    options: { readonly isDryRun: boolean; readonly problems?: readonly FileProblem[] },
  ) => Promise<void>;
  /** What is in stays. */
  readonly cancel: () => void;
  readonly forget: () => void;
}

/** Brings files in one after the other; while it runs, leaving the page asks first. */
export function useBringing(): Bringing {
  const [progress, setProgress] = useState<BringProgress>();
  const abort = useRef<AbortController>(undefined);
  const joined = useRef<BringProgress>(undefined);
  const bring = useCallback<Bringing["bring"]>(async (tasks, { isDryRun, problems = [] }) => {
    const controller = new AbortController();
    abort.current = controller;
    const before = joined.current ?? unreadable(problems, isDryRun);
    await bringAll(tasks, sendRecording, {
      signal: controller.signal,
      isDryRun,
      tell: (now) => {
        joined.current = joinedProgress(before, now);
        setProgress(joined.current);
      },
    });
  }, []);
  const cancel = useCallback(() => abort.current?.abort(), []);
  const forget = useCallback(() => {
    joined.current = undefined;
    setProgress(undefined);
  }, []);
  useEffect(() => () => abort.current?.abort(), []);
  useAskBeforeLeaving(progress?.isRunning ?? false);
  return { progress, bring, cancel, forget };
}

function unreadable(problems: readonly FileProblem[], isDryRun: boolean): BringProgress | undefined {
  if (problems.length === 0) return undefined;
  return { total: problems.length, brought: [], problems, isDryRun, isRunning: false, left: [] };
}

const sendRecording: SendRecording = async ({ recording, ask }, signal) => {
  const form = new FormData();
  // Read now, so that a file that is gone is told from a server that is.
  form.set("recording", new File([await recording.file.arrayBuffer()], recording.file.name));
  if (recording.sidecar !== undefined) form.set("sidecar", await recording.sidecar.file.text());
  form.set("ask", JSON.stringify(ask));
  return call("post /api/recordings", { form }, signal);
};

const LEAVING = "Recordings are being brought in. What is in stays; the rest is left out. Leave all the same?";

/** A reload, a closed tab and the links of the page ask first. */
function useAskBeforeLeaving(isRunning: boolean): void {
  useEffect(() => {
    if (!isRunning) return;
    const unloading = (event: BeforeUnloadEvent): void => event.preventDefault();
    const leaving = (event: MouseEvent): void => {
      const link = event.target instanceof Element ? event.target.closest("a[href]") : null;
      if (link === null || confirm(LEAVING)) return;
      event.preventDefault();
      event.stopPropagation();
    };
    addEventListener("beforeunload", unloading);
    document.addEventListener("click", leaving, { capture: true });
    return () => {
      removeEventListener("beforeunload", unloading);
      document.removeEventListener("click", leaving, { capture: true });
    };
  }, [isRunning]);
}
