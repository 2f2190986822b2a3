export type UnitQuantity = "force" | "moment" | "length" | "signal" | "time";

/** A unit that a column may carry: how it is written here, and what one of it is in N, N m, m, V or s. */
export interface TextUnit {
  readonly symbol: string;
  readonly quantity: UnitQuantity;
  readonly toSi: number;
}

/**
 * Exact by definition: kgf = 1 kg × 9.80665 m/s² (standard gravity, 3rd CGPM 1901); lbf = 0.45359237 kg × 9.80665 m/s²
 * and in = 25.4 mm (international yard and pound agreement, 1959).
 */
export const TEXT_UNITS: readonly TextUnit[] = [
  { symbol: "N", quantity: "force", toSi: 1 },
  { symbol: "kN", quantity: "force", toSi: 1000 },
  { symbol: "kgf", quantity: "force", toSi: 9.80665 },
  { symbol: "lbf", quantity: "force", toSi: 4.4482216152605 },
  { symbol: "N m", quantity: "moment", toSi: 1 },
  { symbol: "N mm", quantity: "moment", toSi: 1e-3 },
  { symbol: "N cm", quantity: "moment", toSi: 1e-2 },
  { symbol: "kgf m", quantity: "moment", toSi: 9.80665 },
  { symbol: "m", quantity: "length", toSi: 1 },
  { symbol: "cm", quantity: "length", toSi: 1e-2 },
  { symbol: "mm", quantity: "length", toSi: 1e-3 },
  { symbol: "in", quantity: "length", toSi: 0.0254 },
  { symbol: "V", quantity: "signal", toSi: 1 },
  { symbol: "mV", quantity: "signal", toSi: 1e-3 },
  { symbol: "s", quantity: "time", toSi: 1 },
  { symbol: "ms", quantity: "time", toSi: 1e-3 },
  { symbol: "us", quantity: "time", toSi: 1e-6 },
];

const SPELLINGS: Readonly<Record<string, string>> = {
  newton: "N",
  newtons: "N",
  volt: "V",
  volts: "V",
  sec: "s",
  secs: "s",
  second: "s",
  seconds: "s",
  msec: "ms",
  milliseconds: "ms",
  µs: "us",
  μs: "us",
  usec: "us",
  inch: "in",
  metre: "m",
  meter: "m",
};

const joined = (text: string): string => text.replace(/[\s.*·⋅-]/g, "");
const BY_SPELLING = new Map(TEXT_UNITS.map((unit) => [joined(unit.symbol), unit]));

/** The unit written in a text (Nm, N-m, N·m are one); undefined where it is none of ours. Capitals count: N is not n. */
export function textUnit(text: string): TextUnit | undefined {
  const trimmed = text.trim();
  const plain = trimmed.toLowerCase();
  const spelled = Object.hasOwn(SPELLINGS, plain) ? SPELLINGS[plain] : undefined;
  return BY_SPELLING.get(spelled ?? joined(trimmed));
}

/** The unit words in a column's name: in brackets at its end, "Time (s)", "GRF[N]", or behind a stroke, "Fz / N". */
export function unitInName(name: string): string {
  const bracketed = /[[(]\s*([^\][()]{1,12}?)\s*[\])]\s*$/.exec(name)?.[1];
  if (bracketed !== undefined) return bracketed;
  const behind = /\s\/\s*(\S{1,6})\s*$/.exec(name)?.[1];
  return behind !== undefined && textUnit(behind) !== undefined ? behind : "";
}
