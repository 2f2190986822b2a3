/** For reading: `s[0] = 1` does not compile. Missing samples are NaN. */
export type Samples = Readonly<Float64Array>;

/** Owned and writable; its buffer can be transferred to another thread. */
export type Column = Float64Array<ArrayBuffer>;
