import { type NumberReader, numberReader, type Processor } from "./c3d-numbers.ts";

/** The first block as it stands: nothing is believed yet. */
export interface C3dHeader {
  readonly points: number;
  /** Channels times samples per frame. */
  readonly analogPerFrame: number;
  readonly firstFrame: number;
  readonly lastFrame: number;
  /** Negative: all data are real numbers. */
  readonly scale: number;
  readonly dataBlock: number;
  readonly samplesPerFrame: number;
  readonly rateHz: number;
}

export function headerFrom(numbers: NumberReader): C3dHeader {
  return {
    points: numbers.uint16(2),
    analogPerFrame: numbers.uint16(4),
    firstFrame: numbers.uint16(6),
    lastFrame: numbers.uint16(8),
    scale: numbers.real(12),
    dataBlock: numbers.uint16(16),
    samplesPerFrame: numbers.uint16(18),
    rateHz: numbers.real(20),
  };
}

/** Could these be a header's numbers? Used only where the processor byte says nothing. Limits are ours. */
function isLikely(header: C3dHeader): boolean {
  return (
    header.firstFrame <= header.lastFrame &&
    header.dataBlock >= 1 &&
    header.dataBlock <= 1000 &&
    header.rateHz >= 1 &&
    header.rateHz <= 100_000 &&
    Math.abs(header.scale) < 10_000
  );
}

/** The processor whose numbers make a sensible header; undefined where none does. */
export function likelyProcessor(view: DataView): Processor | undefined {
  const all: readonly Processor[] = ["intel", "mips", "dec"];
  return all.find((processor) => isLikely(headerFrom(numberReader(view, processor))));
}
