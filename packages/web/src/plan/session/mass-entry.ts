/** One pound in kilograms, exact: international yard and pound agreement of 1959. */
const KG_PER_LB = 0.45359237;

export type MassUnit = "kg" | "lb";

export function kgFromMass(mass: number, unit: MassUnit): number {
  return unit === "kg" ? mass : mass * KG_PER_LB;
}

/** As it is shown in its field: to a hundredth, without false zeros. */
export function massFromKg(massKg: number, unit: MassUnit): number {
  const mass = unit === "kg" ? massKg : massKg / KG_PER_LB;
  return Math.round(mass * 100) / 100;
}
