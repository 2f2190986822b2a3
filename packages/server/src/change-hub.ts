import type { LibraryChange } from "@underfoot/library";
import type { ChangeMessage } from "@underfoot/protocol";

/** One page that listens, as far as the hub needs to know it. */
interface Listener {
  /** Bytes that it has not taken yet. */
  readonly waitingBytes: () => number;
  readonly send: (text: string) => void;
  /** It cannot follow: cut off at once. */
  readonly drop: () => void;
}

export interface ChangeHub {
  tell(change: ChangeMessage): void;
  /** @returns leaves again */
  join(listener: Listener): () => void;
  readonly size: () => number;
}

/** A page that has so much waiting is asleep or gone; it asks anew when it comes back. */
const MOST_WAITING_BYTES = 1_000_000;

/** Tells every page what changed. */
export function changeHub(): ChangeHub {
  const listeners = new Set<Listener>();
  return {
    tell: (change) => {
      const text = JSON.stringify(change);
      for (const listener of [...listeners]) {
        if (listener.waitingBytes() <= MOST_WAITING_BYTES) listener.send(text);
        else {
          listeners.delete(listener);
          listener.drop();
        }
      }
    },
    join: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    size: () => listeners.size,
  };
}

/** A change of the library as it goes to the page. */
export const messageOf = ({ kind, id, deed, sessionId }: LibraryChange): ChangeMessage => ({
  kind,
  id,
  deed,
  ...(sessionId === undefined ? {} : { sessionId }),
});
