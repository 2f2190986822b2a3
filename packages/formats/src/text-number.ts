/** How the numbers of a file are written. */
export interface NumberStyle {
  readonly decimal: "." | ",";
  /** Between groups of three digits; empty for none. */
  readonly thousands: "" | "." | ",";
}

/** 10^0 .. 10^22: the powers of ten that a double holds exactly. */
const POWERS = Float64Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));
const SIGNIFICANT_DIGITS = 15;
const MINUS = 0x2d;
const PLUS = 0x2b;
const ZERO = 0x30;

const PLAIN = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const GROUPED = { ".": /^[+-]?\d{1,3}(?:\.\d{3})+(?!\d)/, ",": /^[+-]?\d{1,3}(?:,\d{3})+(?!\d)/ } as const;

/**
 * The number written in ASCII at bytes [begin, end), exactly as Number() reads it; NaN where it is none, or not finite.
 *
 * Up to 15 digits and a power of ten up to 22 are exact doubles, and one division or multiplication of exact doubles is
 * rounded once, hence correctly (Clinger, How to read floating point numbers accurately, 1990; from memory). All else goes to Number().
 */
export function numberFromBytes(bytes: Uint8Array, begin: number, end: number, style: NumberStyle): number {
  const decimal = style.decimal === "." ? 0x2e : 0x2c;
  let at = begin;
  const first = bytes[at];
  if (first === MINUS || first === PLUS) at++;
  let mantissa = 0;
  let digits = 0;
  let places = -1;
  for (; at < end; at++) {
    const digit = bytes[at]! - ZERO;
    if (digit >= 0 && digit <= 9) {
      mantissa = mantissa * 10 + digit;
      digits++;
      if (places >= 0) places++;
    } else if (bytes[at] === decimal && places < 0) {
      places = 0;
    } else {
      return numberFromAscii(bytes, begin, end, style);
    }
  }
  if (digits === 0) return Number.NaN;
  if (digits > SIGNIFICANT_DIGITS) return numberFromAscii(bytes, begin, end, style);
  const size = places > 0 ? mantissa / POWERS[places]! : mantissa;
  return first === MINUS ? -size : size;
}

function numberFromAscii(bytes: Uint8Array, begin: number, end: number, style: NumberStyle): number {
  let text = "";
  for (let i = begin; i < end; i++) text += String.fromCharCode(bytes[i]!);
  return numberFromText(text, style);
}

/** The number in a text; NaN where it is none or not finite. "", "0x10" and "Infinity" are none. */
export function numberFromText(text: string, { decimal, thousands }: NumberStyle): number {
  let plain = text;
  if (thousands !== "" && GROUPED[thousands].test(plain)) plain = plain.replaceAll(thousands, "");
  if (decimal === ",") {
    if (plain.includes(".")) return Number.NaN;
    plain = plain.replace(",", ".");
  }
  const value = PLAIN.test(plain) ? Number(plain) : Number.NaN;
  return Number.isFinite(value) ? value : Number.NaN;
}
