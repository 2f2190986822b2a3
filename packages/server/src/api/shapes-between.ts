// The library's types are read-only and know `undefined`; the protocol's are plain JSON. The values are the same.

type Leaf = string | number | boolean | null | undefined;

/** Without `readonly`, as it goes out; NaN becomes null there, as JSON has it. */
export type Sent<T> = unknown extends T ? T : T extends Leaf ? T : { -readonly [K in keyof T]: Sent<T[K]> };

/** Left out rather than undefined, as it came in: JSON knows no undefined. */
export type Given<T> = unknown extends T
  ? T
  : T extends Leaf
    ? Exclude<T, undefined>
    : { [K in keyof T]: Given<Exclude<T[K], undefined>> };

export const sent = <T>(value: T): Sent<T> => value as Sent<T>;

export const given = <T>(value: T): Given<T> => value as Given<T>;

/** Without the fields that are undefined. */
export function present<T extends object>(fields: { readonly [K in keyof T]-?: T[K] | undefined }): T {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as T;
}

/** A part to be changed: null takes a value away, which the library calls undefined. */
export type Part<T> = { readonly [K in keyof T]: Exclude<Given<T[K]>, null> | (null extends T[K] ? undefined : never) };

export function part<T extends object>(parts: T): Part<T> {
  return Object.fromEntries(Object.entries(parts).map(([name, value]) => [name, value ?? undefined])) as Part<T>;
}
