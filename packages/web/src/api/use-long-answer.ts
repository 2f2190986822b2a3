import type { Address, Answer, Ask, ChangeMessage } from "@underfoot/protocol";
import { useEffect, useState } from "react";
import { type Answered, useAnswer } from "./use-answer.ts";

/** No waiting longer than this without words, ms. */
const SAID_AFTER_MS = 300;

export interface LongAnswer<T> extends Answered<T> {
  /** Busy for so long that it must be said. */
  readonly isLong: boolean;
  readonly isStopped: boolean;
  readonly stop: () => void;
}

/** As `useAnswer`, for what may take the server a while: it is then said, and can be stopped. */
export function useLongAnswer<A extends Address>(
  address: A,
  ask: Ask<A> | undefined,
  kinds: readonly ChangeMessage["kind"][],
): LongAnswer<Answer<A>> {
  const key = JSON.stringify(ask);
  const [stopped, setStopped] = useState<string>();
  const isStopped = ask !== undefined && stopped === key;
  const answered = useAnswer(address, isStopped ? undefined : ask, kinds);
  const { isBusy } = answered;
  const [isLong, setIsLong] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another question (`key`) waits anew.
  useEffect(() => {
    setIsLong(false);
    if (!isBusy) return undefined;
    const timer = setTimeout(() => setIsLong(true), SAID_AFTER_MS);
    return () => clearTimeout(timer);
  }, [isBusy, key]);
  return {
    ...answered,
    ...{ isLong: isBusy && isLong, isStopped },
    stop: () => setStopped(key),
    again: () => (isStopped ? setStopped(undefined) : answered.again()),
  };
}
