import { useCallback, useState } from "react";
import { CallFault } from "./call.ts";

export interface Deed {
  /** Does it; a refusal becomes `fault`. @returns what it gave, undefined where it was refused */
  readonly run: <T>(work: () => Promise<T>) => Promise<T | undefined>;
  readonly isBusy: boolean;
  readonly fault: CallFault | undefined;
  readonly forget: () => void;
}

/** One thing a person does to the library, with the sentence where it is refused. */
export function useDeed(): Deed {
  const [fault, setFault] = useState<CallFault>();
  const [running, setRunning] = useState(0);
  const run = useCallback(async <T>(work: () => Promise<T>): Promise<T | undefined> => {
    setFault(undefined);
    setRunning((count) => count + 1);
    try {
      return await work();
    } catch (cause) {
      if (!(cause instanceof CallFault)) throw cause;
      setFault(cause);
      return undefined;
    } finally {
      setRunning((count) => count - 1);
    }
  }, []);
  const forget = useCallback(() => setFault(undefined), []);
  return { run, isBusy: running > 0, fault, forget };
}
