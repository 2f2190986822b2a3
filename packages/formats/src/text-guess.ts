/** What a file does not say and was read out of it: changeable, with how sure it is (0..1) and why. */
export interface Guess<T> {
  readonly value: T;
  readonly confidence: number;
  readonly reason: string;
}
