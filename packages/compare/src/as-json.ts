/** A result as JSON has it: no NaN (null stands for it), typed arrays as arrays. */
export type AsJson<T> = T extends number
  ? number | null
  : T extends string | boolean | undefined | null
    ? T
    : T extends Float64Array | Int32Array | Uint8Array
      ? (number | null)[]
      : T extends readonly (infer E)[]
        ? AsJson<E>[]
        : { -readonly [K in keyof T]: AsJson<T[K]> };

/** Plain arrays in place of typed ones and null in place of what JSON cannot write, all the way down. */
export function asJson<T>(value: T): AsJson<T> {
  const plain = (one: unknown): unknown => {
    if (typeof one === "number") return Number.isFinite(one) ? one : null;
    if (typeof one !== "object" || one === null) return one;
    if (ArrayBuffer.isView(one)) return Array.from(one as Float64Array, plain);
    if (Array.isArray(one)) return one.map(plain);
    return Object.fromEntries(Object.entries(one).map(([name, part]) => [name, plain(part)]));
  };
  return plain(value) as AsJson<T>;
}

/** A result read back from JSON: NaN where null stands. Results hold no null of their own; infinite numbers come back as NaN. */
export function fromJson<T>(value: AsJson<T>): T {
  const restored = (one: unknown): unknown => {
    if (one === null) return Number.NaN;
    if (Array.isArray(one)) return one.map(restored);
    if (typeof one !== "object") return one;
    return Object.fromEntries(Object.entries(one).map(([name, part]) => [name, restored(part)]));
  };
  return restored(value) as T;
}
