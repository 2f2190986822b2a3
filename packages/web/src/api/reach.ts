import { useSyncExternalStore } from "react";

/** Whether the server answers, as far as this page knows. */
export interface Reach {
  readonly isReached: () => boolean;
  /** What a question or the socket found out. While it does not answer it is asked again and again. */
  readonly note: (isReached: boolean) => void;
  /** Asks now. */
  readonly tryNow: () => void;
  readonly follow: (listener: () => void) => () => void;
}

/**
 * @param ask    true where the server answers
 * @param later  does the work after a while
 */
export function reachOf(ask: () => Promise<boolean>, later: (work: () => void) => void): Reach {
  const listeners = new Set<() => void>();
  let isReached = true;
  const note = (next: boolean): void => {
    if (next === isReached) return;
    isReached = next;
    if (!next) later(askAgain);
    for (const listener of [...listeners]) listener();
  };
  const tryNow = (): void => void ask().then((answers) => answers && note(true));
  const askAgain = (): void => {
    if (isReached) return;
    void ask().then((answers) => (answers ? note(true) : later(askAgain)));
  };
  const follow = (listener: () => void): (() => void) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  };
  return { isReached: () => isReached, note, tryNow, follow };
}

/** Between two tries, ms. */
const AGAIN_AFTER_MS = 2000;

export const reach: Reach = reachOf(
  () =>
    fetch("/api/about").then(
      () => true,
      () => false,
    ),
  (work) => setTimeout(work, AGAIN_AFTER_MS),
);

export const useReach = (): boolean => useSyncExternalStore(reach.follow, reach.isReached);
