// Arrays in, numbers with intervals out: distributions, a player's own scatter, differences, planning, trends. Knows no golf, no
// names of measures and no sentences; random numbers are passed in.
export { chiSquaredQuantile, chiSquaredTails } from "./distributions/chi-squared.ts";
export { fQuantile, fTails } from "./distributions/f-distribution.ts";
export { noncentralTCdf } from "./distributions/noncentral-t.ts";
export { normalCdf, normalQuantile, normalTails } from "./distributions/normal.ts";
export { studentCdf, studentQuantile, studentTails, studentTwoSidedP } from "./distributions/student-t.ts";
export type { Tails } from "./distributions/tails.ts";
export type { Random, Streams } from "./random.ts";
export type { Values } from "./samples.ts";
