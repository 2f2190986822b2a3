/** The three machines whose numbers a C3D file may hold. DEC and Intel share integers, not reals. */
export type Processor = "intel" | "dec" | "mips";

/** The processor byte of the parameter section. */
export const PROCESSOR_FROM_BYTE: Readonly<Record<number, Processor>> = { 84: "intel", 85: "dec", 86: "mips" };

/** Numbers at a byte offset of the file, in the file's own order. */
export interface NumberReader {
  readonly processor: Processor;
  readonly view: DataView;
  uint16(at: number): number;
  int16(at: number): number;
  real(at: number): number;
}

/**
 * Sign and exponent of a VAX F number (its upper 9 bits) to the factor of its 24-bit mantissa: ±2^(e - 152).
 * Exponent 0 is zero, with the sign bit a reserved operand, which is no number.
 * Source: VAX Architecture Reference Manual, F_floating (from memory); checked against files of known content.
 */
const VAX_FACTOR = Float64Array.from({ length: 512 }, (_, signAndExponent) => {
  const exponent = signAndExponent & 255;
  const sign = signAndExponent > 255 ? -1 : 1;
  if (exponent === 0) return sign < 0 ? Number.NaN : 0;
  return sign * 2 ** (exponent - 152);
});

/** A VAX F real, exact; NaN for the reserved operand. */
export function vaxReal(view: DataView, at: number): number {
  const stored = view.getUint32(at, true);
  const bits = (stored << 16) | (stored >>> 16);
  return VAX_FACTOR[bits >>> 23]! * (0x800000 | (bits & 0x7fffff));
}

/** The reader of a processor's numbers. Offsets must lie inside the view: the caller checks. */
export function numberReader(view: DataView, processor: Processor): NumberReader {
  const isLittle = processor !== "mips";
  return {
    processor,
    view,
    uint16: (at) => view.getUint16(at, isLittle),
    int16: (at) => view.getInt16(at, isLittle),
    real: processor === "dec" ? (at) => vaxReal(view, at) : (at) => view.getFloat32(at, isLittle),
  };
}
