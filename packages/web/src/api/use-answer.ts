import type { Address, Answer, Ask, ChangeMessage } from "@underfoot/protocol";
import { useCallback, useEffect, useRef, useState } from "react";
import { asked, CallFault } from "./call.ts";
import { onChanges } from "./changes.ts";

export interface Answered<T> {
  /** The last answer; stays while a newer one is on its way. */
  readonly answer: T | undefined;
  readonly fault: CallFault | undefined;
  readonly isBusy: boolean;
  readonly again: () => void;
  /** Shows this answer until there is a newer one: what a deed gave back. */
  readonly put: (answer: T) => void;
}

/** Changes come in bursts: one question for those of so many ms. */
const SETTLE_MS = 80;

/**
 * The server's answer to a question, asked anew whenever something of these kinds changed in the library.
 *
 * @param ask   undefined: nothing is asked (yet)
 * @param kinds  which changes concern it
 */
export function useAnswer<A extends Address>(
  address: A,
  ask: Ask<A> | undefined,
  kinds: readonly ChangeMessage["kind"][] = [],
): Answered<Answer<A>> {
  const [state, setState] = useState<{ answer?: Answer<A>; fault?: CallFault; isBusy: boolean }>({ isBusy: true });
  const [attempt, setAttempt] = useState(0);
  const key = ask === undefined ? undefined : JSON.stringify(ask);
  const wanted = useRef(ask);
  wanted.current = ask;
  // biome-ignore lint/correctness/useExhaustiveDependencies: `attempt` asks again on purpose; `key` stands for `ask`.
  useEffect(() => {
    if (wanted.current === undefined) return setState({ isBusy: false });
    const abort = new AbortController();
    setState((before) => ({ ...before, isBusy: true }));
    asked(address, wanted.current, abort.signal).then(
      (answer) => abort.signal.aborted || setState({ answer: answer as Answer<A>, isBusy: false }),
      (fault: unknown) => {
        if (abort.signal.aborted) return;
        if (!(fault instanceof CallFault)) throw fault;
        setState((before) => ({ ...before, fault, isBusy: false }));
      },
    );
    return () => abort.abort();
  }, [address, key, attempt]);
  const again = useCallback(() => setAttempt((count) => count + 1), []);
  const put = useCallback((answer: Answer<A>) => setState({ answer, isBusy: false }), []);
  const concerns = [...kinds, "elsewhere", "place"].join(" ");
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = onChanges(({ kind }) => {
      if (!concerns.split(" ").includes(kind)) return;
      // Never put off by the next change: a stream of them must not keep the page from asking.
      timer ??= setTimeout(() => {
        timer = undefined;
        again();
      }, SETTLE_MS);
    });
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [concerns, again]);
  return { answer: state.answer, fault: state.fault, isBusy: state.isBusy, again, put };
}
