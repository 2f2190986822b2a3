/** 1 kgf and 1 lbf in N, exact: standard gravity (CGPM 1901) and the international pound (1959). */
const FORCE_N: Readonly<Record<string, number>> = {
  n: 1,
  newton: 1,
  newtons: 1,
  kn: 1000,
  kgf: 9.80665,
  lbf: 4.4482216152605,
};
const MOMENT_NM: Readonly<Record<string, number>> = {
  nm: 1,
  ntm: 1,
  newtonm: 1,
  nmm: 1e-3,
  ntmm: 1e-3,
  newtonmm: 1e-3,
  ncm: 1e-2,
  ntcm: 1e-2,
  knm: 1000,
};
/** Beginnings, since a unit may be cut to four letters. */
const LENGTH_M: readonly (readonly [RegExp, number])[] = [
  [/^(mm|mil)/, 1e-3],
  [/^(cm|cen)/, 1e-2],
  [/^(m$|met)/, 1],
  [/^(in$|inch)/, 0.0254],
];

const plain = (unit: string): string => unit.toLowerCase().replace(/[\s.\-*·()]/g, "");

/** Newtons per unit of a written force unit; undefined where it is none. */
export const forceUnitN = (unit: string): number | undefined => FORCE_N[plain(unit)];

/** Newton metres per unit of a written moment unit (`Nm`, `N-mm`, `ntmm`); undefined where it is none. */
export const momentUnitNm = (unit: string): number | undefined => MOMENT_NM[plain(unit)];

/** Metres per unit of a written length unit, also a cut one (`mete`); undefined where it is none. */
export const lengthUnitM = (unit: string): number | undefined =>
  LENGTH_M.find(([beginning]) => beginning.test(plain(unit)))?.[1];
