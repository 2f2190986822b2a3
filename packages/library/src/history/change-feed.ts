/** What changed, after it is on the disk. */
export interface LibraryChange {
  /** elsewhere: another process changed something; ask again for what is shown. */
  readonly kind: "player" | "club" | "layout" | "session" | "check" | "shot" | "result" | "setting" | "elsewhere";
  readonly id: string;
  /** In words, as the history has it. */
  readonly deed: string;
  readonly sessionId?: string;
}

export interface ChangeFeed {
  /** @returns stops the telling */
  subscribe(listener: (change: LibraryChange) => void): () => void;
  tell(change: LibraryChange): void;
}

export function changeFeed(): ChangeFeed {
  const listeners = new Set<(change: LibraryChange) => void>();
  return {
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    tell: (change) => {
      for (const listener of listeners) listener(change);
    },
  };
}
