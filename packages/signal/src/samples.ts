/** For reading: `s[0] = 1` does not compile. Missing samples are NaN. */
export type Samples = Readonly<Float64Array>;

/** Owned and writable; its buffer can be transferred to another thread. */
export type Column = Float64Array<ArrayBuffer>;

/** A bug of the caller, not of the data: two columns that belong together differ in length. */
export function requireSameLength(name: string, found: number, wanted: number): void {
  if (found !== wanted) throw new RangeError(`${name} has ${found} samples, wanted are ${wanted}`);
}
