/** What was used last stays; what was not goes once all together are too large. */
export interface LatelyUsed<V> {
  get(key: string): V | undefined;
  set(key: string, value: V): void;
  clear(): void;
}

/** @param sizeOf  of one value, in the unit of `most` */
export function latelyUsed<V>(most: number, sizeOf: (value: V) => number): LatelyUsed<V> {
  const kept = new Map<string, { readonly value: V; readonly size: number }>();
  let total = 0;
  const drop = (key: string): void => {
    total -= kept.get(key)?.size ?? 0;
    kept.delete(key);
  };
  return {
    get: (key) => {
      const found = kept.get(key);
      if (found === undefined) return undefined;
      // A Map keeps the order of putting in: the last one is the one used last.
      kept.delete(key);
      kept.set(key, found);
      return found.value;
    },
    set: (key, value) => {
      drop(key);
      const size = sizeOf(value);
      kept.set(key, { value, size });
      total += size;
      for (const oldest of kept.keys()) {
        if (total <= most || oldest === key) break;
        drop(oldest);
      }
    },
    clear: () => {
      kept.clear();
      total = 0;
    },
  };
}
